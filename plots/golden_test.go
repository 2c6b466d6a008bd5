package plots

import (
	"bytes"
	"flag"
	"image"
	"image/png"
	"os"
	"path/filepath"
	"testing"
)

var update = flag.Bool("update", false, "rewrite the golden pictures in testdata")

// TestGolden compares a few pictures with those in testdata, so that a change of
// looks is seen and decided on (regression only). After looking at the new ones:
//
//	go test ./plots -run Golden -update
func TestGolden(t *testing.T) {
	const dpi = 72 // small files; shapes and places still show
	all := gallery()
	for _, name := range []string{"strip-compare", "lever", "contour", "response", "polar-half", "drawing"} {
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
		if same, err := samePicture(got.Bytes(), want, 0.1); err != nil || !same {
			new := filepath.Join(t.ArtifactDir(), name+".png")
			os.WriteFile(new, got.Bytes(), 0o666)
			t.Errorf("%s differs from testdata (%v); see %s", name, err, new)
		}
	}
}

// samePicture compares two PNG files channel by channel; delta is the largest
// difference allowed, as a share of full scale.
func samePicture(a, b []byte, delta float64) (bool, error) {
	var imgs [2]image.Image
	for i, raw := range [][]byte{a, b} {
		img, err := png.Decode(bytes.NewReader(raw))
		if err != nil {
			return false, err
		}
		imgs[i] = img
	}
	if imgs[0].Bounds() != imgs[1].Bounds() {
		return false, nil
	}
	limit := delta * 0xFFFF
	off := func(x, y uint32) bool { return float64(max(x, y)-min(x, y)) > limit }
	r := imgs[0].Bounds()
	for y := r.Min.Y; y < r.Max.Y; y++ {
		for x := r.Min.X; x < r.Max.X; x++ {
			r0, g0, b0, a0 := imgs[0].At(x, y).RGBA()
			r1, g1, b1, a1 := imgs[1].At(x, y).RGBA()
			if off(r0, r1) || off(g0, g1) || off(b0, b1) || off(a0, a1) {
				return false, nil
			}
		}
	}
	return true, nil
}
