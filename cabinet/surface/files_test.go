package surface_test

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"testing"

	"gapline/cabinet/layout"
	. "gapline/cabinet/surface"
)

// An independent program reads the STL file of each starter's stack of three as one body
// that is closed, without a facet turned over and of the same volume.
func TestReadByAnotherProgram(t *testing.T) {
	if _, err := exec.LookPath("admesh"); err != nil {
		t.Skip("no admesh: apt-get install admesh")
	}
	for name, d := range starters(t) {
		s := made(t, &d, Options{Frequency: 1000, Boxes: 3, Whole: true, Rigid: []layout.Band{layout.Enclosure}})
		var b bytes.Buffer
		if err := s.STL(&b, name); err != nil {
			t.Fatal(err)
		}
		file := filepath.Join(t.TempDir(), name+".stl")
		if err := os.WriteFile(file, b.Bytes(), 0o600); err != nil {
			t.Fatal(err)
		}
		out, err := exec.Command("admesh", "--exact", "--normal-directions", "--normal-values", file).CombinedOutput()
		if err != nil {
			t.Fatalf("%v: %s", err, out)
		}
		for _, c := range []struct {
			what string
			want float64
			off  float64
		}{
			{`Number of facets\s*:\s*(\d+)`, float64(len(s.Triangles)), 0},
			{`Number of parts\s*:\s*(\d+)`, 1, 0},
			{`Facets with 1 disconnected edge\s*:\s*(\d+)`, 0, 0},
			{`Total disconnected facets\s*:\s*(\d+)`, 0, 0},
			{`Degenerate facets\s*:\s*(\d+)`, 0, 0},
			{`Facets reversed\s*:\s*(\d+)`, 0, 0},
			{`Normals fixed\s*:\s*(\d+)`, 0, 0},
			{`Volume\s*:\s*([-\d.]+)`, s.Volume() * 1e9, s.Volume() * 1e9 * 1e-5}, // single precision
		} {
			m := regexp.MustCompile(c.what).FindSubmatch(out)
			if m == nil {
				t.Fatalf("no %s in\n%s", c.what, out)
			}
			got, err := strconv.ParseFloat(string(m[1]), 64)
			if err != nil || got < c.want-c.off || got > c.want+c.off {
				t.Errorf("%s: %s is %s, want %g", name, c.what, m[1], c.want)
			}
		}
	}
}
