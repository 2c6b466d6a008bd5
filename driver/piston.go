package driver

import (
	"math"

	"gapline/internal/special"
)

// Piston is a rigid circular piston in an infinite rigid wall.
type Piston struct {
	Radius float64 // a, m
}

// PistonOfArea returns the piston with effective area sd in m².
func PistonOfArea(sd float64) Piston { return Piston{Radius: math.Sqrt(sd / math.Pi)} }

// Impedance returns the radiation impedance of one side divided by ρc·πa²,
// R₁ + jX₁, at wave number k in 1/m.
//
//	R₁ = 1 − 2J₁(2ka)/(2ka),  X₁ = 2H₁(2ka)/(2ka)
//
// Source: Rayleigh, The Theory of Sound, vol. 2, 1896, § 302; L. E. Kinsler et
// al., Fundamentals of Acoustics, 4th ed., 2000, sec. 7.5.
func (p Piston) Impedance(k float64) complex128 {
	x := 2 * k * p.Radius
	if x == 0 {
		return 0
	}
	return complex(special.JincComplement(x), 2*special.StruveH1(x)/x)
}

// EndCorrection returns the low-frequency end correction of one side in m,
// 8a/(3π): the radiation mass is that of an air plug of this length.
func (p Piston) EndCorrection() float64 { return 8 * p.Radius / (3 * math.Pi) }
