package planemesh

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"
)

// rectangle adds nodes along a rectangle, and its polygon.
func rectangle(s *Spec, x, y, w, h, step float64, hole bool) {
	var p Polygon
	corners := []Point{{x, y}, {x + w, y}, {x + w, y + h}, {x, y + h}}
	for i, a := range corners {
		b := corners[(i+1)%4]
		n := int(math.Ceil(distance(a, b) / step))
		for j := range n {
			t := float64(j) / float64(n)
			p.Nodes = append(p.Nodes, int32(len(s.Nodes)))
			s.Nodes = append(s.Nodes, Point{a[0] + t*(b[0]-a[0]), a[1] + t*(b[1]-a[1])})
		}
	}
	p.Hole = hole
	s.Polygons = append(s.Polygons, p)
}

func circle(s *Spec, x, y, r float64, n int, hole bool) {
	var p Polygon
	for i := range n {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		p.Nodes = append(p.Nodes, int32(len(s.Nodes)))
		s.Nodes = append(s.Nodes, Point{x + r*cos, y + r*sin})
	}
	p.Hole = hole
	s.Polygons = append(s.Polygons, p)
}

// polygonArea is by the shoelace formula.
func polygonArea(s *Spec, i int) float64 {
	sum := 0.0
	n := s.Polygons[i].Nodes
	for j := range n {
		a, b := s.Nodes[n[j]], s.Nodes[n[(j+1)%len(n)]]
		sum += (a[0]*b[1] - a[1]*b[0]) / 2
	}
	return math.Abs(sum)
}

func triangleArea(f *Filled, t int) float64 {
	c := f.Triangles[t]
	a, b, d := f.Nodes[c[0]], f.Nodes[c[1]], f.Nodes[c[2]]
	return ((b[0]-a[0])*(d[1]-a[1]) - (b[1]-a[1])*(d[0]-a[0])) / 2
}

// leastAngle is the smallest angle of all triangles, degrees.
func leastAngle(f *Filled) float64 {
	least := math.Inf(1)
	for _, c := range f.Triangles {
		for i := range 3 {
			a, b, d := f.Nodes[c[i]], f.Nodes[c[(i+1)%3]], f.Nodes[c[(i+2)%3]]
			u := math.Atan2(b[1]-a[1], b[0]-a[0])
			v := math.Atan2(d[1]-a[1], d[0]-a[0])
			x := math.Mod(v-u+2*math.Pi, 2*math.Pi)
			least = math.Min(least, x*180/math.Pi)
		}
	}
	return least
}

// checkEdges fails unless each edge belongs to two triangles in opposite directions,
// save the outline's, and every edge of a polygon is there.
func checkEdges(t *testing.T, s *Spec, f *Filled) {
	t.Helper()
	count := map[[2]int32]int{}
	for _, c := range f.Triangles {
		for i := range 3 {
			count[[2]int32{c[i], c[(i+1)%3]}]++
		}
	}
	rim := map[[2]int32]bool{}
	for _, p := range s.Polygons {
		for i, a := range p.Nodes {
			b := p.Nodes[(i+1)%len(p.Nodes)]
			rim[[2]int32{a, b}], rim[[2]int32{b, a}] = true, true
			if count[[2]int32{a, b}]+count[[2]int32{b, a}] == 0 {
				t.Errorf("edge %d to %d of a polygon is missing", a, b)
			}
		}
	}
	for e, n := range count {
		if n != 1 || count[[2]int32{e[1], e[0]}] != 1 && !rim[e] {
			t.Errorf("edge %v: %d times, back %d", e, n, count[[2]int32{e[1], e[0]}])
		}
	}
}

// A front with a disc, a hole, a rectangle on the outline and one in the disc: areas are
// those of the polygons, and the triangles are well shaped.
func TestFill(t *testing.T) {
	s := &Spec{Size: func(p Point) float64 { return 0.02 + 0.05*math.Min(p[1], 0.3-p[1]) }}
	rectangle(s, 0, 0, 0.6, 0.3, 0.02, false)
	circle(s, 0.15, 0.15, 0.1, 32, false)
	rectangle(s, 0.12, 0.14, 0.05, 0.03, 0.02, false)
	circle(s, 0.45, 0.12, 0.06, 16, true)
	f, err := Fill(s)
	if err != nil {
		t.Fatal(err)
	}
	checkEdges(t, s, f)
	got := make([]float64, len(s.Polygons))
	for i := range f.Triangles {
		a := triangleArea(f, i)
		if a <= 0 {
			t.Errorf("triangle %d has area %g", i, a)
		}
		got[f.Region[i]] += a
	}
	area := func(i int) float64 { return polygonArea(s, i) }
	for i, want := range []float64{area(0) - area(1) - area(3), area(1) - area(2), area(2), 0} {
		if math.Abs(got[i]-want) > 1e-12 {
			t.Errorf("region %d: area %.12g, want %.12g", i, got[i], want)
		}
	}
	// Ruppert's bound for circumradius over shortest edge of 1.25 is 23.6°, away from edges
	// that may not be divided.
	if a := leastAngle(f); a < 20 {
		t.Errorf("least angle %.1f°", a)
	}
	t.Logf("%d triangles, least angle %.1f°", len(f.Triangles), leastAngle(f))
}

