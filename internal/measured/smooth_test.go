package measured

import (
	"math"
	"math/rand/v2"
	"testing"

	"gapline/internal/numeric"

	"pgregory.net/rapid"
)

// sampled returns a trace of level and phase on n points per octave from 20 Hz to
// 20 kHz.
func sampled(n int, level, phase func(f float64) float64) Trace {
	var t Trace
	for k := 0; ; k++ {
		f := 20 * math.Exp2(float64(k)/float64(n))
		if f > 20e3*(1+1e-9) {
			return t
		}
		t.Frequency = append(t.Frequency, f)
		t.Level = append(t.Level, level(f))
		t.Phase = append(t.Phase, phase(f))
	}
}

func zero(float64) float64 { return 0 }

// The mean of f^a over ln f ± w is f^a·sinh(aw)/(aw): a slope keeps its form and
// rises by a constant.
func TestPowerSmoothingOfASlopeInClosedForm(t *testing.T) {
	for _, n := range []int{1, 3, 6, 12, 24} {
		for _, slope := range []float64{-24, -6, 3, 12} { // dB per octave
			trace := sampled(400, func(f float64) float64 { return slope * math.Log2(f/1000) }, zero)
			a := slope / (10 * math.Log10(2)) // exponent of the power
			w := math.Ln2 / (2 * float64(n))
			rise := 10 * math.Log10(math.Sinh(a*w)/(a*w))
			got, err := Smoothing{Fraction: n}.Apply(trace, []float64{100, 1000, 7000})
			if err != nil {
				t.Fatal(err)
			}
			for i, f := range []float64{100, 1000, 7000} {
				want := slope*math.Log2(f/1000) + rise
				// Chords lie above a convex curve by a²h²/12 of the power, h = ln 2/400
				// the step: below 1e-4 dB here.
				if math.Abs(got[i]-want) > 1e-4 {
					t.Errorf("1/%d octave, %g dB/oct at %g Hz: %g, want %g", n, slope, f, got[i], want)
				}
			}
		}
	}
}

// The mean of f^{jb} over ln f ± w is f^{jb}·sin(bw)/(bw): complex smoothing lowers
// a turning phase by a sinc, power smoothing does not touch it.
func TestComplexSmoothingOfATurningPhaseInClosedForm(t *testing.T) {
	for _, b := range []float64{1, 4, 12} { // rad per unit of ln f
		trace := sampled(400, zero, func(f float64) float64 { return -b * math.Log(f) })
		for _, n := range []int{3, 6, 24} {
			w := math.Ln2 / (2 * float64(n))
			want := numeric.DB(numeric.Sinc(b * w))
			got, err := Smoothing{Fraction: n, By: Complex}.Apply(trace, []float64{1000})
			if err != nil {
				t.Fatal(err)
			}
			// Chords cut the circle: the step turns by b·h, and the mean is low by
			// (bh)²/12 of the radius, below 4e-4 dB.
			if math.Abs(got[0]-want) > 4e-4 {
				t.Errorf("1/%d octave, b = %g: %g dB, want %g", n, b, got[0], want)
			}
			if p, _ := (Smoothing{Fraction: n}).Apply(trace, []float64{1000}); math.Abs(p[0]) > 1e-9 {
				t.Errorf("1/%d octave, power, b = %g: %g dB, want 0", n, b, p[0])
			}
		}
	}
}

// Slow and obvious: the mean of the interpolated power at many evenly spaced
// points of the band.
func directBandAverage(t Trace, f float64, n int) float64 {
	const points = 200000
	w := math.Ln2 / (2 * float64(n))
	sum := 0.0
	for i := range points {
		x := math.Log(f) - w + 2*w*(float64(i)+0.5)/points
		k := 0
		for math.Log(t.Frequency[k+1]) < x {
			k++
		}
		x0, x1 := math.Log(t.Frequency[k]), math.Log(t.Frequency[k+1])
		p0, p1 := math.Pow(10, t.Level[k]/10), math.Pow(10, t.Level[k+1]/10)
		sum += p0 + (p1-p0)*(x-x0)/(x1-x0)
	}
	return 10 * math.Log10(sum/points)
}

func TestSmoothingAgainstDirectBandAverage(t *testing.T) {
	random := rand.New(rand.NewPCG(8, 3))
	// Unevenly spaced points with a rough level, some bands with one point or none.
	trace := Trace{}
	for f := 20.0; f < 20e3; f *= 1 + 0.3*random.Float64() {
		trace.Frequency = append(trace.Frequency, f)
		trace.Level = append(trace.Level, 80+20*(random.Float64()-0.5))
	}
	for _, n := range []int{1, 3, 12, 24} {
		got, err := Smoothing{Fraction: n}.Apply(trace, []float64{63, 440, 1000, 5000})
		if err != nil {
			t.Fatal(err)
		}
		for i, f := range []float64{63, 440, 1000, 5000} {
			// The midpoint rule errs where the slope breaks: 1/200000 of the band.
			if want := directBandAverage(trace, f, n); math.Abs(got[i]-want) > 1e-4 {
				t.Errorf("1/%d octave at %g Hz: %g, direct average %g", n, f, got[i], want)
			}
		}
	}
}

