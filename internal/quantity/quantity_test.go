package quantity

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// The factors are exact by definition: 1 in = 25.4 mm, 1 ft = 304.8 mm
// (international yard and pound agreement, 1959), 0 °C = 273.15 K (SI).
func TestParse(t *testing.T) {
	for _, c := range []struct {
		text string
		kind Kind
		want float64
	}{
		{"230 mm", Length, 0.230},
		{"230mm", Length, 0.230},
		{"230\u00a0mm", Length, 0.230},
		{"230\u2009mm", Length, 0.230},
		{"  9 in ", Length, 0.2286},
		{"9″", Length, 0.2286},
		{`9"`, Length, 0.2286},
		{"9 IN", Length, 0.2286},
		{"1.5 ft", Length, 0.4572},
		{"-3 mm", Length, -0.003},
		{"−3 mm", Length, -0.003},
		{".5 m", Length, 0.5},
		{"5. m", Length, 5},
		{"1e3 mm", Length, 1},
		{"12 L", Volume, 0.012},
		{"12 l", Volume, 0.012},
		{"450 cm³", Volume, 450e-6},
		{"1 ft3", Volume, 0.028316846592},
		{"1.2 kHz", Frequency, 1200},
		{"90 deg", Angle, math.Pi / 2},
		{"90°", Angle, math.Pi / 2},
		{"20 degC", Temperature, 293.15},
		{"68 °F", Temperature, 293.15},
		{"50 %", Fraction, 0.5},
		{"50%", Fraction, 0.5},
		{"101.325 kPa", Pressure, 101325},
		{"5.4 Ω", Resistance, 5.4},
		{"0.8 mH", Inductance, 0.0008},
		{"14.2 T m", ForceFactor, 14.2},
		{"250 W", Power, 250},
		{"-12 dB", Level, -12},
		{"0.35", Number, 0.35},
		{"10 ms", Time, 0.01},
	} {
		got, err := Parse(c.text, c.kind)
		if err != nil || math.Abs(got-c.want) > 1e-12*math.Max(1, math.Abs(c.want)) {
			t.Errorf("Parse(%q, %v) = %v, %v; want %v", c.text, c.kind, got, err, c.want)
		}
	}
}

func TestParseRefuses(t *testing.T) {
	for _, c := range []struct {
		text string
		kind Kind
		says string
	}{
		{"230", Length, "mm, cm, m, in, ft"},
		{"", Length, "empty"},
		{"mm", Length, "number"},
		{"230 furlong", Length, `unknown unit "furlong"`},
		{"230 Hz", Length, "frequency"},
		{"2,5 mm", Length, "point"},
		{"nan mm", Length, "number"},
		{"inf mm", Length, "number"},
		{"1e999 mm", Length, "finite"},
		{"0x10 mm", Length, "unknown unit"},
		{"1_000 mm", Length, "unknown unit"},
		{"3 mm", Number, "without a unit"},
		{"1 2 mm", Length, "unknown unit"},
		{strings.Repeat("9", 200), Length, "too long"},
	} {
		got, err := Parse(c.text, c.kind)
		if err == nil {
			t.Errorf("Parse(%q, %v) = %v, want an error", c.text, c.kind, got)
		} else if !strings.Contains(err.Error(), c.says) {
			t.Errorf("Parse(%q, %v): error %q does not say %q", c.text, c.kind, err, c.says)
		}
	}
}

func TestParseRange(t *testing.T) {
	from, to, step, err := ParseRange("200:300:10 mm", Length)
	if err != nil || math.Abs(from-0.2) > 1e-12 || math.Abs(to-0.3) > 1e-12 || math.Abs(step-0.01) > 1e-12 {
		t.Errorf("got %v %v %v %v", from, to, step, err)
	}
	if _, _, step, err = ParseRange("0 degC:40 degC:5 degC", Temperature); err != nil || math.Abs(step-5) > 1e-9 {
		t.Errorf("temperature step = %v, %v; want 5 K", step, err)
	}
	if _, _, _, err = ParseRange("1:2", Length); err == nil {
		t.Error("two parts accepted")
	}
}

func TestCanonicalRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := Kind(rapid.IntRange(int(Number), int(kindCount)-1).Draw(t, "kind"))
		v := rapid.Float64Range(1e-6, 1e6).Draw(t, "value")
		got, err := Parse(Canonical(v, k), k)
		if err != nil {
			t.Fatalf("%q: %v", Canonical(v, k), err)
		}
		// Relative to the value plus the offset of the unit (temperatures).
		scale := math.Abs(v)
		if k == Temperature {
			scale += 300
		}
		if math.Abs(got-v) > 1e-12*scale {
			t.Fatalf("%v -> %q -> %v", v, Canonical(v, k), got)
		}
	})
}

func TestEveryUnitNameIsOneOfItsKind(t *testing.T) {
	for k := Length; k < kindCount; k++ {
		seen := map[string]bool{}
		for _, u := range kinds[k].units {
			for _, n := range u.names {
				if seen[n] {
					t.Errorf("%v: unit name %q stands twice", k, n)
				}
				seen[n] = true
				if v, err := Parse("1 "+n, k); err != nil || math.Abs(v-(u.scale+u.offset)) > 1e-12*math.Abs(v) {
					t.Errorf("%v: 1 %s = %v, %v", k, n, v, err)
				}
			}
		}
	}
}

func TestFormat(t *testing.T) {
	for _, c := range []struct {
		si   float64
		kind Kind
		sys  System
		want string
	}{
		{0.254, Length, Metric, "254 mm"},
		{0.254, Length, Inch, "10 in"},
		{0.00536, Length, Metric, "5.4 mm"},
		{675.2, Frequency, Metric, "675 Hz"},
		{1350, Frequency, Metric, "1350 Hz"},
		{16000, Frequency, Metric, "16 kHz"},
		{math.Pi / 2, Angle, Metric, "90°"},
		{-12, Level, Metric, "-12.0 dB"},
		{0.5, Octaves, Metric, "0.50 oct"},
		{0.012, Volume, Metric, "12 L"},
		{0.5, Fraction, Metric, "50 %"},
		{math.NaN(), Length, Metric, "-"},
		{math.Inf(1), Frequency, Metric, "∞"},
		{math.Inf(-1), Octaves, Metric, "-∞"},
	} {
		if got := Format(c.si, c.kind, c.sys); got != c.want {
			t.Errorf("Format(%v, %v) = %q, want %q", c.si, c.kind, got, c.want)
		}
	}
}

func FuzzParse(f *testing.F) {
	for _, s := range []string{"230 mm", "9″", "−1e-3 kHz", "2,5 mm", "50%", "1 T m", "\u2009", "1e+", "..", "+.e9Hz"} {
		for k := range kindCount {
			f.Add(s, int(k))
		}
	}
	f.Fuzz(func(t *testing.T, s string, kind int) {
		k := Kind(((kind % int(kindCount)) + int(kindCount)) % int(kindCount))
		v, err := Parse(s, k)
		if err == nil && (math.IsNaN(v) || math.IsInf(v, 0)) {
			t.Fatalf("Parse(%q, %v) = %v without an error", s, k, v)
		}
		if err != nil && !math.IsNaN(v) {
			t.Fatalf("Parse(%q, %v) = %v with error %v", s, k, v, err)
		}
		_, _, _, _ = ParseRange(s+":"+s+":"+s, k)
	})
}
