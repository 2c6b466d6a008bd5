package waveguide

import (
	"math"
	"math/cmplx"
	"strings"
	"testing"

	"gapline/internal/air"
	"gapline/internal/optional"
	"gapline/internal/reftable"

	"pgregory.net/rapid"
)

func circle(r float64) float64 { return math.Pi * r * r }

func must[T any](t testing.TB) func(T, error) T {
	return func(v T, err error) T {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
}

// Closed forms (exponential, conical) and a high-order ODE solution (tractrix,
// about 1e-10) of Webster's equation with the piston's mouth impedance.
func TestThroatImpedanceAgainstTable(t *testing.T) {
	for _, r := range reftable.Read(t, "horn_throat_impedance") {
		st, sm, l, c := circle(r.Get("a1_m")), circle(r.Get("a2_m")), r.Get("l_m"), r.Get("c_m_s")
		var p AreaLaw
		tol := 2e-11 // the table prints 12 digits
		switch r.Text("type") {
		case "exponential":
			p = must[Hyperbolic](t)(NewExponential(st, sm, l))
		case "conical":
			p = must[Conical](t)(NewConical(st, sm, l))
		case "tractrix":
			p = must[Tractrix](t)(NewTractrix(st, sm))
			reftable.Near(t, r.Name+" length", p.Length(), l, 1e-11)
			tol = 1e-9
		}
		if p.Cutoff(c) > 0 {
			reftable.Near(t, r.Name+" cutoff", p.Cutoff(c), r.Get("fc_Hz"), 1e-11)
		}
		got, err := Load(p, RoundMouth, c, []float64{r.Get("f_Hz")}, 1e-9)
		if err != nil {
			t.Fatal(err)
		}
		want := complex(r.Get("R"), r.Get("X"))
		if e := cmplx.Abs(got.Impedance[0]-want) / cmplx.Abs(want); e > tol {
			t.Errorf("%s: %v, want %v (relative error %.2g)", r.Name, got.Impedance[0], want, e)
		}
		z := RoundMouth(2*math.Pi*r.Get("f_Hz")/c, sm)
		reftable.Near(t, r.Name+" R mouth", real(z), r.Get("R_mouth"), 1e-10)
	}
}

func TestCutoffAgainstTable(t *testing.T) {
	for _, r := range reftable.Read(t, "horn_cutoff") {
		p := must[Hyperbolic](t)(NewExponential(r.Get("St_m2"), r.Get("Sm_m2"), r.Get("l_m")))
		reftable.Near(t, r.Name+" m", p.FlareConstant(), r.Get("m_per_m"), 1e-11)
		reftable.Near(t, r.Name+" fc", p.Cutoff(r.Get("c_m_s")), r.Get("fc_Hz"), 1e-11)
	}
}

func TestInfiniteHornsAgainstTable(t *testing.T) {
	for _, r := range reftable.Read(t, "horn_infinite") {
		var p AreaLaw
		k := r.Get("arg")
		if r.Text("type") == "exponential" {
			e := must[Hyperbolic](t)(NewExponential(1, 2, 0.5))
			p, k = e, k*e.FlareConstant()/2 // k at f/f_c
		} else {
			p = must[Conical](t)(NewConical(1, 4, 1)) // apex 1 m behind the throat
		}
		z, ok := InfiniteThroat(p, k)
		if !ok {
			t.Fatal("not continued")
		}
		reftable.Within(t, r.Name+" R", real(z), r.Get("R"), 2e-12*math.Max(1, cmplx.Abs(z)))
		reftable.Near(t, r.Name+" X", imag(z), r.Get("X"), 2e-11)
	}
	if _, ok := InfiniteThroat(must[Tractrix](t)(NewTractrix(1, 2)), 1); ok {
		t.Error("an infinite tractrix")
	}
}

// Salmon 1946: throat resistance and reactance of the infinite hyperbolic horn,
// R = √(1-μ⁻²)/(1-(1-T²)μ⁻²), X = Tμ⁻¹/(1-(1-T²)μ⁻²), μ = f/f_c (from memory).
func TestInfiniteHyperbolicAgainstSalmon(t *testing.T) {
	for _, family := range []float64{0, 0.5, 0.7, 1, 2} {
		p := must[Hyperbolic](t)(NewHyperbolic(1e-3, 2e-2, 0.4, family))
		for _, mu := range []float64{1.1, 1.5, 3, 10} {
			z, _ := InfiniteThroat(p, mu/p.x0)
			d := 1 - (1-family*family)/(mu*mu)
			reftable.Near(t, "R", real(z), math.Sqrt(1-1/(mu*mu))/d, 1e-12)
			reftable.Within(t, "X", imag(z), family/mu/d, 1e-12)
		}
	}
}

// A horn cut anywhere and ended by the impedance of its own infinite
// continuation is the infinite horn.
func TestFiniteHornEndedByItsContinuation(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		family := rapid.Float64Range(0, 3).Draw(t, "T")
		p, err := NewHyperbolic(1e-3, 1e-3*rapid.Float64Range(1.5, 50).Draw(t, "ratio"), 0.3, family)
		if err != nil {
			t.Fatal(err)
		}
		k := rapid.Float64Range(0.2, 5).Draw(t, "k x0") / p.x0
		beta := cmplx.Sqrt(complex(k*k-1/(p.x0*p.x0), 0))
		if real(beta) == 0 {
			beta = -beta
		}
		load := func(k, _ float64) complex128 {
			return complex(0, k) / (complex(0, 1)*beta + complex(p.slope(0.3)/p.radius(0.3), 0))
		}
		z, err := ThroatImpedance(p, load, 2*math.Pi, []float64{k}, 7)
		if err != nil {
			t.Fatal(err)
		}
		want, _ := InfiniteThroat(p, k)
		// By the reflection at the throat, which stays finite where the
		// impedance of a catenoid has its pole, at cutoff.
		reflection := func(z complex128) complex128 { return (z - 1) / (z + 1) }
		if cmplx.Abs(reflection(z[0])-reflection(want)) > 1e-9 {
			t.Fatalf("z = %v, want %v", z[0], want)
		}
	})
}