// A plain mean over the lines of a Fourier transform, each weighed by its share
// 1/f of the logarithmic axis, comes close to the exact integral.
func TestSmoothingOfFourierLines(t *testing.T) {
	var trace Trace
	for k := 1; k <= 20000; k++ {
		f := float64(k)
		trace.Frequency = append(trace.Frequency, f)
		trace.Level = append(trace.Level, 3*math.Cos(f/40)) // ripple as of a reflection
	}
	for _, f := range []float64{1000, 4000} {
		low, high := f*math.Exp2(-1.0/6), f*math.Exp2(1.0/6)
		sum, weight := 0.0, 0.0
		for i, x := range trace.Frequency {
			if x >= low && x <= high {
				sum += math.Pow(10, trace.Level[i]/10) / x
				weight += 1 / x
			}
		}
		want := 10 * math.Log10(sum/weight)
		got, _ := Smoothing{Fraction: 3}.Apply(trace, []float64{f})
		// One line more or less at each edge of some 230.
		if math.Abs(got[0]-want) > 0.02 {
			t.Errorf("at %g Hz: %g, mean of lines %g", f, got[0], want)
		}
	}
}

func TestSmoothingStaysWithinItsBandAndFollowsLevel(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var trace Trace
		f := 10.0
		for range rapid.IntRange(2, 40).Draw(t, "points") {
			trace.Frequency = append(trace.Frequency, f)
			trace.Level = append(trace.Level, rapid.Float64Range(-60, 120).Draw(t, "level"))
			f *= 1 + rapid.Float64Range(0.001, 1).Draw(t, "step")
		}
		s := Smoothing{Fraction: rapid.SampledFrom([]int{0, 1, 3, 6, 24}).Draw(t, "fraction")}
		low, high := trace.Range()
		at := []float64{low / 2, low, math.Sqrt(low * high), high, high * 2}
		got, err := s.Apply(trace, at)
		if err != nil {
			t.Fatal(err)
		}
		lowest, highest := math.Inf(1), math.Inf(-1)
		for _, x := range trace.Level {
			lowest, highest = math.Min(lowest, x), math.Max(highest, x)
		}
		for i, x := range got {
			outside := i == 0 || i == len(got)-1
			if math.IsNaN(x) != outside {
				t.Fatalf("at %g Hz: %g", at[i], x)
			}
			if !outside && (x < lowest-1e-6 || x > highest+1e-6) {
				t.Fatalf("at %g Hz: %g beyond %g to %g", at[i], x, lowest, highest)
			}
		}
		if math.Abs(got[1]-trace.Level[0]) > 1e-9 {
			t.Fatalf("at the lower end: %g, want %g", got[1], trace.Level[0])
		}
		Shift(trace.Level, 17)
		moved, _ := s.Apply(trace, at)
		for i := 1; i < 4; i++ {
			if math.Abs(moved[i]-got[i]-17) > 1e-9 {
				t.Fatalf("17 dB more gives %g instead of %g", moved[i], got[i]+17)
			}
		}
	})
}

func TestResamplingIsExactOnSlopes(t *testing.T) {
	trace := sampled(3, func(f float64) float64 { return 5 * math.Log2(f) }, zero)
	got, _ := Smoothing{}.Apply(trace, Grid(20, 20e3))
	for i, f := range Grid(20, 20e3) {
		if want := 5 * math.Log2(f); math.Abs(got[i]-want) > 1e-9 && !math.IsNaN(got[i]) {
			t.Fatalf("at %g Hz: %g, want %g", f, got[i], want)
		}
	}
}

func TestComplexSmoothingNeedsPhase(t *testing.T) {
	trace := Trace{Frequency: []float64{20, 40}, Level: []float64{0, 0}}
	if _, err := (Smoothing{Fraction: 3, By: Complex}).Apply(trace, []float64{30}); err == nil {
		t.Error("a trace without phase is smoothed")
	}
}

func TestGridIsAnchoredAtOneKilohertz(t *testing.T) {
	grid := Grid(500, 2000)
	if n := len(grid); n != 2*PointsPerOctave+1 || grid[0] != 500 || grid[PointsPerOctave] != 1000 || grid[n-1] != 2000 {
		t.Errorf("%d points, %g to %g", len(grid), grid[0], grid[len(grid)-1])
	}
	if got := Grid(1000, 999); len(got) != 0 {
		t.Errorf("empty range gives %v", got)
	}
}

func TestParseSmoothing(t *testing.T) {
	for text, want := range map[string]int{"none": 0, "1/1": 1, "1/3": 3, "1/24": 24, "1/48": 48} {
		if got, err := ParseSmoothing(text); err != nil || got.Fraction != want {
			t.Errorf("%q: %v, %v", text, got, err)
		}
	}
	for _, text := range []string{"", "3", "1/0", "1/-3", "1/49", "2/3", "1/3 octave", "third"} {
		if _, err := ParseSmoothing(text); err == nil {
			t.Errorf("%q is taken", text)
		}
	}
}
