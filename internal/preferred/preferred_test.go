package preferred

import (
	"math"
	"testing"
)

func TestTwelfthsFollowTheGeometricSeries(t *testing.T) {
	// Preferred numbers are 10^(n/40) rounded, by 1.26 % at most (ISO 3, from
	// memory).
	f := Twelfths(20, 20e3)
	if len(f) != 121 || f[0] != 20 || f[120] != 20e3 {
		t.Fatalf("%d frequencies from %g to %g, want 121 from 20 to 20000", len(f), f[0], f[len(f)-1])
	}
	for i, v := range f {
		exact := 20 * math.Pow(10, float64(i)/40)
		if math.Abs(v/exact-1) > 0.013 {
			t.Errorf("%g: more than 1.3 %% from %g", v, exact)
		}
	}
}

func TestThirdOctavesAreAmongThem(t *testing.T) {
	// Third octaves of ISO 266, as IEC 61260-1 names its bands.
	want := []float64{250, 315, 400, 500, 630, 800, 1000, 1250, 1600, 2000, 2500, 3150, 4000, 5000, 6300, 8000, 10000, 12500, 16000}
	f := Twelfths(250, 16e3)
	for i, w := range want {
		if got := f[4*i]; got != w {
			t.Errorf("number %d is %g, want %g", 4*i, got, w)
		}
	}
}

func TestTwelfthsEmpty(t *testing.T) {
	if f := Twelfths(1010, 1050); len(f) != 0 {
		t.Errorf("between two neighbours: %v", f)
	}
	if f := Twelfths(2000, 1000); len(f) != 0 {
		t.Errorf("backwards: %v", f)
	}
}

// ISO 266: the exact middles 1000·10^(k/10) Hz and what they are called.
func TestNominal(t *testing.T) {
	names := []float64{100, 125, 160, 200, 250, 315, 400, 500, 630, 800, 1000, 1250, 1600, 2000, 2500, 3150, 4000, 5000, 6300, 8000, 10000}
	for i, want := range names {
		exact := 1000 * math.Pow(10, float64(i-10)/10)
		if got := Nominal(exact); math.Abs(got-want) > 1e-9*want {
			t.Errorf("%g Hz is called %g, want %g", exact, got, want)
		}
	}
	for _, f := range []float64{130, 997, 8123} {
		if got := Nominal(f); got != f {
			t.Errorf("%g Hz is called %g", f, got)
		}
	}
}
