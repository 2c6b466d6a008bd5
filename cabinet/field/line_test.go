package field

import (
	"context"
	"math"
	"math/cmplx"
	"testing"

	"gapline/internal/numeric"
	"gapline/internal/reftable"
)

// lineOf is n boxes of one mouth each at the pitch, hung clear.
func lineOf(n int, pitch float64, m Mouth) Stack {
	box := Box{Height: pitch, Width: 20, Depth: 0.1, Mouths: []Mouth{m}}
	return Stack{Boxes: Repeat(box, n), Drives: []Drive{{}}, TopHeight: math.NaN()}
}

// sameWave returns the frequency at which the engine's k equals that of the
// table, which keeps c = 343 m/s.
func sameWave(e *Engine, r reftable.Row) float64 {
	return r.Get("f_Hz") * e.SoundSpeed() / r.Get("c_m_s")
}

func mustPolar(t testing.TB, e *Engine, s PolarSpec) *Polar {
	t.Helper()
	s.Axis = math.NaN()
	p, err := e.Polar(context.Background(), s)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func rad(deg float64) float64 { return deg * math.Pi / 180 }

func TestDiscreteLineAtADistance(t *testing.T) {
	for _, r := range reftable.Read(t, "line_discrete_pressure") {
		n := int(r.Get("N"))
		e := mustNew(t, lineOf(n, r.Get("pitch_m"), Mouth{}), Options{})
		p := mustSum(t, e, []Vec{{X: r.Get("d_m")}}, []float64{sameWave(e, r)})[0][0] / complex(float64(n), 0)
		want := complex(r.Get("re_S"), r.Get("im_S"))
		if d := cmplx.Abs(p - want); d > 1e-7/r.Get("d_m") {
			t.Errorf("%s: %v, want %v", r.Name, p, want)
		}
		reftable.Within(t, r.Name+" level", numeric.DB(cmplx.Abs(p)), r.Get("level_dB"), 1e-6)
	}
}

func TestArrayFactor(t *testing.T) {
	for _, r := range reftable.Read(t, "line_af") {
		n := int(r.Get("N"))
		e := mustNew(t, lineOf(n, r.Get("pitch_m"), Mouth{}), Options{})
		p := mustPolar(t, e, PolarSpec{Angle: []float64{rad(r.Get("theta_deg"))},
			Frequency: []float64{sameWave(e, r)}, Distance: math.Inf(1)})
		got := cmplx.Abs(p.Pressure[0][0]) / float64(n)
		reftable.Within(t, r.Name, got, r.Get("AF"), 1e-8)
	}
	for _, r := range reftable.Read(t, "line_af_element") {
		n, dim := int(r.Get("N")), r.Get("dim_m")
		m := Mouth{Kind: Circle, Diameter: 2 * dim}
		if r.Text("element") == "rect" {
			m = Mouth{Kind: Rectangle, Height: dim}
		}
		e := mustNew(t, lineOf(n, r.Get("pitch_m"), m), Options{})
		p := mustPolar(t, e, PolarSpec{Angle: []float64{rad(r.Get("theta_deg"))},
			Frequency: []float64{sameWave(e, r)}, Distance: math.Inf(1)})
		reftable.Within(t, r.Name, cmplx.Abs(p.Pressure[0][0])/float64(n), r.Get("D"), 3e-7)
	}
}

// lobe returns the level and the angle in degrees of the largest lobe between
// two angles.
func lobe(t testing.TB, e *Engine, f, from, to float64) (level, deg float64) {
	at := Angles(4001, 1)
	for i := range at {
		at[i] = from + (to-from)*(at[i]+0.5)
	}
	row := mustPolar(t, e, PolarSpec{Angle: at, Frequency: []float64{f}, Distance: math.Inf(1)}).Normalised[0]
	best := 0
	for i := range row {
		if row[i] > row[best] {
			best = i
		}
	}
	step := at[1] - at[0]
	deg = numeric.Minimum(func(a float64) float64 {
		return -mustPolar(t, e, PolarSpec{Angle: []float64{a}, Frequency: []float64{f}, Distance: math.Inf(1)}).Normalised[0][0]
	}, max(from, at[best]-step), min(to, at[best]+step), 1e-7)
	p := mustPolar(t, e, PolarSpec{Angle: []float64{deg}, Frequency: []float64{f}, Distance: math.Inf(1)})
	return p.Normalised[0][0], deg * 180 / math.Pi
}

// Lobe levels and angles of gapped lines of strips and of round pistons.
func TestLobesOfGappedLines(t *testing.T) {
	const pitch = 0.25
	check := func(table string, every int, mouth func(r reftable.Row) Mouth) {
		for i, r := range reftable.Read(t, table) {
			if i%every != 0 || math.IsNaN(r.Get("grating1_dB")) {
				continue
			}
			n := r.Get("N")
			e := mustNew(t, lineOf(int(n), pitch, mouth(r)), Options{})
			q := r.Get("p_over_lambda")
			from := math.Asin((1 - 1/n) / q)
			to := math.Asin(min(1, (1+1/n)/q))
			level, deg := lobe(t, e, q*e.SoundSpeed()/pitch, from, to)
			reftable.Within(t, r.Name+" level", level, r.Get("grating1_dB"), 1e-3)
			reftable.Within(t, r.Name+" angle", deg, r.Get("grating1_deg"), 2e-2)
		}
	}
	check("line_lobes_strip", 5, func(r reftable.Row) Mouth {
		return Mouth{Kind: Rectangle, Height: r.Get("ARF") * pitch}
	})
	check("line_lobes_circle", 5, func(r reftable.Row) Mouth {
		return Mouth{Kind: Circle, Diameter: r.Get("diam_over_p") * pitch}
	})
}

// Pattern and on-axis loss of one curved front ("plane": exact phase on a flat
// aperture), and first and second lobe of an endless line of them.
func TestCurvedFrontPatterns(t *testing.T) {
	const h = 0.25
	front := func(theta float64) Mouth {
		m := Mouth{Kind: Rectangle, Height: h}
		if theta > 0 {
			m.VerticalApex = h / 2 / math.Tan(rad(theta)/2)
		}
		return m
	}
	const tol = 1e-5
	for _, r := range reftable.Read(t, "curve_pattern") {
		e := mustNew(t, oneMouth(front(r.Get("theta_deg"))), Options{Tolerance: tol})
		p := mustPolar(t, e, PolarSpec{Angle: []float64{rad(r.Get("angle_deg"))}, Distance: math.Inf(1),
			Frequency: []float64{r.Get("h_over_lambda") * e.SoundSpeed() / h}})
		want := r.Get("plane_dB")
		// An error of tol of the in-phase level, which the axis may fall short of.
		slack := 20 * math.Log10E * 4 * tol / numeric.FromDB(want)
		reftable.Within(t, r.Name, p.Normalised[0][0], want, slack)
	}
	for _, r := range reftable.Read(t, "curve_drop") {
		e := mustNew(t, oneMouth(front(r.Get("theta_deg"))), Options{Tolerance: tol})
		p := mustPolar(t, e, PolarSpec{Angle: []float64{0}, Distance: math.Inf(1),
			Frequency: []float64{r.Get("h_over_lambda") * e.SoundSpeed() / h}})
		reftable.Within(t, r.Name, p.OnAxis[0], r.Get("drop_plane_dB"), 1e-3)
		factor := front(r.Get("theta_deg")).AxisFactor(p.Frequency[0], e.SoundSpeed())
		reftable.Within(t, r.Name+" factor", numeric.DB(cmplx.Abs(factor)), r.Get("drop_plane_dB"), 1e-6)
	}
	for _, r := range reftable.Read(t, "curve_array_exact") {
		e := mustNew(t, oneMouth(front(r.Get("theta_deg"))), Options{Tolerance: tol})
		for m, column := range []string{"m1_exact_dB", "m2_exact_dB"} {
			sin := float64(m+1) / r.Get("p_over_lambda")
			if sin > 1 {
				continue
			}
			p := mustPolar(t, e, PolarSpec{Angle: []float64{math.Asin(sin)}, Distance: math.Inf(1),
				Frequency: []float64{r.Get("h_over_lambda") * e.SoundSpeed() / h}})
			reftable.Within(t, r.Name+" "+column, p.Normalised[0][0], r.Get(column), 2e-3)
		}
	}
}

// A line of touching strips is the continuous line: the exact integral opposite
// the middle and opposite the end, ripple included, to 0.05 dB.
func TestContinuousLineAgainstExactIntegral(t *testing.T) {
	const length, n = 4.0, 16
	e := mustNew(t, lineOf(n, length/n, Mouth{Kind: Rectangle, Height: length / n}), Options{Tolerance: 1e-4})
	for _, r := range reftable.Read(t, "line_pressure") {
		f := r.Get("kL") / length * e.SoundSpeed() / (2 * math.Pi)
		d := r.Get("d_over_L") * length
		p := mustSum(t, e, []Vec{{X: d}, {X: d, Z: length / 2}}, []float64{f})[0]
		level := numeric.DB(cmplx.Abs(p[0]) * d / n)
		reftable.Within(t, r.Name+" middle", level, r.Get("level_re_far_dB"), 0.05)
		level = numeric.DB(cmplx.Abs(p[1]) * d / n)
		reftable.Within(t, r.Name+" end", level, r.Get("end_re_far_dB"), 0.05)
	}
}

// Directivity of one piston in a wall against Q = (ka)²/R1, and of a rectangle.
func TestDirectivityOfPistons(t *testing.T) {
	const a = 0.1
	for _, r := range reftable.Read(t, "piston_di") {
		e := mustNew(t, oneMouth(Mouth{Kind: Circle, Diameter: 2 * a}), Options{Boundary: Baffled})
		f := r.Get("ka") / a * e.SoundSpeed() / (2 * math.Pi)
		d, err := e.DirectivityIndex(context.Background(), []float64{f})
		if err != nil {
			t.Fatal(err)
		}
		reftable.Within(t, r.Name, d.Index[0], r.Get("DI_full_dB"), 1e-5)
	}
	for _, r := range reftable.Read(t, "rect_impedance") {
		side := 0.1
		w, h := side/math.Sqrt(r.Get("aspect")), side*math.Sqrt(r.Get("aspect"))
		e := mustNew(t, oneMouth(Mouth{Kind: Rectangle, Width: w, Height: h}), Options{Boundary: Baffled})
		f := r.Get("k_sqrtS") / side * e.SoundSpeed() / (2 * math.Pi)
		d, err := e.DirectivityIndex(context.Background(), []float64{f})
		if err != nil {
			t.Fatal(err)
		}
		reftable.Within(t, r.Name, d.Index[0], r.Get("DI_full_dB"), 1e-5)
	}
}

// What would take more directions than there is room for is not known, and spoils nothing
// else.
func TestDirectivityBeyondItsBounds(t *testing.T) {
	e := mustNew(t, lineOf(100, 1.2, Mouth{}), Options{})
	d, err := e.DirectivityIndex(context.Background(), []float64{16e3, 100})
	if err != nil {
		t.Fatal(err)
	}
	// A line of N points far closer than a wavelength and far longer than one: Q = 2L/λ.
	reftable.Within(t, "100 Hz", d.Index[1], 10*math.Log10(2*120*100/e.SoundSpeed()), 0.1)
	if !math.IsNaN(d.Index[0]) || !math.IsNaN(d.Factor[0]) {
		t.Errorf("16 kHz: %v dB, want none", d.Index[0])
	}
}

// Omni points in a line: Q = N/(1 + 2/N Σ (N−n) sinc(2np/λ)), L. E. Kinsler et
// al., Fundamentals of Acoustics, 4th ed. 2000 (from memory); N at p = λ/2.
func TestDirectivityOfPoints(t *testing.T) {
	const pitch = 0.25
	for _, n := range []int{2, 5, 12} {
		e := mustNew(t, lineOf(n, pitch, Mouth{}), Options{})
		for _, q := range []float64{0.1, 0.5, 0.8, 1.3} {
			d, err := e.DirectivityIndex(context.Background(), []float64{q * e.SoundSpeed() / pitch})
			if err != nil {
				t.Fatal(err)
			}
			sum := 1.0
			for m := 1; m < n; m++ {
				sum += 2 / float64(n) * float64(n-m) * numeric.Sinc(2*math.Pi*float64(m)*q)
			}
			reftable.Near(t, "Q", d.Factor[0], float64(n)/sum, 1e-6)
		}
	}
}
