package filter

import (
	"math"
	"math/cmplx"
	"strings"
	"testing"

	"gapline/internal/wordset"

	"pgregory.net/rapid"
)

func db(r complex128) float64 { return 20 * math.Log10(cmplx.Abs(r)) }

func near(t interface{ Errorf(string, ...any) }, what string, got, want, tol float64) {
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s = %.10g, want %.10g ± %g", what, got, want, tol)
	}
}

func pairs(t testing.TB, check func(a Alignment, order int, low, high Path)) {
	for _, a := range wordset.All[Alignment]() {
		for _, order := range a.Orders() {
			low, high, err := Pair(a, order, 800)
			if err != nil {
				t.Fatal(err)
			}
			check(a, order, low, high)
		}
	}
}

// Butterworth: |H|² = 1/(1 + w^2n), the definition; Linkwitz-Riley: its square
// with half the order.
func TestMagnitudes(t *testing.T) {
	pairs(t, func(a Alignment, order int, low, high Path) {
		for _, w := range []float64{0.01, 0.3, 0.9, 1, 1.7, 12} {
			n := float64(order)
			wantLow := -10 * math.Log10(1+math.Pow(w, 2*n))
			wantHigh := -10 * math.Log10(1+math.Pow(w, -2*n))
			if a == LinkwitzRiley {
				wantLow = -20 * math.Log10(1+math.Pow(w, n))
				wantHigh = -20 * math.Log10(1+math.Pow(w, -n))
			}
			near(t, "low", db(low.Response(800*w)), wantLow, 1e-9)
			near(t, "high", db(high.Response(800*w)), wantHigh, 1e-9)
		}
	})
}

// Linkwitz 1976: the paths add to an all-pass. Butterworth of odd order adds to an
// all-pass, of even order to +3 dB at the corner when in phase there; every
// Butterworth pair keeps the power.
func TestSumsOfPairs(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		f := 800 * math.Exp(rapid.Float64Range(-4, 4).Draw(r, "log f/fc"))
		pairs(t, func(a Alignment, order int, low, high Path) {
			l, h := low.Response(f), high.Response(f)
			switch {
			case a == LinkwitzRiley || order%2 == 1:
				near(r, "all-pass", cmplx.Abs(l+h), 1, 1e-9)
			default:
				near(r, "power", real(l*cmplx.Conj(l)+h*cmplx.Conj(h)), 1, 1e-9)
			}
		})
	})
	low, high, _ := Pair(Butterworth, 4, 800)
	near(t, "at the corner", db(low.Response(800)+high.Response(800)), 20*math.Log10(math.Sqrt2), 1e-9)
}

// A causal filter of minimum phase lags: the phase of the low-pass falls by
// order·90° over all frequencies (poles in the left half plane).
func TestLowPassLags(t *testing.T) {
	pairs(t, func(_ Alignment, order int, low, _ Path) {
		turned, last := 0.0, 0.0
		for w := 1e-4; w < 1e4; w *= 1.01 {
			p := cmplx.Phase(low.Response(800 * w))
			turned += math.Remainder(p-last, 2*math.Pi)
			last = p
		}
		near(t, "turn", turned, -float64(order)*math.Pi/2, 1e-2)
	})
}

func TestDelayGainPolarity(t *testing.T) {
	w := Path{Gain: -6, Delay: 1e-3, Invert: true}
	r := w.Response(250) // a quarter turn
	near(t, "level", db(r), -6, 1e-12)
	near(t, "phase", cmplx.Phase(r), math.Pi/2, 1e-12)
}

func TestBadFiltersAreRefused(t *testing.T) {
	for _, c := range []struct {
		w    Path
		want string
	}{
		{Path{Sections: []Section{{LowPass, LinkwitzRiley, 3, 800}}}, "section 1: Linkwitz-Riley of order 3: the orders are [2 4 8]"},
		{Path{Sections: []Section{{LowPass, Butterworth, 5, 800}}}, "Butterworth of order 5"},
		{Path{Sections: []Section{{LowPass, Butterworth, 2, 0}}}, "corner at 0 Hz"},
		{Path{Sections: []Section{{LowPass, Butterworth, 2, math.NaN()}}}, "corner at NaN Hz"},
		{Path{Sections: []Section{{Kind(7), Butterworth, 2, 100}}}, "unknown kind"},
		{Path{Sections: []Section{{LowPass, Alignment(9), 2, 100}}}, "unknown alignment"},
		{Path{Delay: math.Inf(1)}, "delay of +Inf s"},
		{Path{Gain: math.NaN()}, "gain of NaN dB"},
	} {
		if err := c.w.Validate(); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%+v: error %v, want %q", c.w, err, c.want)
		}
	}
}
