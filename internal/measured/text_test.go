package measured

import (
	"bufio"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"runtime"
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

// wavy is a response with a slope, ripples and a delay of 2 ms.
func wavy(f float64) (level, degrees float64) {
	return 90 - 3*math.Log2(f/1000) + 2*math.Sin(5*math.Log2(f)), math.Mod(-0.002*f*360, 360)
}

// longTable writes n lines evenly spaced in frequency, in a fixed disorder of blocks.
func longTable(w io.Writer, n int, phase bool) {
	b := bufio.NewWriter(w)
	defer b.Flush()
	fmt.Fprintln(b, "Hz dB")
	for i := range n {
		j := i/1000*1000 + (i*617)%1000
		f := 20 + 19980*float64(j)/float64(n-1)
		level, degrees := wavy(f)
		if phase {
			fmt.Fprintf(b, "%.4f\t%.3f\t%.2f\n", f, level, degrees)
		} else {
			fmt.Fprintf(b, "%.4f\t%.3f\n", f, level)
		}
	}
}

// A table of very many lines is read in the memory of a short one, and gives the
// response that it was made of.
func TestLongTables(t *testing.T) {
	for _, phase := range []bool{false, true} {
		n := 400_000
		r, w := io.Pipe()
		go func() {
			longTable(w, n, phase)
			w.Close()
		}()
		var before, after runtime.MemStats
		runtime.GC()
		runtime.ReadMemStats(&before)
		got, err := ReadText(r)
		if err != nil {
			t.Fatal(err)
		}
		runtime.GC()
		runtime.ReadMemStats(&after)
		if len(got.Frequency) > mostPoints {
			t.Errorf("%d points", len(got.Frequency))
		}
		if grown := int64(after.HeapAlloc) - int64(before.HeapAlloc); grown > 16<<20 {
			t.Errorf("%d bytes are held", grown)
		}
		for i, f := range got.Frequency {
			level, degrees := wavy(f)
			if i > 0 && !(f > got.Frequency[i-1]) {
				t.Fatalf("%g Hz after %g Hz", f, got.Frequency[i-1])
			}
			// Within 1/1024 of an octave a delay of 2 ms turns by 10 degrees at 20 kHz,
			// which takes 0.01 dB; the mean over a cell is at its mean frequency.
			if math.Abs(got.Level[i]-level) > 0.02 {
				t.Fatalf("%.3f dB at %g Hz, want %.3f", got.Level[i], f, level)
			}
			if phase {
				if d := math.Remainder(got.Phase[i]*180/math.Pi-degrees, 360); math.Abs(d) > 0.5 {
					t.Fatalf("phase off by %.3g degrees at %g Hz", d, f)
				}
			}
		}
		if !slices.ContainsFunc(got.Notes, func(s string) bool { return strings.Contains(s, "joined to") }) {
			t.Errorf("notes %q", got.Notes)
		}
	}
}
