package driver

import (
	"math"
	"math/cmplx"

	"gapline/internal/numeric"
)

// RectangleMutualCorrection returns the extra end correction in m of one of two
// equal parallel openings (w × h m, centres dx, dy m apart in the flange) caused
// by the other when both move in phase: the low-frequency limit of the mutual
// reactance. Rounding leaves about 1e-16·D³/S in m, of no weight beside the
// self correction.
func RectangleMutualCorrection(w, h, dx, dy float64) float64 {
	return inverseDistanceSum(w, h, dx, dy) / (2 * math.Pi * w * h)
}

// mutualPoints is the order of the product rule on each half of the
// autocorrelation triangle.
const mutualPoints = 12

// RectanglePair is the mutual radiation impedance of two equal parallel
// rectangles in one wall, prepared for many frequencies.
type RectanglePair struct {
	distance, weight []float64
}

// NewRectanglePair prepares the pair; dx and dy are the distances between
// centres in m. The rectangles must not overlap, or the product rule would meet
// the singularity of 1/R.
func NewRectanglePair(r Rectangle, dx, dy float64) *RectanglePair {
	rule := numeric.Legendre(mutualPoints)
	var p RectanglePair
	for iu := range 2 * mutualPoints {
		u, wu := triangleNode(rule, iu, r.Width)
		for iv := range 2 * mutualPoints {
			v, wv := triangleNode(rule, iv, r.Height)
			d := math.Hypot(dx+u, dy+v)
			p.distance = append(p.distance, d)
			p.weight = append(p.weight, wu*wv/(2*math.Pi*d*r.Area()))
		}
	}
	return &p
}

// triangleNode returns node i of the rule over u ∈ [−side, side] and its weight
// times the triangle side − |u|.
func triangleNode(rule *numeric.Rule, i int, side float64) (u, weight float64) {
	t := (1 + rule.X[i%mutualPoints]) / 2
	weight = side * rule.W[i%mutualPoints] / 2 * side * (1 - t)
	if i < mutualPoints {
		return -side * t, weight
	}
	return side * t, weight
}

// Impedance returns the mutual impedance divided by ρcS: the force on one by
// unit velocity of the other.
func (p *RectanglePair) Impedance(k float64) complex128 {
	var sum complex128
	for i, d := range p.distance {
		sum += complex(p.weight[i], 0) * cmplx.Exp(complex(0, -k*d))
	}
	return complex(0, k) * sum
}
