package maximum

import (
	"context"
	"math"
	"math/cmplx"
	"slices"

	"gapline/cabinet/design"
	"gapline/cabinet/field"
	"gapline/cabinet/source"
	"gapline/driver"
	"gapline/internal/check"
	"gapline/internal/numeric"
	"gapline/waveguide"
)

// nominalLoad is taken for a driver's Re where it is not known, Ω, as in package source.
const nominalLoad = 8

// Band is what the drivers of one band of one box are given for.
type Band struct {
	Name       string
	Why        string  // why its level for a volt is not known; empty: it is
	From       string  // where it comes from, in words
	Resistance float64 // of the terminals, Ω
	Rated      float64 // power of all its drivers, W; NaN: not given
	limits     [causeCount]float64
	at         func(hz []float64) []unit // nil: not known
}

// Known reports whether the band's level for a volt is known.
func (b *Band) Known() bool { return b.at != nil }

// Limited reports whether anything limits the band that the design gives; air speeds
// alone do not.
func (b *Band) Limited() bool {
	return numeric.Given(b.Rated) || numeric.Given(b.limits[Excursion])
}

// unit is what a band does for one volt r.m.s. at its terminals.
type unit struct {
	pressure float64             // on the axis of one box at 1 m, r.m.s., Pa
	does     [causeCount]float64 // excursions in m and air speeds in m/s, peak; NaN: there is no such thing
}

// stress returns what a volt is of the limit of a cause; 0 where there is none.
func (b *Band) stress(u *unit, c Cause) float64 {
	if c == Power {
		if !numeric.Given(b.Rated) {
			return 0
		}
		return 1 / math.Sqrt(b.Rated*b.Resistance)
	}
	return numeric.Or(u.does[c]/b.limits[c], 0)
}

// bandOf works out the band of the given index.
func (o *Box) bandOf(ctx context.Context, i int) (Band, error) {
	m := &o.model.Bands[i]
	b := Band{Name: m.Name, Rated: numeric.Absent}
	for c := range b.limits {
		b.limits[c] = numeric.Absent
	}
	d := o.design
	switch m.Name {
	case source.Woofers:
		o.cones(&b, m, &d.Woofer.Parameters, d.Woofer.Wiring, d.WoofersPerBox(), d.Bands.Woofer.Sensitivity.Value(), d.Woofer.Diameter(), "woofer")
	case source.Mids:
		o.cones(&b, m, &d.Mid.Parameters, d.Mid.Wiring, max(d.Mid.PerBox, 1), d.Bands.Mid.Sensitivity.Value(), d.Mid.Diameter(), "mid")
	default:
		return b, o.horn(ctx, &b, m)
	}
	return b, nil
}

// cones is a band of cones.
func (o *Box) cones(b *Band, m *source.Band, p *driver.Parameters, w driver.Wiring, n int, sensitivity, diameter float64, table string) {
	b.Resistance, b.Rated = w.Resistance(p.Re.Or(nominalLoad), n), float64(n)*p.Power.Value()
	b.limits[Excursion], b.limits[VentAir], b.limits[MouthAir] = p.Xmax.Value(), driver.MouthSpeedCaution, driver.MouthSpeedCaution
	switch {
	case m.Circuit != nil:
		b.From = "Thiele-Small parameters"
		b.limits[Radiator] = m.Circuit.Enclosure().Radiator.Xmax.Value()
		b.at = func(hz []float64) []unit { return ofCircuit(m.Circuit, hz) }
	case numeric.Given(sensitivity):
		b.From = "sensitivity"
		area := float64(n) * math.Pi / 4 * diameter * diameter
		b.at = func(hz []float64) []unit { return o.ofSensitivity(sensitivity, area, hz) }
	default:
		b.Why = table + ".sensitivity is needed, or parameters such as " + table + ".fs, qes, qms, vas and re"
		if m.Name == source.Woofers {
			b.Why += " with enclosure.volume"
		}
	}
}

func ofCircuit(c *driver.Circuit, hz []float64) []unit {
	out := make([]unit, len(hz))
	for i, f := range hz {
		p := c.At(f, 1)
		out[i] = unit{pressure: cmplx.Abs(p.Pressure)}
		out[i].does = [causeCount]float64{Excursion: p.Excursion, Radiator: p.Radiator, VentAir: p.VentSpeed, MouthAir: p.MouthSpeed}
	}
	return out
}

// ofSensitivity is a flat response; the travel is that of pistons of the area in m² in
// half space, p = ρω²·S·x/(2π·1 m) (Small 1972), NaN where the area is not known.
func (o *Box) ofSensitivity(level, area float64, hz []float64) []unit {
	p := driver.ReferencePressure * numeric.FromDB(level) / design.DefaultVoltage
	out := make([]unit, len(hz))
	for i, f := range hz {
		w := 2 * math.Pi * f
		out[i] = unit{pressure: p}
		out[i].does = nothing()
		out[i].does[Excursion] = math.Sqrt2 * 2 * math.Pi * p / (o.air.Density * w * w * area)
	}
	return out
}

// nothing is no cause at all.
func nothing() (does [causeCount]float64) {
	for c := range does {
		does[c] = numeric.Absent
	}
	return does
}

