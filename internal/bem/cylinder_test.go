package bem

import (
	"context"
	"fmt"
	"math"
	"math/cmplx"
	"testing"

	"gapline/internal/clinalg"
	"gapline/internal/hankel"
	"gapline/internal/reftable"
)

// sizeRule is what the default element size aims at: the greatest error of the
// pressure on the boundary, of a smooth field, against its root mean square.
const sizeRule = 5e-3

func TestPulsatingCylinder(t *testing.T) {
	// Table of the closed form j H0(kr)/H1(ka), inside resonances included.
	const a = 0.1
	for _, row := range reftable.Read(t, "cylinder_pulsating") {
		ka, rr := row.Get("ka"), row.Get("r_over_a")
		sol := mustSolve(t, exterior(Mirror{}, circle(a, Uniform(1))), frequencyOf(ka/a), Options{})
		want := complex(row.Get("re_p"), row.Get("im_p")) * (testRho * testC)
		got := sol.p[0][0]
		if rr > 1 {
			p, err := sol.At(context.Background(), "air", []Point{{rr * a * math.Cos(1), rr * a * math.Sin(1)}})
			if err != nil {
				t.Fatal(err)
			}
			got = p[0]
		}
		if e := cmplx.Abs(got-want) / cmplx.Abs(want); !(e < sizeRule) {
			t.Errorf("%s: p = %v, want %v (relative error %.2g)", row.Name, got, want, e)
		}
	}
}

func TestPulsatingCylinderFarField(t *testing.T) {
	// The same closed form with H0's leading asymptotic term, DLMF 10.17.6.
	const a = 0.1
	half := []Edge{{Name: "circle", Curve: Arc{Radius: a, Start: -math.Pi / 2, Sweep: math.Pi}, Wall: Uniform(1)}}
	for _, ka := range []float64{0.3, 2, 9} {
		k := ka / a
		want := cmplx.Rect(testRho*testC*math.Sqrt(2/(math.Pi*k)), math.Pi/4) * 1i / complex(math.J1(ka), -math.Y1(ka))
		sol := mustSolve(t, exterior(Mirror{X: true}, half), frequencyOf(k), Options{})
		far, err := sol.Pattern("air", []float64{0, 0.7, math.Pi, -2})
		if err != nil {
			t.Fatal(err)
		}
		for i, f := range far {
			if e := cmplx.Abs(f-want) / cmplx.Abs(want); !(e < sizeRule) {
				t.Errorf("ka = %g, direction %d: F = %v, want %v (relative error %.2g)", ka, i, f, want, e)
			}
		}
	}
}

// plain solves without the combined equation.
func plain(t *testing.T, p *Problem, f float64) *Solution {
	t.Helper()
	pp, err := p.prepare()
	if err != nil {
		t.Fatal(err)
	}
	o := Options{}.withDefaults()
	s := pp.discretise(f, o, newRule(o.Order))
	s.views[0].medium.eta = 0
	a, rhs, err := s.assemble(context.Background(), hankel.NewTable(100))
	if err != nil {
		t.Fatal(err)
	}
	lu, err := clinalg.Factor(context.Background(), a, 1)
	if err != nil {
		t.Fatal(err)
	}
	lu.SolveVec(rhs)
	return s.solution(rhs)
}

// scattered returns the problem of the field scattered by a rigid circle from
// the plane wave e^{jkx}, which comes from the +x direction.
func scattered(a float64, mirror Mirror) *Problem {
	wall := Wall{Velocity: func(f float64, at, n Point) complex128 {
		k := 2 * math.Pi * f / testC
		return -cmplx.Rect(1, k*at.X) * complex(n.X/(testRho*testC), 0)
	}}
	if mirror.Y {
		half := []Edge{{Name: "circle", Curve: Arc{Radius: a, Sweep: math.Pi}, Wall: wall}}
		return exterior(mirror, half)
	}
	return exterior(mirror, circle(a, wall))
}