// A pipe: z = (z_L + j tan kl)/(1 + j z_L tan kl), the transmission-line formula.
func TestPipe(t *testing.T) {
	p := must[Conical](t)(NewConical(0.01, 0.01, 0.7))
	for _, f := range []float64{50, 123, 999, 5000} {
		k := 2 * math.Pi * f / c343
		zl := RoundMouth(k, 0.01)
		tan := complex(0, math.Tan(k*0.7))
		want := (zl + tan) / (1 + zl*tan)
		z := must[[]complex128](t)(ThroatImpedance(p, RoundMouth, c343, []float64{f}, 10))
		if cmplx.Abs(z[0]-want) > 1e-10*cmplx.Abs(want) {
			t.Errorf("%g Hz: %v, want %v", f, z[0], want)
		}
	}
}

// Frusta converge with the square of their length (midpoint-like rule), which the
// Richardson step in Load relies on.
func TestFrustaConvergeToSecondOrder(t *testing.T) {
	p := must[Tractrix](t)(NewTractrix(circle(0.0125), circle(0.12)))
	f := []float64{800, 2500}
	ref, err := Load(p, RoundMouth, c343, f, 1e-10)
	if err != nil {
		t.Fatal(err)
	}
	errAt := func(n int) float64 {
		z := must[[]complex128](t)(ThroatImpedance(p, RoundMouth, c343, f, n))
		return math.Max(cmplx.Abs(z[0]-ref.Impedance[0]), cmplx.Abs(z[1]-ref.Impedance[1]))
	}
	if order := math.Log2(errAt(64) / errAt(128)); math.Abs(order-2) > 0.05 {
		t.Errorf("observed order %.3f, want 2", order)
	}
}

// A list of points on an exponential horn must come near the horn, with an error
// of the size that ListError says.
func TestAreaListOfAnExponential(t *testing.T) {
	e := must[Hyperbolic](t)(NewExponential(5e-4, 0.05, 0.3))
	var pts []AreaPoint
	for i := range 61 {
		x := 0.3 * float64(i) / 60
		pts = append(pts, AreaPoint{x, e.Area(x)})
	}
	l := must[AreaList](t)(NewAreaList(pts))
	f := []float64{500, 1000, 3000}
	want := must[[]complex128](t)(ThroatImpedance(e, RoundMouth, c343, f, 1))
	got := must[[]complex128](t)(ThroatImpedance(l, RoundMouth, c343, f, 1))
	bound := must[float64](t)(ListError(l, RoundMouth, c343, f))
	worst := 0.0
	for i := range f {
		worst = math.Max(worst, cmplx.Abs(got[i]-want[i])/cmplx.Abs(want[i]))
	}
	if !(worst < bound) || !(worst > bound/6) || bound > 0.01 {
		t.Errorf("error %.3g, estimate %.3g", worst, bound/3)
	}
	reftable.Near(t, "area", l.Area(0.1234), e.Area(0.1234), 1e-3)
	reftable.Near(t, "mouth", l.Area(0.3), 0.05, 1e-12)
}