// horn is the compression driver on its horn.
func (o *Box) horn(ctx context.Context, b *Band, m *source.Band) error {
	h, d := &o.design.HornDrive, o.design
	b.Resistance, b.Rated, b.limits[Excursion] = h.Driver.Re.Or(nominalLoad), h.Power.Value(), h.Xmax.Value()
	profile, profileErr := d.Horn.Flare()
	complete := h.Given() && len(check.HornDriveLacks(h)) == 0 && profileErr == nil
	var moves func(hz []float64) []waveguide.Drive
	if complete {
		moves = func(hz []float64) []waveguide.Drive { return o.drives(profile, hz) }
		if moves([]float64{1000}) == nil {
			complete = false
		}
	}
	level, tube := d.Bands.Horn.Sensitivity.Value(), h.Sensitivity.Value()
	var power func(hz []float64) []float64 // acoustic, of a volt, W
	switch {
	case numeric.Given(level):
		b.From = "horn.sensitivity"
	case complete:
		b.From = "compression driver on the horn"
		power = func(hz []float64) []float64 { return powers(moves(hz)) }
	case numeric.Given(tube) && d.Horn.ThroatArea() > 0:
		b.From = "compression driver in a plane-wave tube"
		p := driver.ReferencePressure * numeric.FromDB(tube) / design.DefaultHornVoltage
		w := p * p * d.Horn.ThroatArea() / o.air.Impedance()
		power = func(hz []float64) []float64 { return slicesOf(w, len(hz)) }
	default:
		b.Why = "horn.sensitivity is needed, or compression_driver.sensitivity with horn.throat, or the parameters in [compression_driver] with the horn's profile"
		return nil
	}
	var factor func(hz float64) float64
	if power != nil {
		var err error
		if factor, err = o.directivity(ctx, m); err != nil {
			return err
		}
		if factor == nil {
			b.From, b.Why = "", "the horn's mouth is too many wavelengths wide or high to work out its directivity: horn.sensitivity is needed"
			return nil
		}
	}
	b.at = func(hz []float64) []unit {
		out := o.ofSensitivity(level, numeric.Absent, hz)
		if power != nil {
			for i, w := range power(hz) {
				out[i].pressure = math.Sqrt(w * o.air.Impedance() * factor(hz[i]) / (4 * math.Pi))
			}
		}
		if complete {
			for i, x := range moves(hz) {
				out[i].does[Excursion] = x.Excursion
			}
		}
		return out
	}
	return nil
}

func powers(x []waveguide.Drive) []float64 {
	out := make([]float64, len(x))
	for i := range x {
		out[i] = x[i].Power
	}
	return out
}

func slicesOf(x float64, n int) []float64 {
	out := make([]float64, n)
	for i := range out {
		out[i] = x
	}
	return out
}

// loadingAccuracy is the relative accuracy asked of the throat impedance: 0.01 dB.
const loadingAccuracy = 1e-3

// drives is the compression driver at one volt; nil where its horn cannot be worked out.
func (o *Box) drives(profile waveguide.AreaLaw, hz []float64) []waveguide.Drive {
	d := o.design
	load, err := waveguide.Load(profile, d.Horn.MouthLoad(), o.air.SoundSpeed, hz, loadingAccuracy)
	if err != nil {
		return nil
	}
	out, err := d.HornDrive.Driver.On(hz, load.Impedance, d.Horn.ThroatArea(), 1, o.air)
	if err != nil {
		return nil
	}
	return out
}

// directivity returns Q of the band's mouths in a wall as a function of frequency: the
// power in half space over that spread evenly over a sphere, by their own pattern. It is
// worked out in twelfths of an octave and lies on straight lines between them: 0.01 dB. It
// is nil where the mouths are too large to work it out.
func (o *Box) directivity(ctx context.Context, m *source.Band) (func(hz float64) float64, error) {
	mouths := append([]field.Mouth(nil), m.Mouths...)
	for i := range mouths {
		mouths[i].Drive, mouths[i].Pan = 0, 0
	}
	box := o.model.Stack.Boxes[0]
	box.Mouths = mouths
	e, err := field.New(field.Stack{Boxes: []field.Box{box}, Drives: []field.Drive{{Name: m.Name}}, TopHeight: numeric.Absent},
		field.Options{Air: o.design.Air, Boundary: field.Baffled})
	if err != nil {
		return nil, err
	}
	grid := Frequencies()
	q, err := e.DirectivityIndex(ctx, grid)
	if err != nil {
		return nil, err
	}
	if slices.ContainsFunc(q.Factor, math.IsNaN) {
		return nil, nil
	}
	return func(hz float64) float64 { return between(grid, q.Factor, hz) }, nil
}

// between interpolates over log frequency; beyond the ends it holds.
func between(x, y []float64, at float64) float64 {
	if at <= x[0] {
		return y[0]
	}
	for i := 1; i < len(x); i++ {
		if at <= x[i] {
			t := math.Log(at/x[i-1]) / math.Log(x[i]/x[i-1])
			return y[i-1] + t*(y[i]-y[i-1])
		}
	}
	return y[len(y)-1]
}
