package bem3

import (
	"context"
	"math"
	"math/cmplx"
	"testing"

	"gapline/internal/reftable"
	"gapline/internal/trimesh"
)

// planes are the mirror planes through the origin across the first axes.
func planes(n int) []Mirror { return []Mirror{{Axis: 0}, {Axis: 1}, {Axis: 2}}[:n] }

// tableError solves for each ka of a table's rows and returns the error of the
// pressures, root mean square over that of the table, by ka. Problems have unit
// radius; pressures are over ρc·velocity when scale is ρc.
func tableError(t *testing.T, rows []reftable.Row, re, im string, solve func(ka float64) *Solution, at func(s *Solution, r reftable.Row) complex128) map[float64]float64 {
	t.Helper()
	solutions := map[float64]*Solution{}
	got, want := map[float64][]complex128{}, map[float64][]complex128{}
	for _, r := range rows {
		ka := r.Get("ka")
		if solutions[ka] == nil {
			solutions[ka] = solve(ka)
		}
		got[ka] = append(got[ka], at(solutions[ka], r))
		want[ka] = append(want[ka], complex(r.Get(re), r.Get(im)))
	}
	e := map[float64]float64{}
	for ka := range got {
		e[ka] = relative(got[ka], want[ka])
	}
	return e
}

// fieldAt returns one drive's pressure at x.
func fieldAt(t testing.TB, s *Solution, x Vec) complex128 {
	t.Helper()
	p, err := s.At(context.Background(), []Vec{x})
	if err != nil {
		t.Fatal(err)
	}
	return p[0][0]
}

// A sphere of flat triangles has errors of the order (h/a)² from its shape
// alone. On the surface the mean pressure is compared, or the force that cos θ
// stands for: a single point of a facet lies up to h²/8 off the sphere. Halving h
// must quarter the error (order above 1.7), and the finer mesh must stay within
// 0.5 %, at the resonances ka = π and 4.4934 of the inside too: the tables have
// both.
func TestPulsatingSphere(t *testing.T) {
	heavy(t)
	m := func(n int) *trimesh.Mesh { return sphereMesh(1, n, 0) }
	velocity := func(Vec) complex128 { return 1 }
	sphereOrder(t, "sphere_pulsating", m, velocity, func(s *Solution, r reftable.Row) complex128 {
		if a := r.Get("r_over_a"); a != 1 {
			return fieldAt(t, s, scaled(polar(37), a)) / (testRho * testC)
		}
		return s.Mean(0, evenly(s)) / (testRho * testC)
	})
}

func TestOscillatingSphere(t *testing.T) {
	heavy(t)
	m := func(n int) *trimesh.Mesh { return sphereMesh(1, n, 0, 4) }
	velocity := func(x Vec) complex128 { return complex(x[2]/norm(x), 0) }
	sphereOrder(t, "sphere_oscillating", m, velocity, func(s *Solution, r reftable.Row) complex128 {
		u := polar(r.Get("theta_deg"))
		if a := r.Get("r_over_a"); a != 1 {
			return fieldAt(t, s, scaled(u, a)) / (testRho * testC)
		}
		weights := evenly(s)
		for i := range weights {
			weights[i] = s.system.problem.Mesh.Normal(i)[2]
		}
		// The integral of cos² over a quarter of the sphere is π/3.
		return s.Force(0, weights) / (testRho * testC) * complex(u[2]*3/math.Pi, 0)
	})
}

// evenly returns weights of one.
func evenly(s *Solution) []float64 {
	w := make([]float64, len(s.system.problem.Mesh.Triangles))
	for i := range w {
		w[i] = 1
	}
	return w
}

func sphereOrder(t *testing.T, table string, mesh func(n int) *trimesh.Mesh, velocity func(Vec) complex128, at func(s *Solution, r reftable.Row) complex128) {
	var errs [2]map[float64]float64
	rows := reftable.Read(t, table)
	for i, n := range []int{6, 12} {
		m := mesh(n)
		mirrors := 3
		if len(m.Triangles) > n*n {
			mirrors = 2
		}
		p := problemOf(m, [][]complex128{nodalVelocity(m, velocity)}, planes(mirrors)...)
		errs[i] = tableError(t, rows, "re_p", "im_p", solveAgain(t, p).at, at)
	}
	for ka, fine := range errs[1] {
		order := math.Log2(errs[0][ka] / fine)
		t.Logf("ka = %.5g: errors %.2g and %.2g, order %.2g", ka, errs[0][ka], fine, order)
		if !(fine < 0.005) || !(order > 1.7) {
			t.Errorf("ka = %g: error %.2g, order %.2g", ka, fine, order)
		}
	}
}

// scattering returns a solver for the rigid sphere in the field of sources, which
// may depend on the wavenumber: it moves so as to cancel the incident velocity.
func scattering(t *testing.T, sources func(k float64) source) func(k float64) *Solution {
	m := sphereMesh(1, 12, 0, 4)
	p := problemOf(m, make([][]complex128, 1), planes(2)...)
	move := func(k float64) {
		p.Velocities[0] = imposed(m, k, sources(k))
		for i := range p.Velocities[0] {
			p.Velocities[0][i] *= -1
		}
	}
	move(1)
	solver := solveAgain(t, p)
	return func(k float64) *Solution {
		move(k)
		return solver.at(k)
	}
}

// planeWave is so far a source on the z axis that its waves are plane: the curve
// over the sphere is a/2R = 1e-7 of a radius.
func planeWave(k float64) source {
	const far = 5e6
	return source{Vec{0, 0, far}, cmplx.Rect(far, math.Mod(k*far, 2*math.Pi))}
}

