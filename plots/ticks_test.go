package plots

import (
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func texts(ticks []tick) string {
	var out []string
	for _, t := range ticks {
		if t.major {
			out = append(out, t.text)
		}
	}
	return strings.Join(out, " ")
}

func TestFrequencyTicks(t *testing.T) {
	ticks := frequencyTicks(20, 20e3)
	if got, want := texts(ticks), "20 50 100 200 500 1k 2k 5k 10k 20k"; got != want {
		t.Errorf("labels %q, want %q", got, want)
	}
	// Nine marks per decade from 20 to 20 000 Hz: 8 + 9 + 9 + 2.
	if len(ticks) != 28 {
		t.Errorf("%d ticks, want 28", len(ticks))
	}
	for _, f := range []float64{30, 90, 300, 9000} {
		if !slices.ContainsFunc(ticks, func(t tick) bool { return !t.major && math.Abs(t.value-f) < 1e-6*f }) {
			t.Errorf("no minor tick at %g Hz", f)
		}
	}
}

func TestNumberTicks(t *testing.T) {
	for _, c := range []struct {
		low, high float64
		want      int
		labels    string
	}{
		{0, 1, 5, "0.0 0.2 0.4 0.6 0.8 1.0"},
		{-0.5, 2, 5, "−0.5 0.0 0.5 1.0 1.5 2.0"},
		{250, 450, 4, "250 300 350 400 450"},
		{0, 1, 4, "0.00 0.25 0.50 0.75 1.00"},
		{-3e-4, 3e-4, 4, "−0.0002 0.0000 0.0002"},
	} {
		if got := texts(numberTicks(c.low, c.high, c.want)); got != c.labels {
			t.Errorf("numberTicks(%g, %g, %d) = %q, want %q", c.low, c.high, c.want, got, c.labels)
		}
	}
	if got, want := texts(fixedTicks(0, 180, 30)), "0 30 60 90 120 150 180"; got != want {
		t.Errorf("fixed ticks %q, want %q", got, want)
	}
}

func TestNumberTicksStayInside(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		low := rapid.Float64Range(-1e6, 1e6).Draw(t, "low")
		high := low + math.Pow(10, rapid.Float64Range(-4, 6).Draw(t, "log span"))
		want := rapid.IntRange(2, 12).Draw(t, "want")
		ticks := numberTicks(low, high, want)
		labelled := 0
		for i, k := range ticks {
			if k.value < low-1e-6*(high-low) || k.value > high+1e-6*(high-low) {
				t.Fatalf("tick %g outside %g to %g", k.value, low, high)
			}
			if i > 0 && k.value <= ticks[i-1].value {
				t.Fatalf("ticks %g and %g do not rise", ticks[i-1].value, k.value)
			}
			if k.major {
				labelled++
			}
		}
		// Steps grow by 2 or 2.5 at a time, so no fewer than want/2.5 intervals show.
		if labelled > want+1 || labelled < want*2/5-1 {
			t.Fatalf("%d labels for about %d", labelled, want)
		}
	})
}
