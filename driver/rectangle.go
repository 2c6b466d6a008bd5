package driver

import (
	"math"

	"gapline/internal/numeric"
)

// Rectangle is a rigid rectangular piston, or the uniform air plug in a
// rectangular mouth, in an infinite rigid wall.
type Rectangle struct {
	Width, Height float64 // m
}

// Area returns the area in m².
func (r Rectangle) Area() float64 { return r.Width * r.Height }

// panelPhase is the phase kr that one panel of the radiation integral may
// span; with panelPoints points the rule then leaves less than 1e-10.
const (
	panelPhase  = 8.0
	panelPoints = 24
)

// Impedance returns the radiation impedance of one side divided by ρcS, at wave
// number k in 1/m, by the exact single integral over the distance r between
// pairs of points,
//
//	Z/(ρcS) = (2jk/(πS)) ∫₀^{diagonal} w(r) e^{−jkr} dr
//	w(r) = ∫ (a − r cos φ)(b − r sin φ) dφ    over the φ where both are positive
//
// where w is a closed form. Relative error below 1e-8.
//
// Source: form of G. W. Swenson and W. E. Johnson, JASA 24 (1952) 84, and D. S.
// Burnett and W. W. Soroka, JASA 51 (1972) 1618-1623; reduction own.
func (r Rectangle) Impedance(k float64) complex128 {
	a, b := math.Min(r.Width, r.Height), math.Max(r.Width, r.Height)
	sum := pairIntegral(a, b, k, 0, a) + pairIntegral(a, b, k, a, b) + pairIntegral(a, b, k, b, math.Hypot(a, b))
	return complex(0, 2*k/(math.Pi*a*b)) * sum
}

// pairIntegral is ∫ w(r) e^{−jkr} dr over [lo, hi]. w has square-root branches
// at the ends of its three ranges, so the abscissa is mapped by the cubic
// 3u² − 2u³, whose slope vanishes at both ends.
func pairIntegral(a, b, k, lo, hi float64) complex128 {
	length := hi - lo
	if length <= 0 {
		return 0
	}
	rule := numeric.Legendre(panelPoints)
	panels := 1 + int(k*length/panelPhase)
	var sum complex128
	for i := range panels {
		for j, x := range rule.X {
			u := (float64(i) + (1+x)/2) / float64(panels)
			r := lo + length*u*u*(3-2*u)
			slope := 6 * length * u * (1 - u)
			sin, cos := math.Sincos(k * r)
			weight := rule.W[j] / 2 / float64(panels) * slope * pairWeight(a, b, r)
			sum += complex(weight*cos, -weight*sin)
		}
	}
	return sum
}

// pairWeight is w(r) above, with a ≤ b.
func pairWeight(a, b, r float64) float64 {
	lo, hi := 0.0, math.Pi/2
	if r > a {
		lo = math.Acos(a / r)
	}
	if r > b {
		hi = math.Asin(b / r)
	}
	sl, cl := math.Sincos(lo)
	sh, ch := math.Sincos(hi)
	return a*b*(hi-lo) - a*r*(cl-ch) - b*r*(sh-sl) + r*r/2*(sh*sh-sl*sl)
}

// Directivity returns the signed far-field pressure relative to the axis in a
// principal plane: sin(x)/x with x = (k·side/2)·sin θ. side is the dimension
// lying in that plane in m, θ in rad.
func (r Rectangle) Directivity(k, side, theta float64) float64 {
	return numeric.Sinc(k * side / 2 * math.Sin(theta))
}

// EndCorrection returns RectangleEndCorrection of the two sides.
func (r Rectangle) EndCorrection() float64 { return RectangleEndCorrection(r.Width, r.Height) }

// RectangleEndCorrection returns the low-frequency end correction in m of a
// rectangular opening a × b (m) in a large flange, one side, for uniform
// velocity over the opening.
//
//	Δl = I/(2πab),  I = ∬∬ dS dS′/R
//	I = 2[a²b·asinh(b/a) + ab²·asinh(a/b) + (a³ + b³ − d³)/3],  d = √(a²+b²)
//
// An opening as long as 10:1 has 26 % less than the circle of equal area.
//
// Source: low-frequency limit of Burnett and Soroka 1972; closed form by own
// integration.
func RectangleEndCorrection(a, b float64) float64 {
	return inverseDistanceSum(a, b, 0, 0) / (2 * math.Pi * a * b)
}

// inverseDistanceSum is ∬∬ dS dS′/R between two equal parallel rectangles w × h
// whose centres are dx, dy apart: the second difference in both directions of a
// function G with ∂⁴G/∂x²∂y² = 1/√(x²+y²).
func inverseDistanceSum(w, h, dx, dy float64) float64 {
	second := [3]float64{1, -2, 1}
	sum := 0.0
	for i, ci := range second {
		for j, cj := range second {
			sum += ci * cj * inverseDistanceKernel(dx+float64(i-1)*w, dy+float64(j-1)*h)
		}
	}
	return sum
}

// inverseDistanceKernel is G = ½x²y·asinh(y/|x|) + ½xy²·asinh(x/|y|) − r³/6.
func inverseDistanceKernel(x, y float64) float64 {
	r := math.Hypot(x, y)
	g := -r * r * r / 6
	if x != 0 && y != 0 {
		g += (x*x*y*math.Asinh(y/math.Abs(x)) + x*y*y*math.Asinh(x/math.Abs(y))) / 2
	}
	return g
}