// The rigid sphere in a plane wave, on its surface, resonances of the inside
// among the frequencies. At ka = 10 there are four elements to a wavelength.
func TestRigidSphereInPlaneWave(t *testing.T) {
	heavy(t)
	solve := scattering(t, planeWave)
	errs := tableError(t, reftable.Read(t, "sphere_scatter_surface"), "re_p", "im_p", solve, func(s *Solution, r reftable.Row) complex128 {
		u := polar(r.Get("gamma_deg"))
		return along(t, s, 0, u) + cmplx.Rect(1, r.Get("ka")*u[2])
	})
	checkErrors(t, errs, 0.015)
	errs = tableError(t, reftable.Read(t, "sphere_scatter_field"), "re_total", "im_total", solve, func(s *Solution, r reftable.Row) complex128 {
		x := scaled(polar(r.Get("gamma_deg")), r.Get("r_over_a"))
		return fieldAt(t, s, x) + cmplx.Rect(1, r.Get("ka")*x[2])
	})
	checkErrors(t, errs, 0.01)
}

// A point source near a rigid sphere.
func TestPointSourceNearSphere(t *testing.T) {
	heavy(t)
	byDistance := map[float64][]reftable.Row{}
	for _, r := range reftable.Read(t, "sphere_point_source") {
		byDistance[r.Get("r0_over_a")] = append(byDistance[r.Get("r0_over_a")], r)
	}
	for r0, rows := range byDistance {
		solve := scattering(t, func(float64) source { return source{Vec{0, 0, r0}, 1} })
		errs := tableError(t, rows, "re_total", "im_total", solve, func(s *Solution, r reftable.Row) complex128 {
			ka, u := r.Get("ka"), polar(r.Get("gamma_deg"))
			x := scaled(u, r.Get("r_over_a"))
			direct, _ := fieldOf([]source{{Vec{0, 0, r0}, 1}}, ka, x)
			if r.Get("r_over_a") == 1 {
				return along(t, s, 0, u) + direct
			}
			return fieldAt(t, s, x) + direct
		})
		t.Logf("source at %g", r0)
		checkErrors(t, errs, 0.015)
	}
}

func checkErrors(t *testing.T, errs map[float64]float64, most float64) {
	t.Helper()
	for ka, e := range errs {
		t.Logf("ka = %.5g: error %.2g", ka, e)
		if !(e < most) {
			t.Errorf("ka = %g: error %.2g, want below %g", ka, e, most)
		}
	}
}

// capProblem is a sphere whose cap of the given half angle, degree, moves. Rings
// shrink towards the rim of the cap.
func capProblem(variant string, alpha float64) *Problem {
	rim := alpha * math.Pi / 180
	theta := graded(0, rim, 0.12, 1.5)
	theta = append(theta, graded(rim, math.Pi, 0.17, 1.5)[1:]...)
	m := ringMesh(1, theta, 9)
	sameVolume(m, math.Pi/3)
	return problemOf(m, [][]complex128{normalVelocity(m, func(x, n Vec) complex128 {
		if x[2]/norm(x) < math.Cos(rim) {
			return 0
		}
		if variant == "axial" {
			return complex(n[2], 0)
		}
		return 1
	})}, planes(2)...)
}

// A cap in a rigid sphere: surface pressure, radiation impedance and far field.
// The rim, where the pressure goes as r ln r, sets the error.
func TestPolarCap(t *testing.T) {
	heavy(t)
	surface, far := reftable.Read(t, "sphere_cap_surface"), reftable.Read(t, "sphere_cap_far")
	for _, variant := range []string{"radial", "axial"} {
		const alpha = 30
		p := capProblem(variant, alpha)
		rows := pick(surface, variant, alpha)
		solved := map[float64]*Solution{}
		solver := solveAgain(t, p)
		solve := func(ka float64) *Solution {
			if solved[ka] == nil {
				solved[ka] = solver.at(ka)
			}
			return solved[ka]
		}
		checkErrors(t, tableError(t, rows, "re_p", "im_p", solve, func(s *Solution, r reftable.Row) complex128 {
			return along(t, s, 0, polar(r.Get("theta_deg"))) / (testRho * testC)
		}), 0.02)
		weights := make([]float64, len(p.Mesh.Triangles))
		for i, v := range p.Velocities[0] {
			weights[i] = real(v)
		}
		checkErrors(t, tableError(t, rows, "re_zcap", "im_zcap", solve, func(s *Solution, r reftable.Row) complex128 {
			return s.Mean(0, weights) / (testRho * testC)
		}), 0.015)
		checkErrors(t, tableError(t, pick(far, variant, alpha), "re_F", "im_F", solve, func(s *Solution, r reftable.Row) complex128 {
			f, err := s.Far(context.Background(), []Vec{polar(r.Get("theta_deg"))})
			if err != nil {
				t.Fatal(err)
			}
			return f[0][0] * complex(r.Get("ka")/(testRho*testC), 0)
		}), 0.015)
	}
}

// pick returns the rows of one variant and angle up to ka = 5, for which the
// mesh is fine enough.
func pick(rows []reftable.Row, variant string, alpha float64) (list []reftable.Row) {
	for _, r := range rows {
		if r.Text("variant") == variant && r.Get("alpha_deg") == alpha && r.Get("ka") <= 5 {
			list = append(list, r)
		}
	}
	return list
}
