package measured

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// TestUglyFiles reads every file of testdata/ugly and compares with its line in
// expected.txt.
func TestUglyFiles(t *testing.T) {
	folder := filepath.Join("testdata", "ugly")
	text, err := os.ReadFile(filepath.Join(folder, "expected.txt"))
	if err != nil {
		t.Fatal(err)
	}
	told := map[string]bool{"expected.txt": true, "README.md": true}
	for line := range strings.Lines(string(text)) {
		if strings.HasPrefix(line, "#") {
			continue
		}
		parts := strings.SplitN(strings.TrimSpace(line), "|", 3)
		name, want, note := strings.TrimSpace(parts[0]), strings.TrimSpace(parts[1]), strings.TrimSpace(parts[2])
		told[name] = true
		t.Run(name, func(t *testing.T) { checkUgly(t, filepath.Join(folder, name), want, note) })
	}
	files, err := os.ReadDir(folder)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range files {
		if !told[f.Name()] {
			t.Errorf("%s has no line in expected.txt", f.Name())
		}
	}
}

func checkUgly(t *testing.T, path, want, note string) {
	got, err := Load(t.Context(), path, Import{})
	if part, ok := strings.CutPrefix(want, "error: "); ok {
		if err == nil || !strings.Contains(err.Error(), part) {
			t.Errorf("err = %v, want %q", err, part)
		}
		return
	}
	if err != nil {
		t.Fatal(err)
	}
	var levels []float64
	for _, f := range strings.Fields(want) {
		x, err := strconv.ParseFloat(f, 64)
		if err != nil {
			t.Fatal(err)
		}
		levels = append(levels, x)
	}
	near := func(a, b float64) bool { return math.Abs(a-b) < 1e-8 } // the digits of expected.txt
	if !slices.EqualFunc(got.Level, levels, near) {
		t.Errorf("levels %v, want %v", got.Level, levels)
	}
	if got.Frequency[0] != 20 || got.Frequency[len(got.Frequency)-1] != 40 {
		t.Errorf("frequencies %v, want 20 to 40", got.Frequency)
	}
	if note != "" && !strings.Contains(strings.Join(got.Notes, "; "), note) {
		t.Errorf("notes %q, want %q", got.Notes, note)
	}
	if note == "" && len(got.Notes) > 0 {
		t.Errorf("notes %q, want none", got.Notes)
	}
}

func TestPhasesAreRadians(t *testing.T) {
	for name, text := range map[string]string{
		"degree": "20 80 -90\n40 81 450\n",
		"rad":    fmt.Sprintf("f level rad\n20 80 %v\n40 81 %v\n", -math.Pi/2, 2.5*math.Pi),
	} {
		got, err := ReadText(strings.NewReader(text))
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		for i, want := range []float64{-math.Pi / 2, 2.5 * math.Pi} {
			if math.Abs(got.Phase[i]-want) > 1e-12 {
				t.Errorf("%s: phase %d is %g, want %g", name, i, got.Phase[i], want)
			}
		}
	}
}

func TestAdvanceUndoesADelay(t *testing.T) {
	const tau = 3e-3
	trace := Trace{Frequency: []float64{20, 1000, 1500}, Level: make([]float64, 3)}
	for _, f := range trace.Frequency {
		trace.Phase = append(trace.Phase, -2*math.Pi*f*tau)
	}
	trace.Advance(tau)
	for i, p := range trace.Phase {
		if math.Abs(p) > 1e-12 {
			t.Errorf("phase at %g Hz is %g, want 0", trace.Frequency[i], p)
		}
	}
}

func FuzzReadText(f *testing.F) {
	for _, seed := range []string{
		"20,6.5,30\n40.5,30.25,-45\n", "\"20\";\"6,5\"\r\n40,5;30,25\r\n", "\xef\xbb\xbff kHz\n20 6\n10 6\n", "f rad\n20\t6\t1\n20\t6\t4.14159\n30 0 0",
		"0 -inf\n10 nan\n20 5\n30 6", "20, 6,1", "nan", "1e400 1", ",,", ";", "\x00", "0x1p4 3", "\"", "20 400\n20 -400\n21 1",
	} {
		f.Add([]byte(seed))
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		s, err := ReadText(strings.NewReader(string(text)))
		if err != nil {
			return
		}
		if len(s.Frequency) < 2 || len(s.Level) != len(s.Frequency) || (s.Phase != nil && len(s.Phase) != len(s.Frequency)) {
			t.Fatalf("lengths %d, %d, %d", len(s.Frequency), len(s.Level), len(s.Phase))
		}
		for i, x := range s.Frequency {
			if !(x > 0 && x <= maxFrequency) || (i > 0 && x <= s.Frequency[i-1]) || math.IsNaN(s.Level[i]) || math.IsInf(s.Level[i], 0) {
				t.Fatalf("point %d: %g Hz, %g dB", i, x, s.Level[i])
			}
		}
		low, high := s.Range()
		if _, err := (Smoothing{Fraction: 3}).Apply(s, []float64{low, math.Sqrt(low * high), high}); err != nil {
			t.Fatal(err)
		}
	})
}
