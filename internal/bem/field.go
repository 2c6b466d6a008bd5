package bem

import (
	"context"
	"math"
	"math/cmplx"

	"gapline/internal/hankel"
	"gapline/internal/numeric"
	"gapline/internal/parallel"
)

// At returns the pressure at points in the named domain, off its boundary, Pa.
// A point that does not lie in the air of the domain gets NaN. Mirror images
// are included, and the points may lie on either side of a mirror plane. It
// returns the context's error when cancelled.
func (s *Solution) At(ctx context.Context, domain string, points []Point) ([]complex128, error) {
	sys := s.system
	d, err := sys.domain(domain)
	if err != nil {
		return nil, err
	}
	v := sys.views[d]
	v.medium.eta = 0
	v.medium.table = hankel.NewTable(sys.k * sys.reach(points))
	out := make([]complex128, len(points))
	err = parallel.Each(ctx, sys.opts.Workers, len(points), func(int) func(int) {
		w := newRowWork(&v, sys.mesh.rule)
		return func(i int) { out[i] = sys.pressureAt(&v, w, s, points[i]) }
	})
	return out, err
}

// reach returns the largest distance from any of the points to the geometry.
func (s *system) reach(points []Point) float64 {
	at := s.mesh.x[0]
	far := 0.0
	for _, p := range points {
		for _, im := range s.Mirror.images(p, Point{}) {
			far = math.Max(far, im[0].Sub(at).Norm())
		}
	}
	return far + s.extent
}

// pressureAt evaluates Green's formula p = ∫(G q − p ∂G/∂n) + incident.
func (s *system) pressureAt(v *view, w *rowWork, sol *Solution, x Point) complex128 {
	x = s.fold(x)
	if !s.inside(v.domain, x) {
		return cmplx.NaN()
	}
	clear(w.h)
	clear(w.g)
	for _, im := range s.Mirror.images(x, Point{}) {
		v.fill(w, target{im[0], im[1]}, -1, 0, farRatio(s.mesh.rule.p))
	}
	sum := s.incidentAt(v, x, Point{})
	p, q := sol.p[v.domain], sol.q[v.domain]
	for j := range w.h {
		sum -= w.h[j]*p[j] + w.g[j]*q[j]
	}
	return sum
}

// Pattern returns the far field of an exterior domain in directions given by
// their angle from the +y axis towards +x, rad: the pressure is
// F(angle)·e^{-jkr}/√r at a large distance r from the origin. The unit of F is
// Pa·√m.
func (s *Solution) Pattern(domain string, angles []float64) ([]complex128, error) {
	sys := s.system
	d, err := sys.domain(domain)
	if err != nil {
		return nil, err
	}
	if !sys.Domains[d].Exterior {
		return nil, geometryError("domain %q is bounded and has no far field", domain)
	}
	out := make([]complex128, len(angles))
	for i, a := range angles {
		out[i] = sys.far(&sys.views[d], s, Point{math.Sin(a), math.Cos(a)})
	}
	return out, nil
}

// far evaluates Green's formula with G ≈ −(j/4)√(2/(πkr)) e^{-j(kr − π/4)}
// e^{jk y·u} for a point far away in direction u (DLMF 10.17.6).
func (s *system) far(v *view, sol *Solution, u Point) complex128 {
	sum := complex128(0)
	p, q := sol.p[v.domain], sol.q[v.domain]
	for _, im := range s.Mirror.images(u, Point{}) {
		for j := range p {
			phase := cmplx.Rect(v.src.w[j], s.k*(v.src.x[j]*im[0].X+v.src.y[j]*im[0].Y))
			across := v.src.nx[j]*im[0].X + v.src.ny[j]*im[0].Y
			sum += phase * (q[j] - complex(0, s.k*across)*p[j])
		}
		for _, src := range s.Domains[v.domain].Sources {
			phase := cmplx.Rect(s.omega*s.Density, s.k*src.At.Dot(im[0]))
			sum += phase * 1i * src.Flow
		}
	}
	return sum * cmplx.Rect(math.Sqrt(2/(math.Pi*s.k))/4, -math.Pi/4)
}

// Edges returns the nearest angles below and above angles[from] at which the level
// of pattern falls to -6.000 dB against that at from, by straight-line
// interpolation of the level in dB; NaN where it does not fall so far on that side.
// angles ascend.
func Edges(angles []float64, pattern []complex128, from int) (below, above float64) {
	return edge(angles, pattern, from, -1), edge(angles, pattern, from, 1)
}

// edge walks from from in steps of step to the first -6 dB angle.
func edge(angles []float64, pattern []complex128, from, step int) float64 {
	const limit = -6.0
	reference := cmplx.Abs(pattern[from])
	last := 0.0
	for i := from + step; i >= 0 && i < len(angles); i += step {
		level := numeric.DB(cmplx.Abs(pattern[i]) / reference)
		if level <= limit {
			share := (limit - last) / (level - last)
			return angles[i-step] + share*(angles[i]-angles[i-step])
		}
		last = level
	}
	return numeric.Absent
}
