package quantity

import "testing"

// Distances in a hall keep three digits, in m or ft: 100 m are 328.08 ft.
func TestStyleOfDistances(t *testing.T) {
	hall := Style{Unit: "m", InchUnit: "ft", Digits: 3}
	for _, c := range []struct {
		m            float64
		metric, inch string
	}{
		{100, "100 m", "328 ft"}, {34, "34.0 m", "112 ft"}, {4, "4.00 m", "13.1 ft"}, {0.66, "0.66 m", "2.17 ft"},
		{-2, "-2.00 m", "-6.56 ft"}, {0, "0.00 m", "0.00 ft"}, {1234.6, "1235 m", "4051 ft"},
	} {
		if got := FormatAs(c.m, Length, hall, Metric); got != c.metric {
			t.Errorf("%g m: %q, want %q", c.m, got, c.metric)
		}
		if got := FormatAs(c.m, Length, hall, Inch); got != c.inch {
			t.Errorf("%g m in feet: %q, want %q", c.m, got, c.inch)
		}
	}
}