// Areas must agree with the profile's own equations.
func TestAreas(t *testing.T) {
	h := must[Hyperbolic](t)(NewExponential(5e-4, 0.05, 0.3))
	reftable.Near(t, "exponential at half length", h.Area(0.15), math.Sqrt(5e-4*0.05), 1e-12)
	reftable.Near(t, "exponential mouth", h.Area(0.3), 0.05, 1e-12)
	c := must[Conical](t)(NewConical(1e-4, 9e-4, 0.3))
	reftable.Near(t, "cone at half length", c.Area(0.15), 4e-4, 1e-12)
	// The tractrix: wall slope dr/dx = r/√(a²-r²).
	x := must[Tractrix](t)(NewTractrix(circle(0.02), circle(0.15)))
	r := func(z float64) float64 { return math.Sqrt(x.Area(z) / math.Pi) }
	z := 0.6 * x.Length()
	slope := (r(z+1e-5) - r(z-1e-5)) / 2e-5
	reftable.Near(t, "tractrix slope", slope, r(z)/math.Sqrt(0.15*0.15-r(z)*r(z)), 1e-7)
	reftable.Near(t, "tractrix throat", x.Area(0), circle(0.02), 1e-12)
	reftable.Near(t, "tractrix mouth", x.Area(x.Length()), circle(0.15), 1e-12)
}

// A rectangular mouth of 10:1 loads differently from the round one; of 1:1 nearly
// alike (NOTES section 2).
func TestRectangularMouthMatters(t *testing.T) {
	h := must[Hyperbolic](t)(NewExponential(5e-4, 0.03, 0.3))
	f := []float64{900}
	square, err := RectangularMouth(1)
	if err != nil {
		t.Fatal(err)
	}
	slot, err := RectangularMouth(10)
	if err != nil {
		t.Fatal(err)
	}
	z := must[[]complex128](t)(ThroatImpedance(h, RoundMouth, c343, f, 1))[0]
	zs := must[[]complex128](t)(ThroatImpedance(h, square, c343, f, 1))[0]
	zr := must[[]complex128](t)(ThroatImpedance(h, slot, c343, f, 1))[0]
	if d := cmplx.Abs(zs-z) / cmplx.Abs(z); d > 0.03 {
		t.Errorf("square against round: %.3g", d)
	}
	if d := cmplx.Abs(zr-z) / cmplx.Abs(z); d < 0.1 {
		t.Errorf("slot against round: %.3g", d)
	}
	if _, err := RectangularMouth(0); err == nil {
		t.Error("aspect 0 gave no error")
	}
}

func TestRipple(t *testing.T) {
	l := Loading{Frequency: []float64{1, 2, 3, 4}, Impedance: []complex128{9, 1, 2, 1.5}}
	reftable.Near(t, "ripple", l.Ripple(2, 4), 10*math.Log10(2), 1e-14)
	if !math.IsNaN(l.Ripple(2.5, 3.5)) {
		t.Error("one frequency is no band")
	}
}

func TestProfileErrors(t *testing.T) {
	err2 := func(_ any, err error) error { return err }
	bad := map[string]error{
		"narrows":           err2(NewConical(0.02, 0.01, 0.3)),
		"narrows from":      err2(NewTractrix(0.02, 0.01)),
		"must be more than": err2(NewExponential(0, 0.01, 0.3)),
		"larger mouth":      err2(NewExponential(0.01, 0.01, 0.3)),
		"horn length":       err2(NewConical(0.01, 0.02, -0.3)),
		"family parameter":  err2(NewHyperbolic(0.01, 0.02, 0.3, -1)),
		"at least 2":        err2(NewAreaList([]AreaPoint{{0, 1}})),
		"must rise":         err2(NewAreaList([]AreaPoint{{0, 1}, {1, 2}, {0.5, 3}})),
		"it must widen":     err2(NewAreaList([]AreaPoint{{0, 1}, {1, 2}, {2, 1.5}})),
		"both finite":       err2(NewAreaList([]AreaPoint{{0, 1}, {1, -2}})),
	}
	for want, err := range bad {
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("error %v, want one with %q", err, want)
		}
	}
	p := must[Conical](t)(NewConical(0.01, 0.02, 0.3))
	for _, err := range []error{
		err2(ThroatImpedance(p, RoundMouth, c343, []float64{0}, 1)),
		err2(ThroatImpedance(p, RoundMouth, c343, []float64{1}, 0)),
		err2(ThroatImpedance(p, RoundMouth, 0, []float64{1}, 1)),
	} {
		if err == nil {
			t.Error("bad input gave no error")
		}
	}
}

