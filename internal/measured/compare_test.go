package measured

import (
	"math"
	"testing"

	"gapline/internal/numeric"
)

// values evaluates fn on the grid.
func values(grid []float64, fn func(f float64) float64) []float64 {
	out := make([]float64, len(grid))
	for i, f := range grid {
		out[i] = fn(f)
	}
	return out
}

// Of a slope of s dB per octave, sampled evenly over an octave band of width W
// octaves, the mean is the value at the centre and the standard deviation s·W/√12
// (uniform distribution).
func TestOctavesOfASlopeInClosedForm(t *testing.T) {
	grid := Grid(10, 50e3)
	const slope = 6
	bands := Octaves(grid, values(grid, func(f float64) float64 { return slope * math.Log2(f/1000) }))
	if len(bands) != len(nominalOctaves)+1 {
		t.Fatalf("%d bands, want %d and the whole range", len(bands), len(nominalOctaves))
	}
	width := math.Log2(math.Pow(10, 0.3)) // 0.9966 octaves
	const step = 1.0 / PointsPerOctave
	for _, b := range bands[:len(bands)-1] {
		centre := math.Sqrt(b.Low * b.High)
		// The grid does not sit evenly in the band: half a step each way.
		if want := slope * math.Log2(centre/1000); math.Abs(b.Mean-want) > slope*step {
			t.Errorf("%g Hz: mean %g, want %g", b.Nominal, b.Mean, want)
		}
		if want := slope * width / math.Sqrt(12); math.Abs(b.Deviation-want) > slope*step {
			t.Errorf("%g Hz: deviation %g, want %g", b.Nominal, b.Deviation, want)
		}
		if r := centre / b.Nominal; r < 0.97 || r > 1.03 {
			t.Errorf("exact centre %g Hz is called %g Hz", centre, b.Nominal)
		}
		if b.Covered < 0.97 {
			t.Errorf("%g Hz: covered %g", b.Nominal, b.Covered)
		}
	}
}

func TestOctavesKnowTheWorst(t *testing.T) {
	grid := Grid(100, 2000)
	v := values(grid, func(f float64) float64 {
		switch {
		case f == 250:
			return -7
		case f < 200:
			return numeric.Absent
		}
		return 1
	})
	for _, b := range Octaves(grid, v) {
		switch {
		case b.Nominal == 125:
			t.Error("an octave without values is listed")
		case b.Nominal == 250 && (b.Worst != -7 || b.WorstAt != 250 || b.Covered > 0.9):
			t.Errorf("250 Hz: worst %g at %g, covered %g", b.Worst, b.WorstAt, b.Covered)
		case b.Nominal == 500 && (b.Worst != 1 || b.Mean != 1 || b.Deviation != 0):
			t.Errorf("500 Hz: worst %g, mean %g, deviation %g", b.Worst, b.Mean, b.Deviation)
		case math.IsNaN(b.Nominal) && (b.Worst != -7 || b.Low < 200 || b.High < 2000*0.98):
			t.Errorf("whole: worst %g, %g to %g", b.Worst, b.Low, b.High)
		}
	}
	if got := Octaves(grid, values(grid, func(float64) float64 { return numeric.Absent })); got != nil {
		t.Errorf("no values give %v", got)
	}
}

func TestBandMean(t *testing.T) {
	grid := Grid(100, 1000)
	v := values(grid, func(f float64) float64 {
		if f > 400 {
			return numeric.Absent
		}
		return 3
	})
	if mean, covered := BandMean(grid, v, 200, 800); mean != 3 || math.Abs(covered-0.5) > 0.02 {
		t.Errorf("mean %g, covered %g; want 3 and half", mean, covered)
	}
	if mean, covered := BandMean(grid, v, 500, 800); !math.IsNaN(mean) || covered != 0 {
		t.Errorf("mean %g, covered %g where there is nothing", mean, covered)
	}
}

// Two equal sources spaced d, seen at an angle, against the same two at one place:
// |cos(π·d·sin θ·f/c)|. It passes −3 dB at arccos(10^(−3/20))·c/(π·d·sin θ).
func TestPartingOfTwoSourcesInClosedForm(t *testing.T) {
	const c, d, sin = 343.0, 0.3, 0.5
	grid := Grid(20, 1000) // the null lies at 1143 Hz
	spaced := values(grid, func(f float64) float64 { return numeric.DB(math.Cos(math.Pi * d * sin * f / c)) })
	for _, db := range []float64{1, 3, 6} {
		got := Part(grid, spaced, db)
		want := math.Acos(numeric.FromDB(-db)) * c / (math.Pi * d * sin)
		// Linear between points 1/48 octave apart.
		if math.Abs(got.Limit/want-1) > 1e-3 {
			t.Errorf("%g dB: parts at %g Hz, want %g", db, got.Limit, want)
		}
		if got.From > 20.3 {
			t.Errorf("%g dB: agrees from %g Hz", db, got.From)
		}
	}
}

func TestPartingRules(t *testing.T) {
	grid := Grid(20, 20e3)
	const far, near = 9.0, 0.0
	pick := func(fn func(f float64) bool) []float64 {
		return values(grid, func(f float64) float64 {
			if fn(f) {
				return far
			}
			return near
		})
	}
	for name, c := range map[string]struct {
		apart       func(f float64) bool
		from, limit float64
	}{
		"never":              {func(float64) bool { return false }, 20, math.NaN()},
		"always":             {func(float64) bool { return true }, math.NaN(), math.NaN()},
		"noise below":        {func(f float64) bool { return f < 60 || f > 900 }, 60, 900},
		"narrow notch":       {func(f float64) bool { return f > 300 && f < 320 || f > 900 }, 20, 900},
		"wide notch":         {func(f float64) bool { return f > 300 && f < 400 || f > 900 }, 20, 300},
		"chance agreement":   {func(f float64) bool { return f < 30 || f > 50 && f < 100 || f > 900 }, 100, 900},
		"agrees again above": {func(f float64) bool { return f > 700 && f < 1400 }, 20, 700},
	} {
		got := Part(grid, pick(c.apart), 3)
		// The edge lies between two grid points, 1.5 % apart.
		same := func(a, b float64) bool { return math.IsNaN(a) && math.IsNaN(b) || math.Abs(a/b-1) < 0.02 }
		if !same(got.From, c.from) || !same(got.Limit, c.limit) {
			t.Errorf("%s: agrees from %g to %g, want %g to %g", name, got.From, got.Limit, c.from, c.limit)
		}
		if !same(got.Until, 20e3) {
			t.Errorf("%s: data end at %g", name, got.Until)
		}
	}
	if got := Part(grid, pick(func(float64) bool { return true }), 3); !math.IsNaN(got.From) {
		t.Errorf("a pair that never agrees: %+v", got)
	}
}

func TestPartingStopsAtHoles(t *testing.T) {
	grid := Grid(20, 20e3)
	d := values(grid, func(f float64) float64 {
		switch {
		case f < 50 || f > 5000 || f > 400 && f < 600:
			return numeric.Absent
		}
		return 0
	})
	got := Part(grid, d, 3)
	if math.Abs(got.From/50-1) > 0.02 || !math.IsNaN(got.Limit) || math.Abs(got.Until/5000-1) > 0.02 {
		t.Errorf("%+v, want agreement from 50 Hz without a limit, data to 5 kHz", got)
	}
}
