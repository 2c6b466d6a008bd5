package bem3

import (
	"math"
	"math/rand/v2"
	"testing"
)

// slowMoments integrates over e by cutting it in four again and again where x is
// near: the obvious way.
func slowMoments(e *element, x Vec) (m moments) {
	var cut func(c [3]bary, depth int)
	cut = func(c [3]bary, depth int) {
		var corner [3]Vec
		for i := range c {
			corner[i] = e.at(c[i])
		}
		part := newElement(corner[0], corner[1], corner[2])
		if depth > 0 && norm(sub(part.centre, x)) < 6*part.length {
			var mid [3]bary
			for i := range 3 {
				for a := range 3 {
					mid[i][a] = (c[(i+1)%3][a] + c[(i+2)%3][a]) / 2
				}
			}
			for i := range 3 {
				cut([3]bary{c[i], mid[(i+2)%3], mid[(i+1)%3]}, depth-1)
			}
			cut(mid, depth-1)
			return
		}
		for a, b := range rulePoints {
			var at bary
			for i := range 3 {
				for k := range 3 {
					at[k] += b[i] * c[i][k]
				}
			}
			d := sub(x, e.at(at))
			r := norm(d)
			w := part.area * ruleWeights[a]
			height := dot(d, e.normal)
			for i, phi := range shape(at) {
				m.over[i] += w * phi / r
				m.along[i] += w * phi * r
				m.overSlope[i] += w * phi * height / (r * r * r)
				m.alongSlope[i] += w * phi * height / r
			}
			for i, l := range at {
				m.overLinear[i] += w * l / r
				m.alongLinear[i] += w * l * r
			}
			m.overOne += w / r
			m.alongOne += w * r
			m.solidAngle += w * height / (r * r * r)
		}
	}
	cut([3]bary{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}, 14)
	return m
}

func TestClosedFormsAgainstSubdivision(t *testing.T) {
	r := rand.New(rand.NewPCG(8, 9))
	e := newElement(Vec{0.1, 0.2, 0.3}, Vec{1.1, 0.3, 0.2}, Vec{0.4, 1.0, 0.5})
	im := image{sign: Vec{-1, 1, 1}, shift: Vec{0.3, 0, 0}, det: -1}
	turned := e.reflected(im)
	for i := range 12 {
		var x Vec
		switch {
		case i < 4: // anywhere
			x = Vec{2*r.Float64() - 0.5, 2*r.Float64() - 0.5, 2*r.Float64() - 0.5}
		case i < 6: // inside the element itself
			x = e.at(rulePoints[i])
		case i < 8: // in its plane, outside
			x = e.at(bary{-0.3, 0.5, 0.8})
		case i < 9: // on the line of a side
			x = e.at(bary{0, 1.4, -0.4})
		default: // close above and below
			x = add(e.at(rulePoints[i-8]), scaled(e.normal, 0.05*float64(i-10)+0.01))
		}
		compareMoments(t, e.moment(x), slowMoments(&e, x))
		y := im.point(x)
		compareMoments(t, turned.moment(y), slowMoments(&e, x))
		if a, b := e.solidAngle(x), e.moment(x).solidAngle; math.Abs(b) > 1e-9 && math.Abs(a-b) > 1e-9 {
			t.Errorf("solid angle at %v: %g and %g", x, a, b)
		}
	}
}

// compareMoments allows 3e-4, what subdivision leaves where the point lies on
// the element.
func compareMoments(t *testing.T, got, want moments) {
	t.Helper()
	check := func(name string, a, b float64) {
		t.Helper()
		if !(math.Abs(a-b) < 3e-4) {
			t.Errorf("%s: %.8g, want %.8g", name, a, b)
		}
	}
	for i := range points {
		check("φ/r", got.over[i], want.over[i])
		check("φr", got.along[i], want.along[i])
		check("φd/r³", got.overSlope[i], want.overSlope[i])
		check("φd/r", got.alongSlope[i], want.alongSlope[i])
	}
	for i := range 3 {
		check("λ/r", got.overLinear[i], want.overLinear[i])
		check("λr", got.alongLinear[i], want.alongLinear[i])
	}
	check("1/r", got.overOne, want.overOne)
	check("r", got.alongOne, want.alongOne)
	check("d/r³", got.solidAngle, want.solidAngle)
}
