package driver

import (
	"math"

	"gapline/internal/numeric"
)

// ReferencePressure is the reference of sound pressure level, Pa.
const ReferencePressure = 20e-6

// Level returns the sound pressure level in dB re 20 µPa of an rms pressure in
// Pa.
func Level(p float64) float64 { return numeric.DB(p / ReferencePressure) }

// Efficiency returns the reference efficiency in half space, as a fraction,
//
//	η₀ = 4π² fs³ Vas/(c³ Qes)
//
// Source: Small 1972.
func (c Complete) Efficiency() float64 {
	return 4 * math.Pi * math.Pi * math.Pow(c.Fs.Value()/c.Air.SoundSpeed, 3) * c.Vas.Value() / c.Qes.Value()
}

// EfficiencyCaution is the reference efficiency above which parameters are likely to be
// mistyped: direct radiators reach a few per cent, the best about a tenth (common practice,
// no source). Above 1 they cannot be.
const EfficiencyCaution = 0.2

// Sensitivity returns the level in dB at 1 m in half space at the given voltage
// in V across one driver, where the response is flat.
func (c Complete) Sensitivity(volts float64) float64 {
	power := c.Efficiency() * volts * volts / c.Re.Value()
	return Level(math.Sqrt(power * c.Air.Impedance() / (2 * math.Pi)))
}

// EfficiencyBandwidth returns fs/Qes in Hz, a common guide to the enclosure: low
// values suit closed boxes, high values vented ones.
func (c Complete) EfficiencyBandwidth() float64 { return c.Fs.Value() / c.Qes.Value() }

// SweptVolume returns Sd·Xmax of one driver in m³, one way; NaN without Xmax.
func (c Complete) SweptVolume() float64 { return c.Sd.Value() * c.Xmax.Value() }
