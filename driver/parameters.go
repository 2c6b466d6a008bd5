package driver

import (
	"fmt"
	"math"
	"strings"

	"gapline/internal/numeric"
	"gapline/internal/optional"
)

// Parameters is a driver's data as a sheet or a measurement gives it.
//
//	quantity                         symbol  field              unit
//	resonance in free air            fs      Fs                 Hz
//	electrical Q at fs               Qes     Qes                -
//	mechanical Q at fs               Qms     Qms                -
//	total Q at fs                    Qts     Qts                -
//	equivalent compliance volume     Vas     Vas                m³
//	voice-coil resistance            Re      Re                 Ω
//	effective piston area            Sd      Sd                 m²
//	force factor                     Bl      Bl                 T·m
//	moving mass with air load        Mms     Mms                kg
//	suspension compliance            Cms     Cms                m/N
//	mechanical resistance            Rms     Rms                kg/s
type Parameters struct {
	Fs, Qes, Qms, Qts, Vas, Re, Sd optional.Float
	Bl, Mms, Cms, Rms              optional.Float

	Le         optional.Float // voice-coil inductance, H; for a semi-inductor its value at 1 kHz
	LeExponent optional.Float // exponent n of the coil impedance ∝ (jω)ⁿ, ½ to 1; by default 1, a plain inductance
	Xmax       optional.Float // largest linear displacement, one way, m
	Power      optional.Float // rated power into Re, W

	EffectiveDiameter optional.Float // of the moving piston, m
	Size              optional.Float // nominal size, m
}

// SizeRule is the trade's estimate of the effective diameter of a cone as a
// fraction of its nominal size (common practice, no source).
const SizeRule = 0.82

// PistonRadius returns the effective radius in m from Sd, the effective
// diameter or the nominal size, in this order, and how it was found: "sd",
// "effective_diameter", "size" or, with NaN, "".
func (p Parameters) PistonRadius() (radius float64, from string) {
	switch {
	case p.Sd.Given():
		return math.Sqrt(p.Sd.Value() / math.Pi), "sd"
	case p.EffectiveDiameter.Given():
		return p.EffectiveDiameter.Value() / 2, "effective_diameter"
	case p.Size.Given():
		return SizeRule * p.Size.Value() / 2, "size"
	}
	return numeric.Absent, ""
}

// field pairs a key, as the design file spells it, with its value.
type field struct {
	key   string
	value *optional.Float
}

// related lists the parameters that the relations tie together, in the order of
// the keys below.
func (p *Parameters) related() [relatedCount]field {
	return [relatedCount]field{
		keyFs: {"fs", &p.Fs}, keyQes: {"qes", &p.Qes}, keyQms: {"qms", &p.Qms}, keyQts: {"qts", &p.Qts},
		keyVas: {"vas", &p.Vas}, keyRe: {"re", &p.Re}, keySd: {"sd", &p.Sd}, keyBl: {"bl", &p.Bl},
		keyMms: {"mms", &p.Mms}, keyCms: {"cms", &p.Cms}, keyRms: {"rms", &p.Rms},
		keyDiameter: {"effective_diameter", &p.EffectiveDiameter},
	}
}

// others lists the parameters that stand alone.
func (p *Parameters) others() []field {
	return []field{{"le", &p.Le}, {"xmax", &p.Xmax}, {"power", &p.Power}, {"size", &p.Size}}
}

// check returns an error that names every value that cannot be.
func (p *Parameters) check() error {
	var bad []string
	related := p.related()
	for _, f := range append(related[:], p.others()...) {
		if !f.value.Given() {
			continue
		}
		v := f.value.Value()
		zeroFits := f.key == "le"
		if math.IsInf(v, 0) || v < 0 || (v == 0 && !zeroFits) {
			bad = append(bad, fmt.Sprintf("%s = %g: must be a positive number", f.key, v))
		}
	}
	if n := p.LeExponent.Value(); n < 0.5 || n > 1 {
		bad = append(bad, fmt.Sprintf("le_exponent = %g: must lie between 0.5 (semi-inductor) and 1 (plain inductance)", n))
	}
	if bad != nil {
		return fmt.Errorf("driver parameters: %s", strings.Join(bad, "; "))
	}
	return nil
}

// inductorReference is the frequency at which Le of a semi-inductor is quoted.
const inductorReference = 1000 // Hz

// inductorImpedance returns the impedance in Ω of the voice coil's inductance,
//
//	Z_L = jω·Le·(jω/ω₁)^{n−1},   ω₁ = 2π·1 kHz
//
// Eddy currents in the pole piece make n less than 1: n = ½ is the
// semi-inductor of J. Vanderkooy, "A model of loudspeaker driver impedance
// incorporating eddy currents in the pole structure", JAES 37 (1989) 119-128;
// a free n is W. M. Leach, JAES 50 (2002) 442-450. At 1 kHz |Z_L| is that of
// the plain inductance.
func inductorImpedance(le, exponent, omega float64) complex128 {
	if exponent == 1 {
		return complex(0, omega*le)
	}
	const reference = 2 * math.Pi * inductorReference
	sin, cos := math.Sincos(math.Pi / 2 * exponent)
	magnitude := reference * le * math.Pow(omega/reference, exponent)
	return complex(magnitude*cos, magnitude*sin)
}
