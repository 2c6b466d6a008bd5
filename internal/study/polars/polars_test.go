package polars

import (
	"fmt"
	"math"
	"math/cmplx"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"gapline/cabinet/field"
	"gapline/cabinet/pattern"
	"gapline/cabinet/source"
)

// point is a source 0.2 m beside, above and behind the middle of the mouths, in air of 345 m/s: far
// away its pressure is e^{jk u·x}, with another one in front of it.
func point(u field.Vec, f float64) complex128 {
	k := 2 * math.Pi * f / 345
	return cmplx.Rect(1, k*u.Dot(field.Vec{X: -0.1, Y: 0.2, Z: 0.1})) + cmplx.Rect(0.5, k*u.Dot(field.Vec{X: 0.1, Y: -0.1}))
}

var tones = []float64{100, 315, 1000}

// turntable writes tables of the point, every step degrees from low to high in both planes.
func turntable(t *testing.T, step, low, high float64, phases bool, head string) string {
	t.Helper()
	dir := t.TempDir()
	for plane, names := range map[string][2]string{"vertical": {"up", "down"}, "horizontal": {"left", "right"}} {
		for a := low; a <= high+1e-9; a += step {
			side := names[0]
			switch {
			case a == 0:
				side = "axis"
			case a < 0:
				side = names[1]
			}
			u := pattern.UprightDirection(a * math.Pi / 180)
			if plane == "horizontal" {
				u = pattern.LevelDirection(a * math.Pi / 180)
			}
			text := head
			for _, f := range tones {
				p := point(u, f)
				text += fmt.Sprintf("%g\t%.6f", f, 94+20*math.Log10(cmplx.Abs(p)))
				if phases {
					text += fmt.Sprintf("\t%.5f", cmplx.Phase(p)*180/math.Pi)
				}
				text += "\n"
			}
			put(t, filepath.Join(dir, fmt.Sprintf("%s-%s-%05.1f.txt", plane, side, math.Abs(a))), text)
		}
	}
	return dir
}

func put(t *testing.T, path, text string) {
	t.Helper()
	if err := os.WriteFile(path, []byte(text), 0o666); err != nil {
		t.Fatal(err)
	}
}

// What was written comes back: every direction of both planes, in level and phase against the axis, to
// the digits of the tables.
func TestReadBack(t *testing.T) {
	for _, phases := range []bool{true, false} {
		dir := turntable(t, 5, -180, 180, phases, "# measured by hand\n# frequency, Hz\tlevel, dB\tphase, deg\n")
		put(t, filepath.Join(dir, "README.txt"), "not a polar")
		got, err := Load(t.Context(), dir, source.Woofers)
		if err != nil {
			t.Fatal(err)
		}
		if got.Kind != source.ByMeasured || got.Band != source.Woofers || got.Predicted || !got.FromMouths || !math.IsNaN(got.Volts) || got.Name != filepath.Base(dir) {
			t.Errorf("%+v", got)
		}
		if len(got.Notes) > 0 == phases {
			t.Errorf("phases %v: notes %q", phases, got.Notes)
		}
		for _, f := range tones {
			axis := point(field.Vec{X: 1}, f)
			for a := -175.0; a < 180; a += 5 {
				for _, u := range []field.Vec{pattern.UprightDirection(a * math.Pi / 180), pattern.LevelDirection(a * math.Pi / 180)} {
					p, want := got.Of.At(u, f), point(u, f)/axis
					if !phases {
						want = complex(cmplx.Abs(want), 0)
					}
					if cmplx.Abs(p-want) > 1e-5 {
						t.Fatalf("phases %v, %g Hz, %g degrees: %v, want %v", phases, f, a, p, want)
					}
				}
			}
		}
	}
}

// Half a turntable will do, and is said.
func TestOneSide(t *testing.T) {
	got, err := Load(t.Context(), turntable(t, 10, 0, 100, true, "# gapline predicted; trust aperture; mouths in the open; 1 box\n"), "")
	if err != nil || !got.Predicted || len(got.Notes) != 2 {
		t.Fatal(got, err)
	}
}

func TestFaultsOfFolders(t *testing.T) {
	whole := func() string { return turntable(t, 30, -180, 180, true, "") }
	for name, c := range map[string]struct {
		dir  func() string
		want string
	}{
		"empty": {t.TempDir, "no table of the vertical plane"},
		"none":  {func() string { return filepath.Join(t.TempDir(), "x") }, "no such"},
		"of a stack": {func() string {
			return turntable(t, 30, -180, 180, true, "# gapline predicted; trust aperture; no floor; 7 boxes\n")
		}, "a stack of 7 boxes"},
		"too narrow": {func() string { return turntable(t, 30, -60, 60, true, "") }, "before 90 degrees"},
		"no axis":    {func() string { return turntable(t, 30, -165, 165, true, "") }, "no direction ahead"},
		"no level":   {func() string { d := whole(); removeAll(t, d, "horizontal"); return d }, "horizontal plane"},
		"frequencies": {func() string {
			d := whole()
			put(t, filepath.Join(d, "vertical-up-030.0.txt"), "100 90 0\n200 90 0\n")
			return d
		}, "other frequencies"},
		"twice": {func() string {
			d := whole()
			put(t, filepath.Join(d, "vertical-up-30.txt"), "100 90 0\n315 90 0\n1000 9 0\n")
			return d
		}, "one angle"},
		"beyond": {func() string {
			d := whole()
			put(t, filepath.Join(d, "vertical-up-190.0.txt"), "100 90 0\n315 90 0\n1000 9 0\n")
			return d
		}, "180 degrees"},
		"wrong side": {func() string { d := whole(); put(t, filepath.Join(d, "vertical-left-030.0.txt"), ""); return d }, "no left side"},
		"no numbers": {func() string { d := whole(); put(t, filepath.Join(d, "vertical-up-030.0.txt"), "hello\n"); return d }, "no line with a frequency"},
	} {
		if _, err := Load(t.Context(), c.dir(), ""); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want a word of %q", name, err, c.want)
		}
	}
}

func removeAll(t *testing.T, dir, plane string) {
	t.Helper()
	list, _ := filepath.Glob(filepath.Join(dir, plane+"-*"))
	for _, path := range list {
		if err := os.Remove(path); err != nil {
			t.Fatal(err)
		}
	}
}

// Of many lines those next to 24ths of an octave are taken, the first and the range kept.
func TestPick(t *testing.T) {
	var hz []float64
	for i := 1; i <= 4096; i++ {
		hz = append(hz, 4*float64(i))
	}
	got := pick(hz)
	if got[0] != 0 || len(got) > 12*24+1 || len(got) < 200 || hz[got[len(got)-1]] < 15000 {
		t.Errorf("%d lines, to %g Hz", len(got), hz[got[len(got)-1]])
	}
}
