package bem3

import (
	"context"
	"fmt"
	"testing"

	"gapline/internal/trimesh"
)

// cabinetOf returns a cabinet with about n unknowns whose front moves in its
// middle, and a frequency with four elements to a wavelength.
func cabinetOf(n int) (*Problem, float64) {
	var m *trimesh.Mesh
	h := 0.2
	for {
		m = boxMesh(Vec{-.215, -.31, -.135}, Vec{.215, .31, .135}, h, 1)
		if 2*len(m.Triangles) >= n {
			break
		}
		h *= 0.995
	}
	velocity := normalVelocity(m, func(x, n Vec) complex128 {
		if n[0] > 0.5 && x[1]*x[1]+x[2]*x[2] < 0.01 {
			return 1
		}
		return 0
	})
	longest := 0.0
	for t := range m.Triangles {
		x := nodesOf(m, t)
		e := newElement(x[0], x[1], x[2])
		longest = max(longest, e.length)
	}
	return problemOf(m, [][]complex128{velocity}), testC / (4 * longest)
}

func layoutOf(b testing.TB, p *Problem) *layout {
	s, err := p.prepare()
	if err != nil {
		b.Fatal(err)
	}
	l, err := s.newLayout(context.Background(), 2)
	if err != nil {
		b.Fatal(err)
	}
	return l
}

var benchSizes = []int{2000, 5000, 10000}

// BenchmarkNear integrates what does not depend on frequency.
func BenchmarkNear(b *testing.B) {
	p, _ := cabinetOf(2000)
	elements := 0
	for b.Loop() {
		elements = len(layoutOf(b, p).elements)
	}
	b.ReportMetric(b.Elapsed().Seconds()/float64(b.N)/float64(elements)*1e6, "µs/element")
}

// BenchmarkPair evaluates and tests the kernel between an element and a block.
func BenchmarkPair(b *testing.B) {
	p, f := cabinetOf(500)
	s := layoutOf(b, p).at(f, 1)
	o := s.newOuter(&s.elements[0])
	var w pairing
	var sums [points][points][2]lanes
	var out rows
	for i := range out {
		out[i] = &sums[i]
	}
	for b.Loop() {
		s.pairBlock(&o, &s.blocks[len(s.blocks)/2], &lanes{}, &w, &out)
	}
	b.ReportMetric(b.Elapsed().Seconds()/float64(b.N)/width*1e9, "ns/pair")
}

func BenchmarkAssemble(b *testing.B) {
	for _, n := range benchSizes {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			p, f := cabinetOf(n)
			s := layoutOf(b, p).at(f, 2)
			for b.Loop() {
				if _, err := s.assemble(context.Background()); err != nil {
					b.Fatal(err)
				}
			}
			t := float64(len(s.elements))
			b.ReportMetric(b.Elapsed().Seconds()/float64(b.N)/t/t*1e9, "ns/pair")
		})
	}
}

// BenchmarkFrequency assembles and solves, near pairs left out: they are
// integrated once in a sweep.
func BenchmarkFrequency(b *testing.B) {
	for _, n := range benchSizes {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			p, f := cabinetOf(n)
			l := layoutOf(b, p)
			steps := 0
			for b.Loop() {
				s, err := l.solveAt(context.Background(), f, Options{Workers: 2}.withDefaults())
				if err != nil {
					b.Fatal(err)
				}
				steps = s.Steps
			}
			b.ReportMetric(float64(len(l.nodes)), "unknowns")
			b.ReportMetric(float64(steps), "steps")
		})
	}
}
