package special

import (
	"math"
	"math/big"
	"testing"

	"gapline/internal/reftable"
)

// relTol is what double precision leaves after a 48-point sum.
const relTol = 1e-12

// struveSeries sums H₁(x) = Σ (−1)^k (x/2)^{2k+2}/(Γ(k+3/2)Γ(k+5/2)) in 400
// bits, the slow independent reference (Abramowitz and Stegun, ch. 12).
// Γ(3/2)Γ(5/2) = 3π/8.
func struveSeries(x float64) float64 {
	const prec = 400
	f := func(v float64) *big.Float { return new(big.Float).SetPrec(prec).SetFloat64(v) }
	q := f(x)
	q.Mul(q, q).Quo(q, f(4))
	term := new(big.Float).SetPrec(prec).Set(q)
	sum := new(big.Float).SetPrec(prec).Set(q)
	for k := 1.0; k < 400; k++ {
		term.Mul(term, q)
		term.Quo(term, f((k+0.5)*(k+1.5)))
		term.Neg(term)
		sum.Add(sum, term)
	}
	v, _ := sum.Float64()
	return v * 8 / (3 * math.Pi)
}

func TestStruveAgainstSeries(t *testing.T) {
	for x := 0.05; x < 90; x += 0.377 {
		got, want := StruveH1(x), struveSeries(x)
		if math.Abs(got-want) > relTol*math.Abs(want) {
			t.Errorf("StruveH1(%g) = %.15g, want %.15g (rel err %.2g)", x, got, want, math.Abs(got/want-1))
		}
		if StruveH1(-x) != got {
			t.Errorf("StruveH1 is not even at %g", x)
		}
	}
}

// Abramowitz and Stegun, Table 12.1 (values from memory; the series above
// confirms them to the printed digits).
func TestStruveAgainstPrintedTable(t *testing.T) {
	for x, want := range map[float64]float64{0.5: 0.0521737, 1: 0.1984573, 2: 0.6467637, 5: 0.8078119} {
		if got := StruveH1(x); math.Abs(got-want) > 0.6e-7 {
			t.Errorf("StruveH1(%g) = %.8f, want %.7f", x, got, want)
		}
	}
}

func TestStruveJoinsAtTheSwitch(t *testing.T) {
	below, above := StruveH1(math.Nextafter(struveSwitch, 0)), StruveH1(struveSwitch)
	if math.Abs(below-above) > 1e-13 {
		t.Errorf("step of %g at x = %d", above-below, struveSwitch)
	}
}

func TestSpecialCases(t *testing.T) {
	if got := StruveH1(math.Inf(1)); got != 2/math.Pi {
		t.Errorf("StruveH1(Inf) = %g, want 2/π", got)
	}
	if StruveH1(0) != 0 || !math.IsNaN(StruveH1(math.NaN())) {
		t.Error("StruveH1(0) must be 0 and StruveH1(NaN) NaN")
	}
	if Jinc(0) != 1 || JincComplement(0) != 0 {
		t.Error("Jinc(0) must be 1")
	}
}

// The half-angles of a baffled piston, whose pattern is 2J₁(x)/x.
func TestJincAgainstPistonAngles(t *testing.T) {
	for _, r := range reftable.Read(t, "piston_angles") {
		ka := r.Get("ka")
		level := func(deg float64) float64 { return 20 * math.Log10(math.Abs(Jinc(ka*math.Sin(deg*math.Pi/180)))) }
		reftable.Within(t, r.Name+" at 90°", level(90), r.Get("level_90deg_dB"), 1e-8)
		if deg := r.Get("theta_m6dB_deg"); !math.IsNaN(deg) {
			reftable.Within(t, r.Name+" −6 dB", level(deg), -6, 1e-8)
		}
	}
}

// Zeros of J₁ and half-pressure point: NIST DLMF table 10.21; 2.2150893677 is
// the root of 2J₁(x)/x = ½ (reference table piston_angles).
func TestJinc(t *testing.T) {
	for _, c := range []struct{ x, want, tol float64 }{
		{3.8317059702075123, 0, 1e-15},
		{7.0155866698156187, 0, 1e-15},
		{2.21508936772, 0.5, 1e-11},
	} {
		if got := Jinc(c.x); math.Abs(got-c.want) > c.tol {
			t.Errorf("Jinc(%g) = %g, want %g", c.x, got, c.want)
		}
	}
	// J₁(½) = 0.2422684577 (Abramowitz and Stegun, table 9.1): below 1 as above.
	if got, want := Jinc(0.5), 0.969073831; math.Abs(got-want) > 1e-9 {
		t.Errorf("Jinc(½) = %.10g, want %.9g", got, want)
	}
	for _, x := range []float64{0.5, 1.5, 2.21508936772, 3.8317059702075123, 40} {
		if got, want := JincComplement(x), 1-Jinc(x); math.Abs(got-want) > 1e-15 {
			t.Errorf("JincComplement(%g) = %g, want %g", x, got, want)
		}
	}
	// The two branches must meet, and the small-x series must follow x²/8.
	if d := JincComplement(1) - JincComplement(math.Nextafter(1, 0)); math.Abs(d) > 1e-15 {
		t.Errorf("step of %g at x = 1", d)
	}
	if got, want := JincComplement(1e-6), 1e-12/8; math.Abs(got/want-1) > 1e-12 {
		t.Errorf("JincComplement(1e-6) = %g, want %g", got, want)
	}
}

func BenchmarkStruveH1(b *testing.B) {
	for b.Loop() {
		StruveH1(3.7)
	}
}
