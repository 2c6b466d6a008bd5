package plots

import (
	"bytes"
	"flag"
	"os"
	"path/filepath"
	"testing"

	"gonum.org/v1/plot/cmpimg"
)

var update = flag.Bool("update", false, "rewrite the golden pictures in testdata")

// TestGolden compares a few pictures with those in testdata, so that a change of
// looks is seen and decided on (regression only). After looking at the new ones:
//
//	go test ./plots -run Golden -update
func TestGolden(t *testing.T) {
	const dpi = 72 // small files; shapes and places still show
	all := gallery()
	for _, name := range []string{"strip-compare", "lever", "contour", "response", "polar-half", "drawing", "oblique"} {
		s, err := all[name].layout()
		if err != nil {
			t.Fatal(err)
		}
		var got bytes.Buffer
		if err := writePNG(&got, s, dpi); err != nil {
			t.Fatal(err)
		}
		path := filepath.Join("testdata", name+".png")
		if *update {
			if err := os.WriteFile(path, got.Bytes(), 0o666); err != nil {
				t.Fatal(err)
			}
			continue
		}
		want, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		// A colour difference of 10 % at any pixel; less is rounding of coordinates
		// on other processors.
		if same, err := cmpimg.EqualApprox("png", got.Bytes(), want, 0.1); err != nil || !same {
			new := filepath.Join(t.ArtifactDir(), name+".png")
			os.WriteFile(new, got.Bytes(), 0o666)
			t.Errorf("%s differs from testdata (%v); see %s", name, err, new)
		}
	}
}
