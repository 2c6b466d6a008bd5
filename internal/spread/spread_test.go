package spread

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// results evaluates f on a Latin hypercube.
func results(inputs []Input, n int, seed uint64, f func(x []float64) float64) []float64 {
	points := Sample(inputs, n, seed)
	out := make([]float64, n)
	for i := range out {
		out[i] = f(points.RawRowView(i))
	}
	return out
}

func linear(x []float64) float64 { return 3*x[0] - 2*x[1] + x[2] + 7 }

// A sum of independent normal inputs is normal with the root of the summed
// squares as its standard deviation; its 5 and 95 % points lie 1.644854 of them
// from the mean (tables of the normal distribution).
func TestLinearModelOfNormalInputs(t *testing.T) {
	inputs := []Input{{1, 0.2, true}, {2, 0.5, true}, {-1, 0.1, true}}
	sigma := math.Sqrt(0.6*0.6 + 1*1 + 0.1*0.1)
	mean := 3*1 - 2*2 - 1 + 7.0
	b := BandOf(results(inputs, 4000, 1, linear))
	// The 5 % point of 4000 draws has a standard error of 0.033 σ:
	// √(p(1−p)/n)/density, density 0.103/σ.
	const tol = 0.1
	for _, c := range []struct{ got, want float64 }{{b.Low, mean - 1.644854*sigma}, {b.Median, mean}, {b.High, mean + 1.644854*sigma}} {
		if math.Abs(c.got-c.want) > tol*sigma {
			t.Errorf("quantile %g, want %g", c.got, c.want)
		}
	}
}

// The sum of two inputs uniform in ±1 has P(S ≤ s) = (2+s)²/8 for s ≤ 0, hence
// 5 % at √0.4 − 2.
func TestLinearModelOfUniformInputs(t *testing.T) {
	inputs := []Input{{0, 1, false}, {0, 1, false}}
	b := BandOf(results(inputs, 4000, 7, func(x []float64) float64 { return x[0] + x[1] }))
	want := math.Sqrt(0.4) - 2
	// Standard error √(0.05·0.95/4000)/density, density (2+s)/4 = 0.158: 0.022.
	const tol = 0.066
	if math.Abs(b.Low-want) > tol || math.Abs(b.High+want) > tol || math.Abs(b.Median) > tol {
		t.Errorf("band %+v, want %g, 0, %g", b, want, -want)
	}
}

// A Latin hypercube of one input puts one point into each n-th of the
// probability, so that every quantile is exact to 1/n.
func TestOneInputIsStratified(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(20, 300).Draw(t, "n")
		seed := rapid.Uint64().Draw(t, "seed")
		b := BandOf(results([]Input{{5, 2, false}}, n, seed, func(x []float64) float64 { return x[0] }))
		tol := 2 * 2.0 * 2 / float64(n)
		if math.Abs(b.Low-3.2) > tol || math.Abs(b.Median-5) > tol || math.Abs(b.High-6.8) > tol {
			t.Fatalf("band %+v, want 3.2, 5, 6.8 within %g", b, tol)
		}
	})
}

// The mean of a linear function over a Latin hypercube of n points has the
// standard error below: each input adds the variance of one uniform draw in
// each of n cells, (2h/n)²/12 each, averaged over n: a²(2h)²/(12·n³). The error
// falls as n^(−3/2), against n^(−1/2) of independent draws (M. Stein,
// Technometrics 29 (1987) 143-151, for additive functions).
func TestConvergenceOrder(t *testing.T) {
	inputs := []Input{{0, 1, false}, {0, 0.5, false}, {0, 2, false}}
	exact := func(n float64) float64 { return math.Sqrt((9*4 + 4*1 + 1*16) / (12 * n * n * n)) }
	const seeds = 60
	rms := func(n int) float64 {
		sum := 0.0
		for seed := range seeds {
			mean := 0.0
			for _, r := range results(inputs, n, uint64(seed), linear) {
				mean += (r - 7) / float64(n)
			}
			sum += mean * mean
		}
		return math.Sqrt(sum / seeds)
	}
	coarse, fine := rms(40), rms(640)
	order := math.Log(coarse/fine) / math.Log(16)
	// The rms of 60 draws has a relative standard error of 1/√120: 9 %; two of
	// them over a factor of 16 leave ±0.05 in the order.
	if math.Abs(order-1.5) > 0.15 {
		t.Errorf("error %g at 40 points and %g at 640: order %.3f, want 1.5", coarse, fine, order)
	}
	if r := fine / exact(640); math.Abs(r-1) > 0.3 {
		t.Errorf("error %g at 640 points, want %g", fine, exact(640))
	}
}

