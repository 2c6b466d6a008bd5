package driver

import (
	"errors"
	"math"
	"slices"
	"strings"
	"testing"
)

func TestReadImpedanceForms(t *testing.T) {
	want := ImpedanceSweep{
		Frequency: []float64{20, 40.5}, Magnitude: []float64{6.5, 30.25}, Phase: []float64{degrees(30), degrees(-45)},
	}
	for name, text := range map[string]string{
		"commas":              "20,6.5,30\n40.5,30.25,-45\n",
		"commas and spaces":   "20.0, 6.5, 30\n40.5, 30.25, -45",
		"spaces":              "  20   6.5  30\n40.5 30.25 -45\n",
		"tabs":                "20\t6.5\t30\n40.5\t30.25\t-45\n",
		"semicolons":          "20; 6.5; 30;\n40.5; 30.25; -45;\n",
		"decimal commas":      "20;6,5;30\n40,5;30,25;-45\n",
		"decimal comma, tab":  "20\t6,5\t30,0\n40,5\t30,25\t-45,0\n",
		"decimal and spaces":  "20,0 6,5 30\n40,5 30,25 -45\n",
		"windows":             "\xef\xbb\xbfFrequency;Impedance;Phase\r\n20;6,5;30\r\n40,5;30,25;-45\r\n",
		"old line ends":       "20 6.5 30\r40.5 30.25 -45\r",
		"comments and header": "* made up\n# f Z p\nf(Hz) Z(ohm) phase(deg)\n\n20 6.5 30\n// middle\n40.5 30.25 -45\n%end\n",
		"exponents":           "2e1 6.5 3.0E+1\n4.05e1 30.25 -45\n",
	} {
		got, err := ReadImpedance(strings.NewReader(text))
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if !slices.Equal(got.Frequency, want.Frequency) || !slices.Equal(got.Magnitude, want.Magnitude) || !slices.Equal(got.Phase, want.Phase) {
			t.Errorf("%s: %v, want %v", name, got, want)
		}
	}
	two, err := ReadImpedance(strings.NewReader("20 6\n30 7\n"))
	if err != nil || two.Phase != nil || len(two.Frequency) != 2 {
		t.Errorf("two columns: %v, %v", two, err)
	}
}

func TestReadImpedanceFaults(t *testing.T) {
	for name, c := range map[string]struct {
		text string
		line int
		want string
	}{
		"not a number":         {"20 6\n30 x\n", 2, `"x" is not a number`},
		"NaN":                  {"20 6\n30 NaN\n", 2, "finite"},
		"NaN at the start":     {"nan 6\n", 1, "finite"},
		"infinite":             {"20 6\n30 inf\n", 2, "finite"},
		"zero frequency":       {"0 6\n", 1, "frequency 0"},
		"negative impedance":   {"20 -6\n", 1, "magnitude"},
		"falling":              {"20 6\n40 7\n30 6\n", 3, "sort the sweep"},
		"twice":                {"# c\n20 6\n20 7\n", 3, "appears twice"},
		"one column":           {"20\n", 1, "one column"},
		"four columns":         {"20,5,6,1\n", 1, "semicolons"},
		"changing columns":     {"20 6\n30 7 12\n", 2, "first line of numbers has 2"},
		"ambiguous commas":     {"20, 6,1\n", 1, "some commas"},
		"words after numbers":  {"20 6\nend\n", 2, "one column"},
		"phase beyond a turn":  {"20 6 400\n", 1, "±360"},
		"kilohertz":            {"f kHz, ohm\n0.02 6\n", 1, "kHz"},
		"radian":               {"# hz ohm rad\n20 6 0.3\n", 1, "degree"},
		"UTF-16":               {"\xff\xfe2\x000\x00", 1, "UTF-16"},
		"thousands separators": {"1.000,5;6\n", 1, "not a number"},
	} {
		_, err := ReadImpedance(strings.NewReader(c.text))
		var e *SweepError
		if !errors.As(err, &e) || e.Line != c.line || !strings.Contains(e.Text, c.want) {
			t.Errorf("%s: err = %v, want line %d with %q", name, err, c.line, c.want)
		}
	}
	if _, err := ReadImpedance(strings.NewReader("# nothing\n\n")); !errors.Is(err, ErrNoData) {
		t.Errorf("empty text: %v", err)
	}
}

func FuzzReadImpedance(f *testing.F) {
	for _, seed := range []string{
		"20,6.5,30\n40.5,30.25,-45\n", "20;6,5\r\n40,5;30,25\r\n", "\xef\xbb\xbff z\n20 6\n", "# c\n20\t6\t1\n", "20, 6,1", "nan",
		"1e400 1", ",,", ";", "\x00", "0x1p4 3",
	} {
		f.Add([]byte(seed))
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		s, err := ReadImpedance(strings.NewReader(string(text)))
		if err != nil {
			return
		}
		if len(s.Frequency) == 0 || len(s.Magnitude) != len(s.Frequency) || (s.Phase != nil && len(s.Phase) != len(s.Frequency)) {
			t.Fatalf("lengths %d, %d, %d", len(s.Frequency), len(s.Magnitude), len(s.Phase))
		}
		for i, x := range s.Frequency {
			if !(x > 0) || math.IsInf(x, 0) || !(s.Magnitude[i] > 0) || (i > 0 && x <= s.Frequency[i-1]) {
				t.Fatalf("point %d: %g Hz, %g ohm", i, x, s.Magnitude[i])
			}
		}
	})
}

func degrees(x float64) float64 { return x * math.Pi / 180 }
