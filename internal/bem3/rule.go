package bem3

import "gonum.org/v1/gonum/mat"

// points is the number of points of the rule on a triangle and of the nodes of
// an element: six and six.
const points = 6

// bary is a point of a triangle in barycentric coordinates.
type bary [3]float64

// rulePoints and ruleWeights are the rule of degree four with six points for
// means over a triangle (G. Strang, G. Fix, An Analysis of the Finite Element
// Method, 1973, table 4.1; digits of D. A. Dunavant, Int. J. Numer. Methods Eng.
// 21, 1985, p = 4).
var rulePoints, ruleWeights = func() (p [points]bary, w [points]float64) {
	orbits := [2]struct{ a, w float64 }{
		{0.445948490915965, 0.223381589678011},
		{0.091576213509771, 0.109951743655322},
	}
	for i, o := range orbits {
		for m := range 3 {
			b := bary{o.a, o.a, o.a}
			b[m] = 1 - 2*o.a
			p[3*i+m], w[3*i+m] = b, o.w
		}
	}
	return p, w
}()

// shape returns the six quadratic shape functions at b: first those of the
// corners, then those of the midpoints of the sides opposite to them.
func shape(b bary) (phi [points]float64) {
	for m := range 3 {
		phi[m] = b[m] * (2*b[m] - 1)
		phi[3+m] = 4 * b[(m+1)%3] * b[(m+2)%3]
	}
	return phi
}

// shapeAt holds the shape functions at the points of the rule, [point][node].
var shapeAt = func() (s [points][points]float64) {
	for a := range s {
		s[a] = shape(rulePoints[a])
	}
	return s
}()

// nodeFrom holds how the values at the nodes follow from those at the points of
// the rule, [node][point]: the inverse of shapeAt.
var nodeFrom = func() (inverse [points][points]float64) {
	var m mat.Dense
	if err := m.Inverse(mat.NewDense(points, points, flatten(&shapeAt))); err != nil {
		panic(err)
	}
	for i := range points {
		for j := range points {
			inverse[i][j] = m.At(i, j)
		}
	}
	return inverse
}()

func flatten(m *[points][points]float64) (list []float64) {
	for _, row := range m {
		list = append(list, row[:]...)
	}
	return list
}

// massOf is the mean of φ_i φ_j over a triangle. The product is of degree four,
// which the rule integrates without error.
var massOf = func() (m [points][points]float64) {
	for a, w := range ruleWeights {
		for i := range m {
			for j := range m {
				m[i][j] += w * shapeAt[a][i] * shapeAt[a][j]
			}
		}
	}
	return m
}()

// meanOf is the mean of φ_i: nil for corners, a third for midpoints.
var meanOf = [points]float64{0, 0, 0, 1. / 3, 1. / 3, 1. / 3}

// gradientTerm says that φ_i has the part factor·λ_at + offset in front of the
// gradient of λ_of.
type gradientTerm struct {
	of, at         int
	factor, offset float64
}

// gradients lists the parts of ∇φ_i: (4λ_m − 1)∇λ_m at corner m, and
// 4λ_v∇λ_u + 4λ_u∇λ_v at the midpoint between u and v.
var gradients = func() (g [points][]gradientTerm) {
	for m := range 3 {
		u, v := (m+1)%3, (m+2)%3
		g[m] = []gradientTerm{{m, m, 4, -1}}
		g[3+m] = []gradientTerm{{u, v, 4, 0}, {v, u, 4, 0}}
	}
	return g
}()
