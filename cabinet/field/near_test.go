package field

import (
	"context"
	"fmt"
	"math"
	"math/cmplx"
	"testing"

	"gapline/internal/numeric"
	"gapline/internal/reftable"

	"pgregory.net/rapid"
)

// oneMouth is a box with a single mouth, hung clear, its middle at the origin
// of X and Z.
func oneMouth(m Mouth) Stack {
	return Stack{
		Boxes:     []Box{{Height: 20, Width: 20, Depth: 0.3, Mouths: []Mouth{m}}},
		Drives:    []Drive{{}},
		TopHeight: math.NaN(),
	}
}

func mustNew(t testing.TB, s Stack, o Options) *Engine {
	t.Helper()
	e, err := New(s, o)
	if err != nil {
		t.Fatal(err)
	}
	return e
}

func mustSum(t testing.TB, e *Engine, at []Vec, hz []float64) [][]complex128 {
	t.Helper()
	p, err := e.Pressure(context.Background(), at, hz)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// slowMouth is the independent reference: the Rayleigh integral of a mouth by
// brute quadrature, and the pressure if all of it arrived in phase.
func slowMouth(m Mouth, at Vec, k float64, panels int) (p complex128, inPhase float64) {
	add := func(y, z, w float64) {
		r := math.Sqrt(at.X*at.X + (at.Y-y)*(at.Y-y) + (at.Z-z)*(at.Z-z))
		path := r
		if m.VerticalApex > 0 {
			path += math.Sqrt(m.VerticalApex*m.VerticalApex+z*z) - m.VerticalApex
		}
		if m.HorizontalApex > 0 {
			path += math.Sqrt(m.HorizontalApex*m.HorizontalApex+y*y) - m.HorizontalApex
		}
		p += complex(w/r, 0) * cmplx.Exp(complex(0, -k*path))
		inPhase += w / r
	}
	nodes := func(f func(x, w float64)) { // on [-1, 1], mean weight 1
		r := numeric.Legendre(8)
		for i := range panels {
			for j, x := range r.X {
				f((2*float64(i)+1+x)/float64(panels)-1, r.W[j]/2/float64(panels))
			}
		}
	}
	if m.Kind == Circle {
		a := m.Diameter / 2
		nodes(func(s, w float64) {
			rho := (1 + s) / 2
			nodes(func(phi, v float64) {
				add(a*rho*math.Cos(math.Pi*phi), a*rho*math.Sin(math.Pi*phi), 2*rho*w*v)
			})
		})
		return p, inPhase
	}
	nodes(func(y, w float64) {
		nodes(func(z, v float64) { add(y*m.Width/2, z*m.Height/2, w*v) })
	})
	return p, inPhase
}

// The stated bound: each mouth's error is at most Tolerance of what it would
// give in phase. Mouths of random size and curvature seen from random points.
func TestErrorBoundOfMouths(t *testing.T) {
	for _, tol := range []float64{2e-2, DefaultTolerance, 1e-4} {
		t.Run(fmt.Sprint(tol), func(t *testing.T) {
			rapid.Check(t, func(t *rapid.T) {
				m := Mouth{Kind: Rectangle}
				if rapid.Bool().Draw(t, "circle") {
					m = Mouth{Kind: Circle, Diameter: rapid.Float64Range(0.02, 0.5).Draw(t, "diameter")}
				} else {
					m.Width = rapid.Float64Range(0.01, 0.4).Draw(t, "width")
					m.Height = rapid.Float64Range(0.01, 0.4).Draw(t, "height")
					if rapid.Bool().Draw(t, "curved") {
						m.VerticalApex = rapid.Float64Range(0.2, 3).Draw(t, "apex")
						m.HorizontalApex = rapid.Float64Range(0.2, 3).Draw(t, "apex across")
					}
				}
				w, h := m.halfSize()
				size := max(w, h)
				// From a twentieth of the half size outwards.
				r := size * math.Exp(rapid.Float64Range(math.Log(0.05), math.Log(200)).Draw(t, "log r"))
				ux := rapid.Float64Range(0.02, 1).Draw(t, "ux")
				phi := rapid.Float64Range(0, 2*math.Pi).Draw(t, "phi")
				across := math.Sqrt(1 - ux*ux)
				at := Vec{r * ux, r * across * math.Cos(phi), r * across * math.Sin(phi)}
				if at.X < 0.05*size {
					at.X = 0.05 * size
				}
				f := rapid.Float64Range(50, 8000).Draw(t, "f")
				compareMouth(t, m, at, f, tol)
			})
		})
	}
}

func compareMouth(t interface{ Errorf(string, ...any) }, m Mouth, at Vec, f, tol float64) {
	e, err := New(oneMouth(m), Options{Tolerance: tol})
	if err != nil {
		t.Errorf("%v", err)
		return
	}
	got, err := e.Pressure(context.Background(), []Vec{at}, []float64{f})
	if err != nil {
		t.Errorf("%v", err)
		return
	}
	want, inPhase := slowMouth(m, at, 2*math.Pi*f/e.SoundSpeed(), 24)
	if d := cmplx.Abs(got[0][0]-want) / inPhase; d > tol {
		t.Errorf("%+v seen from %+v at %g Hz: error %.3g of in-phase, bound %g", m, at, f, d, tol)
	}
}

// On axis of a piston, near and far: |p| = 2ρcu|sin(k/2(√(z²+a²)−z))| (Kinsler et
// al. 2000, eq. 7.4.5); here s = 1 Pa·m stands for ρcu·ka²/2.
func TestPistonOnAxis(t *testing.T) {
	const a, tol = 0.15, 1e-5
	e := mustNew(t, oneMouth(Mouth{Kind: Circle, Diameter: 2 * a}), Options{Boundary: Baffled, Tolerance: tol})
	for _, r := range reftable.Read(t, "piston_onaxis") {
		ka, z := r.Get("ka"), r.Get("z_over_a")*a
		f := ka / a * e.SoundSpeed() / (2 * math.Pi)
		got := mustSum(t, e, []Vec{{X: z}}, []float64{f})[0][0]
		got *= complex(0, ka*a/2) // volume velocity in phase with u
		want := complex(r.Get("re_p"), r.Get("im_p"))
		inPhase := ka * (math.Hypot(1, z/a) - z/a) // mean of 1/r over the disc
		if d := cmplx.Abs(got - want); d > tol*inPhase {
			t.Errorf("%s: %v, want %v (error %.2g of in-phase)", r.Name, got, want, d/inPhase)
		}
	}
}

// Curved fronts on axis and at a distance, against the one-dimensional integral.
func TestCurvedFrontNearField(t *testing.T) {
	const h, tol = 0.25, 1e-5
	for _, r := range reftable.Read(t, "curve_near") {
		m := Mouth{Kind: Rectangle, Height: h}
		if theta := r.Get("theta_deg") * math.Pi / 180; theta > 0 {
			m.VerticalApex = h / 2 / math.Tan(theta/2)
		}
		e := mustNew(t, oneMouth(m), Options{Tolerance: tol})
		f := r.Get("h_over_lambda") / h * e.SoundSpeed()
		got := cmplx.Abs(mustSum(t, e, []Vec{{X: r.Get("r_over_h") * h}}, []float64{f})[0][0]) * h
		// absP in the table is the integral over z/h … scaled by 1/h.
		inPhase := 2 * math.Asinh(0.5/r.Get("r_over_h"))
		reftable.Within(t, r.Name, got, r.Get("absP"), tol*inPhase)
	}
}
