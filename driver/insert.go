package driver

import (
	"fmt"
	"math"
	"strings"

	"gapline/internal/air"
)

// Insert is a plate close in front of the cones of one box that leaves equal
// rectangular mouths, one above the other, as an acoustic low-pass filter: the
// air between cones and plate is a compliance, the air in the mouths a mass. Where
// cones stand side by side, each column has mouths of its own; the action of one
// column's mouths on another's is left out.
type Insert struct {
	Mouths        int
	Width, Height float64 // of one mouth, horizontal and vertical, m
	Spacing       float64 // between centres of neighbouring mouths, vertical, m
	Depth         float64 // of the mouths through the plate, m
	ChamberVolume float64 // of all air between cones and plate, m³
	Columns       int     // such rows of mouths side by side, each in front of its own cones; 0 counts as 1
	Independent   bool    // leave out the interaction of the mouths outside
}

// check returns an error that names every impossible value.
func (i *Insert) check() error {
	var bad []string
	if i.Mouths < 1 {
		bad = append(bad, fmt.Sprintf("mouths = %d: must be at least 1", i.Mouths))
	}
	for _, f := range []struct {
		key   string
		value float64
	}{
		{"mouth_width", i.Width}, {"mouth_height", i.Height}, {"chamber_volume", i.ChamberVolume},
	} {
		if !(f.value > 0) || math.IsInf(f.value, 0) {
			bad = append(bad, fmt.Sprintf("%s = %g: must be a positive number", f.key, f.value))
		}
	}
	if !(i.Depth >= 0) || math.IsInf(i.Depth, 0) {
		bad = append(bad, fmt.Sprintf("slot_depth = %g: must not be negative", i.Depth))
	}
	if i.Mouths > 1 && !(i.Spacing >= i.Height*(1-1e-9)) {
		bad = append(bad, fmt.Sprintf("spacing = %g m with mouth_height = %g m: the mouths overlap", i.Spacing, i.Height))
	}
	if bad != nil {
		return fmt.Errorf("insert: %s", strings.Join(bad, "; "))
	}
	return nil
}

// mouth returns the shape of one mouth.
func (i *Insert) mouth() Rectangle { return Rectangle{Width: i.Width, Height: i.Height} }

// Area returns the area of all mouths in m².
func (i *Insert) Area() float64 { return float64(i.Mouths*max(i.Columns, 1)) * i.Width * i.Height }

// EffectiveLength returns depth plus both end corrections of a mouth in m, each
// the exact flanged rectangle, and outside the mean share of the other mouths.
func (i *Insert) EffectiveLength() float64 {
	own := RectangleEndCorrection(i.Width, i.Height)
	return i.Depth + 2*own + i.mutualCorrection()
}

// mutualCorrection is the mean extra outside correction by the other mouths.
func (i *Insert) mutualCorrection() float64 {
	if i.Independent {
		return 0
	}
	sum := 0.0
	for m := 1; m < i.Mouths; m++ {
		share := 2 * float64(i.Mouths-m) / float64(i.Mouths)
		sum += share * RectangleMutualCorrection(i.Width, i.Height, 0, float64(m)*i.Spacing)
	}
	return sum
}

// Chamber holds the lumped figures of an insert.
type Chamber struct {
	Mass       float64 // acoustic, of all mouths together, kg/m⁴
	Compliance float64 // of the chamber, m³/Pa
	Corner     float64 // 1/(2π√(MC)), above which the output falls 12 dB per octave, Hz
	Q          float64 // of the peak at the corner, by the mouths' radiation resistance as one small source
	Resistive  float64 // cS/(2πV), the corner against a purely resistive mouth ρc/S, Hz
}

// Chamber returns the lumped figures (L. L. Beranek, Acoustics, 1954, ch. 5):
// mass ρ·l_eff/S, compliance V/(ρc²), radiation resistance ρω²/(2πc). The error
// names impossible dimensions.
func (i Insert) Chamber(a air.Air) (Chamber, error) {
	if err := i.check(); err != nil {
		return Chamber{}, err
	}
	c := Chamber{
		Mass:       a.Density * i.EffectiveLength() / i.Area(),
		Compliance: i.ChamberVolume / (a.Density * a.SoundSpeed * a.SoundSpeed),
		Resistive:  a.SoundSpeed * i.Area() / (2 * math.Pi * i.ChamberVolume),
	}
	w := 1 / math.Sqrt(c.Mass*c.Compliance)
	c.Corner = w / (2 * math.Pi)
	c.Q = c.Mass * 2 * math.Pi * a.SoundSpeed / (a.Density * w)
	return c, nil
}

// insertLoad is the network of an insert with the exact radiation of its mouths.
type insertLoad struct {
	air        air.Air
	mouth      Rectangle
	count      float64
	area       float64 // of all mouths, m²
	inner      float64 // acoustic mass of plug and inner end, kg/m⁴
	compliance float64
	airMass    float64 // acoustic mass of the free air load that Mms holds, kg/m⁴
	pairs      []*RectanglePair
}

func newInsertLoad(c *Circuit) (*insertLoad, error) {
	i := c.setup.Insert
	chamber, err := i.Chamber(c.air)
	if err != nil {
		return nil, err
	}
	l := &insertLoad{air: c.air, mouth: i.mouth(), count: float64(i.Mouths), area: i.Area(), compliance: chamber.Compliance}
	l.inner = c.air.Density * (i.Depth + l.mouth.EndCorrection()) / l.area
	l.airMass = c.air.Density * PistonOfArea(c.sd).EndCorrection() / (c.count * c.sd)
	for m := 1; m < i.Mouths && !i.Independent; m++ {
		l.pairs = append(l.pairs, NewRectanglePair(l.mouth, 0, float64(m)*i.Spacing))
	}
	return l, nil
}

// radiation returns the load on all mouths moving alike, Pa·s/m³.
func (l *insertLoad) radiation(k float64) complex128 {
	z := l.mouth.Impedance(k)
	for i, pair := range l.pairs {
		z += complex(2*(l.count-1-float64(i))/l.count, 0) * pair.Impedance(k)
	}
	return complex(l.air.Impedance()/l.area, 0) * z
}

// at returns the load of chamber and mouths on the cones, less the free air
// load that the chamber replaces:
//
//	Z = Z_m/(1 + jωC·Z_m) − jωM₀,   U_mouth/U = 1/(1 + jωC·Z_m)
func (l *insertLoad) at(omega float64) frontState {
	mouth := l.radiation(omega/l.air.SoundSpeed) + complex(0, omega*l.inner)
	transfer := 1 / (1 + complex(0, omega*l.compliance)*mouth)
	return frontState{impedance: mouth*transfer - complex(0, omega*l.airMass), transfer: transfer, mouth: mouth}
}
