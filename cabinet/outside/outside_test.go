package outside

import (
	"context"
	"errors"
	"math"
	"math/cmplx"
	"testing"

	"gapline/cabinet/design"
	"gapline/internal/air"
	"gapline/internal/bem3"
	"gapline/internal/designfile"
	"gapline/internal/numeric"
)

func starter(t *testing.T, name string, settings ...string) *design.Design {
	t.Helper()
	file, err := designfile.LoadStarter(name, settings)
	if err != nil {
		t.Fatal(err)
	}
	return &file.Design
}

func solve(t *testing.T, d *design.Design, task Task) *Result {
	t.Helper()
	r, faults, err := Solve(t.Context(), d, task)
	if err != nil || faults != nil {
		t.Fatal(err, faults)
	}
	return r
}

// Far under the size of the box all that moves is a simple source: p·r = jωρΣU/(4π) in every
// direction (L. E. Kinsler et al., Fundamentals of Acoustics, 4th ed. 2000, eq. 7.2.15), What enters a chamber leaves it.
func TestLowFrequenciesAreASimpleSource(t *testing.T) {
	for _, name := range []string{"hatch", "hatch-insert"} {
		d := starter(t, name)
		r := solve(t, d, Task{Frequencies: []float64{20, 40}})
		a := air.Of(d.Air)
		for i, f := range r.Frequency {
			sum := complex128(0)
			for _, u := range r.Flow[i] {
				sum += u * complex(float64(d.WoofersPerBox())/float64(len(r.Flow[i])), 0)
			}
			want := 2 * math.Pi * f * a.Density * cmplx.Abs(sum) / (4 * math.Pi)
			for _, k := range []int{0, 90, 180, 300} {
				if got := cmplx.Abs(r.Vertical[i][k]); math.Abs(got/want-1) > 0.15*f/40 {
					t.Errorf("%s, %g Hz, %d°: p·r = %g, want %g", name, f, k-180, got, want)
				}
			}
		}
		if r.Mouths == nil {
			continue
		}
		sum := complex128(0)
		for _, u := range r.Mouths[0] {
			sum += u
		}
		// The slope in the mouths is known to some per cent; what the chamber takes up is nothing here.
		if ratio := sum / r.Cones[0]; cmplx.Abs(ratio-1) > 0.05 {
			t.Errorf("%s: mouths carry %v of the cones' flow", name, ratio)
		}
		for m, u := range r.Passed()[0] { // alike by symmetry
			if want := 1 / complex(float64(len(r.Parts)), 0); cmplx.Abs(u-want) > 0.001 {
				t.Errorf("%s: mouth %d passes %v of the cones' flow, want %v", name, m, u, want)
			}
		}
		if ratio := r.Out[0] / r.Cones[0]; cmplx.Abs(ratio-1) > 0.001 {
			t.Errorf("%s: %v of the cones' flow leaves the chambers", name, ratio)
		}
	}
}

// The radiation impedances of cones on one another are the same both ways (reciprocity
// of sound, Helmholtz).
func TestImpedancesAreReciprocal(t *testing.T) {
	d := starter(t, "hatch-insert")
	r := solve(t, d, Task{Frequencies: []float64{400}, Boxes: 3})
	z := r.Load[0]
	if len(z) < 2 {
		t.Fatalf("%d sets of cones", len(z))
	}
	for i := range z {
		for k := range i {
			// A set that has images counts them in what it does to others.
			if a, b := z[i][k]/complex(images(r, k), 0), z[k][i]/complex(images(r, i), 0); cmplx.Abs(a-b) > 2e-3*cmplx.Abs(a) {
				t.Errorf("impedance %d on %d is %v, the other way %v", k, i, a, b)
			}
		}
	}
}

// images is how many cones a set has.
func images(r *Result, set int) float64 {
	j := newJob(&design.Design{}, &r.Task, r.Surface)
	return float64(len(j.sets[set].groups))
}

// An endless line of upright strips of height h has lobes at sin θ = mλ/p as high as
// sin(x)/x, x = π·h·m/p, whatever the frequency, so that they come when sin θ = 1: at c/p
// where the first is too high (Kinsler, sec. 7.9, 7.11).
func TestLobeLimitOfStrips(t *testing.T) {
	const pitch, c = 0.3, 345.0
	for _, h := range []float64{0.02, 0.2, 0.27} {
		r := &Result{Angle: angles, air: air.Air{SoundSpeed: c}}
		for f := 500.0; f < 6000; f *= math.Exp2(1.0 / 6) {
			pattern := make([]complex128, len(angles))
			for i, a := range angles {
				x := math.Pi * h * f / c * math.Sin(a)
				pattern[i] = complex(1, 0)
				if x != 0 {
					pattern[i] = complex(math.Sin(x)/x, 0)
				}
			}
			r.Frequency, r.Element = append(r.Frequency, f), append(r.Element, pattern)
		}
		want := math.Inf(1)
		for m := 1.0; m < 5; m++ {
			x := math.Pi * h * m / pitch
			if numeric.DB(math.Abs(math.Sin(x)/x)) > -12 {
				want = math.Min(want, m*c/pitch)
			}
		}
		got := r.Lobe(pitch, -12)
		if math.IsInf(want, 1) {
			if numeric.Given(got.Hz) {
				t.Errorf("strips of %g m: lobes from %g, want none", h, got.Hz)
			}
			continue
		}
		if math.Abs(got.Hz/want-1) > 0.02 {
			t.Errorf("strips of %g m: lobes from %g, want %g", h, got.Hz, want)
		}
	}
}

// The flow of a mass behind a compliance, U/U₀ = 1/(1 − x² + jx/Q), lags by 90 degrees at its
// resonance, whatever its Q.
func TestChamberOfALumpedCircuit(t *testing.T) {
	for _, q := range []float64{0.7, 3, 20} {
		r := &Result{}
		for f := 100.0; f < 2000; f *= math.Exp2(1.0 / 12) {
			x := f / 777
			r.Frequency = append(r.Frequency, f)
			r.Out = append(r.Out, 1/complex(1-x*x, x/q))
			r.Cones = append(r.Cones, 1)
		}
		if got := r.Chamber(); math.Abs(got.Hz/777-1) > 0.01 || !(got.From <= 777 && got.To >= 777) {
			t.Errorf("Q = %g: corner %+v, want 777", q, got)
		}
	}
}

// What is too large is refused before anything is solved, and cancelling ends the work.
func TestTooLargeAndCancelled(t *testing.T) {
	d := starter(t, "hatch")
	_, _, err := Solve(t.Context(), d, Task{Frequencies: []float64{8000}, MaxMemory: 1 << 20, Progress: func(int, int) { t.Error("solved") }})
	if !errors.Is(err, bem3.ErrTooLarge) {
		t.Errorf("error %v", err)
	}
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	if _, _, err := Solve(ctx, d, Task{Frequencies: []float64{500}}); !errors.Is(err, context.Canceled) {
		t.Errorf("error %v", err)
	}
}