func TestRigidCylinderScattering(t *testing.T) {
	const a = 0.1
	solved := map[string]*Solution{}
	for _, row := range reftable.Read(t, "cylinder_scatter") {
		ka, rr, gamma := row.Get("ka"), row.Get("r_over_a"), row.Get("gamma_deg")*math.Pi/180
		for _, mirror := range []Mirror{{}, {Y: true}} {
			key := fmt.Sprint(ka, mirror)
			if solved[key] == nil {
				solved[key] = mustSolve(t, scattered(a, mirror), frequencyOf(ka/a), Options{})
			}
			sol := solved[key]
			// Points on the surface are taken just off it: the distance changes
			// the pressure in second order only, dp/dr being zero there.
			r := math.Max(rr, 1+1e-5) * a
			at := Point{r * math.Cos(gamma), r * math.Sin(gamma)}
			p, err := sol.At(context.Background(), "air", []Point{at})
			if err != nil {
				t.Fatal(err)
			}
			got := p[0] + cmplx.Rect(1, ka/a*at.X)
			want := complex(row.Get("re_p"), row.Get("im_p"))
			if e := cmplx.Abs(got - want); !(e < sizeRule) {
				t.Errorf("%s, mirror %v: p = %.6f, want %.6f (error %.2g)", row.Name, mirror, got, want, e)
			}
		}
	}
}

func TestUniqueAtInsideResonances(t *testing.T) {
	// ka at zeros of J0, J1, J2 and of J0', J1', J2' (DLMF table 10.21; digits
	// from memory, checked below with math.Jn): there the inside of the circle
	// resonates with zero pressure or zero velocity on its wall. The solution
	// is compared with that of the series at the first node.
	const a = 0.1
	zeros := []struct {
		ka float64
		n  int
		of string
	}{
		{2.404825557695773, 0, "J"}, {3.831705970207512, 1, "J"}, {5.135622301840683, 2, "J"}, {11.791534439014281, 0, "J"},
		{1.841183781340659, 1, "J'"}, {3.054236928227140, 2, "J'"}, {5.331442773525033, 1, "J'"}, {7.015586669815619, 0, "J'"},
	}
	for _, z := range zeros {
		j := besselJ(z.n+1, z.ka)
		value := j[z.n]
		if z.of == "J'" {
			value = float64(z.n)/z.ka*j[z.n] - j[z.n+1] // DLMF 10.6.2
		}
		if math.Abs(value) > 1e-12 {
			t.Fatalf("%g is not a zero of %s%d", z.ka, z.of, z.n)
		}
		sol := mustSolve(t, scattered(a, Mirror{}), frequencyOf(z.ka/a), Options{})
		if e := seriesError(sol, z.ka, a); e > sizeRule {
			t.Errorf("ka = %g, zero of %s%d: error %.2g", z.ka, z.of, z.n, e)
		}
	}
	// The plain equation does fail at a zero of J: the test can see it.
	worst := seriesError(plain(t, scattered(a, Mirror{}), frequencyOf(24.04825557695773)), 2.404825557695773, a)
	if worst < 2*sizeRule {
		t.Errorf("the plain equation is right to %.2g at a resonance; expected it to fail", worst)
	}
}

// seriesError compares total surface pressure with −(2j/(πka)) Σ εn jⁿ
// cos nγ / Hn⁽²⁾′(ka) (P. M. Morse, K. U. Ingard, Theoretical Acoustics, 1968,
// ch. 8; the form of the reference table).
func seriesError(sol *Solution, ka, a float64) float64 {
	worst := 0.0
	terms := int(ka) + 25
	j := besselJ(terms+1, ka)
	for i := 0; i < len(sol.p[0]); i += 5 {
		x := sol.system.views[0].src.at(i)
		gamma := math.Atan2(x.Y, x.X)
		want := -1 / complex(j[1], -math.Y1(ka)) // H0' = −H1
		power := complex128(1)
		for n := 1; n < terms; n++ {
			power *= 1i
			slope := complex((j[n-1]-j[n+1])/2, -(math.Yn(n-1, ka)-math.Yn(n+1, ka))/2)
			want += 2 * power * complex(math.Cos(float64(n)*gamma), 0) / slope
		}
		want *= complex(0, -2/(math.Pi*ka))
		got := sol.p[0][i] + cmplx.Rect(1, ka/a*x.X)
		worst = math.Max(worst, cmplx.Abs(got-want))
	}
	return worst
}

// besselJ returns J0 to Jn by downward recurrence from a high order and the sum
// rule J0 + 2 ΣJ2m = 1 (Miller's algorithm, DLMF 3.6(iii) and 10.12.4). math.Jn
// divides by J0 and fails at its zeros.
func besselJ(n int, x float64) []float64 {
	top := 2*n + 40
	j := make([]float64, top+2)
	j[top] = 1e-200
	sum := 0.0
	for m := top; m > 0; m-- {
		j[m-1] = 2*float64(m)/x*j[m] - j[m+1]
		if m%2 == 1 {
			sum += 2 * j[m-1]
		}
	}
	sum -= j[0]
	for m := range j {
		j[m] /= sum
	}
	return j[:n+1]
}