// y = 2x₀ + 5x₁² − x₂ about x = (0, 0, 1) with half widths 0.5, 1, 3: at its
// ends x₀ moves y by ∓1, x₁ by +5 on both sides, x₂ by ±3.
func TestRankingOfAQuadratic(t *testing.T) {
	inputs := []Input{{0, 0.5, false}, {0, 1, false}, {1, 3, false}, {4, 1, false}}
	base, got := OneAtATime(inputs, func(x []float64) float64 { return 2*x[0] + 5*x[1]*x[1] - x[2] })
	if base != -1 {
		t.Errorf("base %g, want -1", base)
	}
	want := []Effect{
		{Input: 2, AtLow: 2, AtHigh: -4, InLow: -2, InHigh: 4, Swing: 6},
		{Input: 1, AtLow: 4, AtHigh: 4, InLow: -1, InHigh: 1, Swing: 5},
		{Input: 0, AtLow: -2, AtHigh: 0, InLow: -0.5, InHigh: 0.5, Swing: 2},
		{Input: 3, AtLow: -1, AtHigh: -1, InLow: 3, InHigh: 5, Swing: 0},
	}
	for i := range want {
		if got[i] != want[i] {
			t.Errorf("rank %d: %+v, want %+v", i, got[i], want[i])
		}
	}
}

func TestRankingWithMissingResult(t *testing.T) {
	_, got := OneAtATime([]Input{{1, 0.5, true}}, func(x []float64) float64 {
		if x[0] < 1 {
			return math.NaN()
		}
		return x[0]
	})
	if e := got[0]; !e.Missing || math.Abs(e.Swing-0.5*1.644854) > 1e-5 || !math.IsNaN(e.AtLow) {
		t.Errorf("%+v: want a missing low end and a swing of 0.822", e)
	}
}

// Wilson's interval of 9 in 10 is 0.5958 to 0.9821 (worked by hand from the
// formula with z = 1.96); of 0 in n the lower end is 0 and the upper z²/(n+z²).
func TestChance(t *testing.T) {
	c := ChanceOf(9, 10)
	if math.Abs(c.Low-0.5958) > 1e-4 || math.Abs(c.High-0.9821) > 1e-4 || c.Share != 0.9 {
		t.Errorf("9 of 10: %+v, want 0.5958 to 0.9821", c)
	}
	if c := ChanceOf(0, 100); c.Low != 0 || math.Abs(c.High-3.8415/103.8415) > 1e-5 {
		t.Errorf("0 of 100: %+v", c)
	}
	if c := ChanceOf(100, 100); c.High != 1 || math.Abs(c.Low-(1-3.8415/103.8415)) > 1e-5 {
		t.Errorf("100 of 100: %+v", c)
	}
}

// The interval covers the true share as often as it claims to, or nearly so.
func TestChanceCovers(t *testing.T) {
	const runs, n = 400, 200
	covered := 0
	for seed := range uint64(runs) {
		met := 0
		for _, r := range results([]Input{{0, 1, true}, {0, 1, true}}, n, seed, func(x []float64) float64 { return x[0] * x[1] }) {
			if r > 0 { // one half, by symmetry; the worst case for a Latin hypercube
				met++
			}
		}
		if c := ChanceOf(met, n); c.Low <= 0.5 && 0.5 <= c.High {
			covered++
		}
	}
	// 95 % of 400 with a standard error of 1.1 %.
	if share := float64(covered) / runs; share < 0.92 {
		t.Errorf("the interval covers the true share in %.1f %% of runs, want 95 %%", 100*share)
	}
}

func TestBandOfOddValues(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	if b := BandOf([]float64{nan, nan}); b.Given != 0 || !math.IsNaN(b.Median) {
		t.Errorf("no values: %+v", b)
	}
	if b := BandOf([]float64{3, nan, 1, 2}); b.Given != 3 || b.Median != 2 {
		t.Errorf("one missing: %+v", b)
	}
	if b := BandOf([]float64{inf, inf, inf, inf}); b.Low != inf || b.High != inf || b.Median != inf {
		t.Errorf("no limit throughout: %+v", b)
	}
	if b := BandOf([]float64{1, 2, inf, inf, inf}); b.Median != inf || b.Low >= 2 {
		t.Errorf("limits in part: %+v", b)
	}
}

func TestSampleDependsOnSeedOnly(t *testing.T) {
	in := []Input{{0, 1, false}, {0, 1, true}}
	a, b, c := Sample(in, 50, 3), Sample(in, 50, 3), Sample(in, 50, 4)
	same := true
	for i := range 50 {
		for j := range 2 {
			if a.At(i, j) != b.At(i, j) {
				t.Fatalf("point %d differs between equal seeds", i)
			}
			same = same && a.At(i, j) == c.At(i, j)
		}
	}
	if same {
		t.Error("other seed, same points")
	}
}

func BenchmarkSample(b *testing.B) {
	in := make([]Input, 10)
	for b.Loop() {
		Sample(in, 2000, 1)
	}
}
