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

// Directivity returns the signed far-field pressure relative to the axis,
// 2J₁(x)/x with x = ka·sin θ, θ in rad from the axis (Kinsler et al., sec. 7.4).
func (p Piston) Directivity(k, theta float64) float64 {
	return special.Jinc(k * p.Radius * math.Sin(theta))
}

// DirectivityFactor returns Q = (ka)²/R₁: the on-axis intensity relative to
// that of a point source of the same power in full space. It tends to 2 at low
// frequency, because the wall folds all power into half the space.
func (p Piston) DirectivityFactor(k float64) float64 {
	ka := k * p.Radius
	if ka == 0 {
		return 2
	}
	return ka * ka / special.JincComplement(2*ka)
}

// OnAxis returns p/(ρc·u) at distance z in m on the axis, for piston velocity
// u: e^{−jkz} − e^{−jk√(z²+a²)}, exact at any distance (Kinsler et al., eq.
// 7.4.5).
func (p Piston) OnAxis(k, z float64) complex128 {
	near, edge := k*z, k*math.Hypot(z, p.Radius)
	sn, cn := math.Sincos(near)
	se, ce := math.Sincos(edge)
	return complex(cn-ce, se-sn)
}
