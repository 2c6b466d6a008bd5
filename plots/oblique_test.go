package plots

import (
	"image"
	"math"
	"testing"
)

// face is a rectangle in n × n cells from a corner along two sides, with a value at each place.
func (b *Oblique) face(corner, u, v [3]float64, n int, value func(p [3]float64) float64) {
	first := int32(len(b.Corners))
	at := func(i, k int) (p [3]float64) {
		for x := range p {
			p[x] = corner[x] + u[x]*float64(i)/float64(n) + v[x]*float64(k)/float64(n)
		}
		return p
	}
	for i := range n + 1 {
		for k := range n + 1 {
			b.Corners = append(b.Corners, at(i, k))
			b.Value = append(b.Value, value(at(i, k)))
			if i < n && k < n {
				c := first + int32(i*(n+1)+k)
				d := c + int32(n+1)
				b.Triangles = append(b.Triangles, [3]int32{c, d, d + 1}, [3]int32{c, d + 1, c + 1})
			}
		}
	}
	b.Edges = append(b.Edges, [][3]float64{at(0, 0), at(n, 0), at(n, n), at(0, n), at(0, 0)})
}

// cuboid is a body of six faces with its front at x = 0.
func cuboid(depth, width, height float64, n int, value func(p [3]float64) float64) Oblique {
	b := Oblique{Caption: invented("Level on a cuboid", "one source in its front"), Scale: Axis{Label: "Level re the greatest", Unit: "dB", Low: -30},
		Levels: []float64{-27, -24, -21, -18, -15, -12, -9, -6, -3, 0}}
	x, y, z := [3]float64{-depth}, [3]float64{0, width}, [3]float64{0, 0, height}
	low := [3]float64{0, -width / 2, -height / 2}
	for _, f := range [][3][3]float64{{low, y, z}, {low, x, z}, {low, x, y}} {
		for _, moved := range [][3]float64{{}, {-depth}, {0, width}, {0, 0, height}} {
			across := moved[0]*f[1][0] + moved[1]*f[1][1] + moved[2]*f[1][2] + moved[0]*f[2][0] + moved[1]*f[2][1] + moved[2]*f[2][2]
			if across == 0 {
				at := low
				for i := range at {
					at[i] += moved[i]
				}
				b.face(at, f[1], f[2], n, value)
			}
		}
	}
	return b
}

func obliqueExample() Oblique {
	return cuboid(0.4, 0.6, 0.3, 24, func(p [3]float64) float64 {
		return math.Max(-35, -40*math.Sqrt(p[0]*p[0]+(p[1]-0.15)*(p[1]-0.15)+p[2]*p[2]))
	})
}

// Of two walls, one behind the other, the nearer one is painted and its edges alone are drawn,
// whichever is given first.
func TestObliqueHidesWhatIsBehind(t *testing.T) {
	for _, nearFirst := range []bool{false, true} {
		b := Oblique{Scale: Axis{Low: -10, High: 10}, Levels: []float64{0}}
		wall := func(x, half, value float64) {
			b.face([3]float64{x, -half, -half}, [3]float64{0, 2 * half}, [3]float64{0, 0, 2 * half}, 1, func([3]float64) float64 { return value })
		}
		if nearFirst {
			wall(0, 1, 5)
			wall(-0.2, 0.5, -5)
		} else {
			wall(-0.2, 0.5, -5)
			wall(0, 1, 5)
		}
		p, err := b.plan()
		if err != nil {
			t.Fatal(err)
		}
		p.rect = rect(0, 0, 200, 200)
		img := p.raster().(*image.Paletted)
		count := map[uint8]int{}
		for _, k := range img.Pix {
			count[k]++
		}
		if count[0] != 0 || count[1] == 0 || count[2] == 0 { // below 0, above, nothing
			t.Errorf("near first %t: pixels by colour %v", nearFirst, count)
		}
		for i, e := range b.Edges {
			hidden := e[0][0] < 0
			if lines := p.visible(e); (len(lines) == 0) != hidden {
				t.Errorf("near first %t: edge %d has %d lines", nearFirst, i, len(lines))
			}
		}
	}
}

// A parallel projection along a direction of length 1 keeps lengths across it: a step along z
// appears by the cosine of the elevation, and those along the axes by 2 together (K. Pohlke).
func TestObliqueProjection(t *testing.T) {
	sum := 0.0
	for i := range 3 {
		var e [3]float64
		e[i] = 1
		q := projected(e)
		sum += q.x*q.x + q.y*q.y
		if l := q.x*q.x + q.y*q.y + q.near*q.near; math.Abs(l-1) > 1e-12 {
			t.Errorf("axis %d has length² %g", i, l)
		}
	}
	if math.Abs(sum-2) > 1e-12 {
		t.Errorf("squares of the shortened axes sum to %g, want 2", sum)
	}
	if q := projected([3]float64{0, 0, 1}); q.x != 0 || math.Abs(q.y-math.Cos(obliqueElevation)) > 1e-12 {
		t.Errorf("up appears as %+v", q)
	}
}