// Smaller sizes make more triangles, about as the inverse square.
func TestSizeIsMet(t *testing.T) {
	var last int
	for _, h := range []float64{0.04, 0.02, 0.01} {
		s := &Spec{Size: func(Point) float64 { return h }}
		rectangle(s, 0, 0, 0.6, 0.3, h, false)
		f, err := Fill(s)
		if err != nil {
			t.Fatal(err)
		}
		equilateral := 0.18 / (math.Sqrt(3) / 4 * h * h)
		if n := float64(len(f.Triangles)); n < 0.8*equilateral || n > 1.6*equilateral {
			t.Errorf("size %g: %g triangles, %g equilateral ones fill the area", h, n, equilateral)
		}
		if last > 0 && math.Abs(float64(len(f.Triangles))/float64(last)-4) > 0.6 {
			t.Errorf("size %g: %d triangles after %d", h, len(f.Triangles), last)
		}
		last = len(f.Triangles)
		for _, c := range f.Triangles {
			for i := range 3 {
				if d := distance(f.Nodes[c[i]], f.Nodes[c[(i+1)%3]]); d > 1.7*h {
					t.Errorf("size %g: an edge %g long", h, d)
				}
			}
		}
	}
}

// Random convex polygons, tilted, with nodes at uneven distances.
func TestRandomPolygons(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for range 300 {
		size := 0.05 + 0.1*r.Float64()
		s := &Spec{Size: func(Point) float64 { return size }}
		turn := r.Float64()
		n := 3 + r.IntN(40)
		var p Polygon
		for i := range n {
			sin, cos := math.Sincos(turn + 2*math.Pi*(float64(i)+0.8*r.Float64())/float64(n))
			p.Nodes = append(p.Nodes, int32(i))
			s.Nodes = append(s.Nodes, Point{cos, 0.5 * sin})
		}
		s.Polygons = []Polygon{p}
		circle(s, 0.01, 0, 0.02, 3+r.IntN(12), r.IntN(2) == 0)
		if !(&filler{spec: s}).holds(&p, Point{0.01, 0}) {
			continue
		}
		f, err := Fill(s)
		if err != nil {
			continue // the little circle crosses the outline of a triangle
		}
		checkEdges(t, s, f)
		sum := 0.0
		for i := range f.Triangles {
			a := triangleArea(f, i)
			if a <= 0 {
				t.Fatalf("triangle %d has area %g", i, a)
			}
			sum += a
		}
		want := polygonArea(s, 0)
		if s.Polygons[1].Hole {
			want -= polygonArea(s, 1)
		}
		if math.Abs(sum-want) > 1e-12 {
			t.Fatalf("area %g, want %g", sum, want)
		}
	}
}

// Along an edge with a row stands a right-angled triangle on each piece, half as high as
// wide.
func TestRows(t *testing.T) {
	s := &Spec{Size: func(p Point) float64 { return 0.1 }}
	rectangle(s, 0, 0, 1, 1, 0.1, false)
	for i := range int32(10) { // the lower edge
		s.Rows = append(s.Rows, [2]int32{i, i + 1})
	}
	f, err := Fill(s)
	if err != nil {
		t.Fatal(err)
	}
	checkEdges(t, s, f)
	found := 0
	for _, c := range f.Triangles {
		for i := range 3 {
			a, b, top := f.Nodes[c[i]], f.Nodes[c[(i+1)%3]], f.Nodes[c[(i+2)%3]]
			if a[1] == 0 && b[1] == 0 && math.Abs(top[1]-0.05) < 1e-6 && math.Abs(top[0]-(a[0]+b[0])/2) < 1e-6 {
				found++
			}
		}
	}
	if found < 8 { // the pieces at the corners share their node with the other edge
		t.Errorf("%d of 10 pieces have their triangle", found)
	}
}

// No edge inside is longer than the longest, though the wanted size is.
func TestLongest(t *testing.T) {
	s := &Spec{Size: func(p Point) float64 { return 0.1 + p[0] }, Longest: 0.21}
	rectangle(s, 0, 0, 1, 1, 0.2, false)
	f, err := Fill(s)
	if err != nil {
		t.Fatal(err)
	}
	checkEdges(t, s, f)
	for i, c := range f.Triangles {
		if a := triangleArea(f, i); !(a > 0) {
			t.Errorf("triangle %d has area %g", i, a)
		}
		for k := range 3 {
			if d := distance(f.Nodes[c[k]], f.Nodes[c[(k+1)%3]]); d > 0.21 {
				t.Errorf("an edge is %g long", d)
			}
		}
	}
}

func TestWhatCannotBeFilled(t *testing.T) {
	s := &Spec{Size: func(Point) float64 { return 0.1 }}
	rectangle(s, 0, 0, 1, 1, 0.3, false)
	rectangle(s, 0.55, 0.53, 1, 0.2, 0.3, false)
	if _, err := Fill(s); !errors.Is(err, ErrCrossing) {
		t.Errorf("polygons that cross: %v", err)
	}
	s.Nodes[3] = s.Nodes[2]
	if _, err := Fill(s); !errors.Is(err, ErrTiny) {
		t.Errorf("nodes in one place: %v", err)
	}
}

func BenchmarkFill(b *testing.B) {
	for range b.N {
		s := &Spec{Size: func(Point) float64 { return 0.015 }}
		rectangle(s, 0, 0, 0.6, 0.3, 0.015, false)
		circle(s, 0.15, 0.15, 0.1, 32, false)
		f, err := Fill(s)
		if err != nil {
			b.Fatal(err)
		}
		b.ReportMetric(float64(len(f.Triangles)), "triangles")
	}
}
