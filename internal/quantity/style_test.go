package quantity

import (
	"math"
	"testing"
)

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

// Charts write three figures, and kHz from 1 kHz on.
func TestShort(t *testing.T) {
	for f, want := range map[float64]string{63.5: "63.5 Hz", 312: "312 Hz", 999.4: "999 Hz", 999.6: "1 kHz", 1349: "1.35 kHz", 16000: "16 kHz", 8.25: "8.25 Hz"} {
		if got := FormatAs(f, Frequency, Style{Short: true}, Metric); got != want {
			t.Errorf("%g is written %q, want %q", f, got, want)
		}
	}
}

func TestSignificant(t *testing.T) {
	for v, want := range map[float64]string{0: "0", -0.0123456: "−0.0123", 120: "120", 1234: "1234", 0.5: "0.5", 999.96: "1000", math.Inf(-1): "−Inf"} {
		if got := Significant(v, 3); got != want {
			t.Errorf("%g is written %q, want %q", v, got, want)
		}
	}
}

// A document writes the minus of print (U+2212), as its pictures do, and a length of a
// metre and more in metres; a screen keeps the sign that can be typed.
func TestDocumentHasOneForm(t *testing.T) {
	for _, c := range []struct {
		si               float64
		k                Kind
		style            Style
		screen, document string
	}{
		{-12, Level, Style{}, "-12.0 dB", "−12.0 dB"},
		{-2.04, Level, Style{Verb: "%+.1f", Bare: true}, "-2.0", "−2.0"},
		{2.04, Level, Style{Verb: "%+.1f"}, "+2.0 dB", "+2.0 dB"},
		{-0.01, Level, Style{Verb: "%+.1f"}, "+0.0 dB", "+0.0 dB"},
		{math.NaN(), Level, Style{}, "-", "-"},
		{1.904, Length, Style{}, "1904 mm", "1.904 m"},
		{-0.2, Length, Style{}, "-200 mm", "−200 mm"},
	} {
		if got := FormatAs(c.si, c.k, c.style, Metric); got != c.screen {
			t.Errorf("%g on the screen: %q, want %q", c.si, got, c.screen)
		}
		if got := FormatAs(c.si, c.k, c.style, Document); got != c.document {
			t.Errorf("%g in a document: %q, want %q", c.si, got, c.document)
		}
	}
}