// invented data, of the size of a small compression driver
func sampleDriver() CompressionDriver {
	return CompressionDriver{Re: optional.Of(6), Le: optional.Of(5e-5), Bl: optional.Of(9), Mms: optional.Of(1.2e-3), Fs: optional.Of(600), Qms: optional.Of(3),
		Sd: optional.Of(15e-4), FrontVolume: optional.Of(4e-7), RearVolume: optional.Of(5e-5)}
}

// Energy: what the amplifier gives is heat in the coil, loss in the suspension
// and sound. The three come from different quantities of the circuit.
func TestCompressionDriverEnergyBalance(t *testing.T) {
	medium := air.Of(air.Standard)
	d := sampleDriver()
	f := []float64{300, 600, 1000, 3000, 12000}
	z := []complex128{0.2 + 0.5i, 0.5 + 0.4i, 0.9 + 0.3i, 1 + 0.1i, 1}
	out := must[[]Drive](t)(d.On(f, z, 5e-4, 2.83, medium))
	for i, o := range out {
		current := 2.83 / cmplx.Abs(o.Impedance)
		velocity := o.Excursion * 2 * math.Pi * f[i] / math.Sqrt2
		heat := current * current * d.Re.Value()
		friction := velocity * velocity * 2 * math.Pi * d.Fs.Value() * d.Mms.Value() / d.Qms.Value()
		reftable.Near(t, "power", heat+friction+o.Power, current*current*real(o.Impedance), 1e-12)
		reftable.Near(t, "efficiency", o.Efficiency, o.Power/(current*current*real(o.Impedance)), 1e-12)
	}
}

// With no mass, stiffness or chambers to speak of, efficiency is that of a
// resistance Bl²/(S_d² ρc/S_t) against Re.
func TestCompressionDriverIdealEfficiency(t *testing.T) {
	d := CompressionDriver{Re: optional.Of(6), Bl: optional.Of(9), Mms: optional.Of(1e-12), Fs: optional.Of(1), Sd: optional.Of(15e-4)}
	medium := air.Of(air.Standard)
	out := must[[]Drive](t)(d.On([]float64{1000}, []complex128{1}, 5e-4, 1, medium))
	motional := 81 / (15e-4 * 15e-4 * medium.Impedance() / 5e-4)
	reftable.Near(t, "efficiency", out[0].Efficiency, motional/(6+motional), 1e-6)
	d.Bl = optional.Float{}
	if _, err := d.On(nil, nil, 1, 1, medium); err == nil || !strings.Contains(err.Error(), "Bl") {
		t.Errorf("missing Bl: %v", err)
	}
}

// A matched throat takes all the power, a closed or open one none.
func TestTubeTransmission(t *testing.T) {
	reftable.Within(t, "matched", TubeTransmission(1), 1, 1e-15)
	reftable.Within(t, "mass", TubeTransmission(3i), 0, 1e-15)
	z := 0.4 + 0.7i
	g := (z - 1) / (z + 1)
	reftable.Near(t, "reflection", TubeTransmission(z), 1-real(g)*real(g)-imag(g)*imag(g), 1e-14)
}

func BenchmarkThousandByThousand(b *testing.B) {
	p := must[Tractrix](b)(NewTractrix(circle(0.0125), circle(0.12)))
	f := make([]float64, 1000)
	for i := range f {
		f[i] = 100 * math.Pow(160, float64(i)/999)
	}
	slot := must[MouthLoad](b)(RectangularMouth(4))
	for b.Loop() {
		if _, err := ThroatImpedance(p, slot, c343, f, 1000); err != nil {
			b.Fatal(err)
		}
	}
}
