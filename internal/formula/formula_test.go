package formula

import (
	"math"
	"math/cmplx"
	"strings"
	"testing"
)

// one evaluates lines and returns the last value.
func one(t *testing.T, in Inputs, lines ...string) (complex128, bool) {
	t.Helper()
	parsed, err := Parse(lines)
	if err != nil {
		t.Fatal(err)
	}
	values, err := Evaluate(parsed, in)
	if err != nil {
		t.Fatal(err)
	}
	last := values[len(values)-1]
	return last.Number, last.Known
}

// Expressions are worth what the same ones are in Go.
func TestExpressions(t *testing.T) {
	a, b, z := 3.0, 4.0, complex(0.3, -1.2)
	in := Inputs{Numbers: map[string]float64{"a": a, "b": b, "S_d": 0.5, "f_½": 7, "x.y_z": 9}}
	for text, want := range map[string]complex128{
		"1 + 2·3":                     7,
		"8/2·4":                       16, // from left to right
		"8/(2·4)":                     1,
		"−a²":                         -9, // the power before the sign
		"2^3^2":                       512,
		"a − b − 1":                   -2,
		"√(a² + b²)":                  5,
		"√(2)·√(2)":                   2,
		"|a − b|²":                    1,
		"max(a, b, 1)":                4,
		"min(a, nothing, b)":          3, // of what is known
		"1.5e-3·1000":                 1.5,
		"π":                           math.Pi,
		"2·S_d + f_½ + x.y_z":         17,
		"|0.3 − j·1.2|":               complex(cmplx.Abs(z), 0),
		"1/(0.3 − j·1.2)":             1 / z,
		"exp(1) + ln(a)":              complex(math.E+math.Log(3), 0),
		"log10(1000) + log2(8)":       6,
		"sin(a) + cos(a)":             complex(math.Sin(a)+math.Cos(a), 0),
		"tan(a) + atan(b) + asinh(b)": complex(math.Tan(a)+math.Atan(b)+math.Asinh(b), 0),
		"2·J₁(a)/a":                   complex(2*math.J1(a)/a, 0),
		"nothing, else a":             3,
		"nothing + a, else b":         4,
		"1 unless kind is vented, else 2 unless kind is closed": 2,
		"1 where nothing is given, else 2 where a is given":     2,
		"1 where kind is closed, else 2 where kind is vented":   2,
	} {
		in.Words = map[string]string{"kind": "vented"}
		got, ok := one(t, in, "x = "+text+"; as said")
		if !ok || cmplx.Abs(got-want) > 1e-12*(1+cmplx.Abs(want)) {
			t.Errorf("%s = %v, %v; want %v", text, got, ok, want)
		}
	}
	for _, text := range []string{"nothing", "max(nothing, none)", "1 + nothing", "1 where a is b"} {
		if got, ok := one(t, in, "x = "+text); ok {
			t.Errorf("%s = %v; want it unknown", text, got)
		}
	}
}

// Lines may stand in any order, and a remark gives nothing.
func TestLinesUseEachOther(t *testing.T) {
	got, ok := one(t, Inputs{Numbers: map[string]float64{"b": 2, "h": 3}}, "(a remark = none)", "l = 2·S", "S = b·h", "y = l + S")
	if !ok || got != 18 {
		t.Errorf("got %v, %v; want 18", got, ok)
	}
}

// x² = 2 at √2; the highest of two solutions of sin(π·f/10) = 0.5 below 10 is 50/6; the
// least m with m² over 10 is 4. A search without a solution gives nothing.
func TestSearches(t *testing.T) {
	for _, c := range []struct {
		lines []string
		want  float64
	}{
		{[]string{"x = f, at the highest f with f² = 2"}, math.Sqrt2},
		{[]string{"g = sin(π·min(f, 10)/10)", "x = f, at the highest f with g = 1/2"}, 50.0 / 6},
		{[]string{"y = m²", "x = 10·m, at the least m = 1, 2, 3 … with y > 10"}, 40},
		{[]string{"x = m, at the least m = 1, 2, 3 … with m > 1000"}, math.NaN()},
		{[]string{"x = f, at the highest f with f² = −1"}, math.NaN()},
	} {
		got, ok := one(t, Inputs{}, c.lines...)
		if ok == math.IsNaN(c.want) || ok && math.Abs(real(got)-c.want) > 1e-9 {
			t.Errorf("%q: %v, %v; want %v", c.lines, got, ok, c.want)
		}
	}
}

func TestFaults(t *testing.T) {
	for text, want := range map[string]string{
		"no value":       "it gives nothing",
		"x = (1 + 2":     `")" is missing`,
		"x = 1 2":        `"2" is left over`,
		"x = sin":        "needs its argument in brackets",
		"x = 1 +":        "a quantity is missing",
		"x = |1 + 2":     `"|" is missing`,
		"x = 1, else 2)": `")" is left over`,
	} {
		if _, err := Parse([]string{text}); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v; want %s", text, err, want)
		}
	}
	lines, err := Parse([]string{"a = b", "b = a"})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := Evaluate(lines, Inputs{}); err == nil || !strings.Contains(err.Error(), "depends on itself") {
		t.Errorf("a circle: %v", err)
	}
}

// Whatever text comes, reading it ends without a panic.
func FuzzParse(f *testing.F) {
	f.Add("x = √(a² + |b|)/max(1, 2), at the least m = 1, 2, 3 … with m > a; said")
	f.Fuzz(func(t *testing.T, text string) {
		lines, err := Parse([]string{text})
		if err != nil {
			return
		}
		_, _ = Evaluate(lines, Inputs{Numbers: map[string]float64{"a": 1}})
	})
}
