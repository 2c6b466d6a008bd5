package plots

import (
	"bytes"
	"context"
	"errors"
	"image/gif"
	"os"
	"path/filepath"
	"testing"
	"time"
)

// swing is a map whose values turn round from one frame to the next.
func swing(sign float64) Map {
	return Map{
		Caption: invented("Pressure at one instant", "made up"),
		X:       Axis{Label: "x", Unit: "m"}, Y: Axis{Label: "y", Unit: "m"},
		XValues: []float64{0, 1, 2}, YValues: []float64{0, 1},
		Z:     [][]float64{{-sign, 0, sign}, {-sign, 0, sign}},
		Value: Axis{Label: "Pressure", Low: -1, High: 1}, Levels: []float64{-0.6, -0.2, 0.2, 0.6},
		Scheme: PressureScheme, BoldOnly: true,
	}
}

func TestSaveLoop(t *testing.T) {
	path := filepath.Join(t.TempDir(), "swing.gif")
	frames := []Figure{swing(1), swing(-1)}
	if err := SaveLoop(t.Context(), path, frames, 600*time.Millisecond); err != nil {
		t.Fatal(err)
	}
	first, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	g, err := gif.DecodeAll(bytes.NewReader(first))
	if err != nil {
		t.Fatal(err)
	}
	if len(g.Image) != 2 || g.LoopCount != 0 || g.Delay[0] != 30 {
		t.Errorf("%d frames, %d loops, delay %d: want 2, 0 for endless, 30 hundredths", len(g.Image), g.LoopCount, g.Delay[0])
	}
	// The left of the map is below zero and blue first, above and orange then.
	b := g.Image[0].Bounds()
	x, y := b.Dx()/5, b.Dy()/2
	r0, _, b0, _ := g.Image[0].At(x, y).RGBA()
	r1, _, b1, _ := g.Image[1].At(x, y).RGBA()
	if !(b0 > r0 && r1 > b1) {
		t.Errorf("colours red/blue %d/%d, then %d/%d: want blue, then orange", r0>>8, b0>>8, r1>>8, b1>>8)
	}
	if err := SaveLoop(t.Context(), path, frames, 600*time.Millisecond); err != nil {
		t.Fatal(err)
	}
	if again, _ := os.ReadFile(path); !bytes.Equal(first, again) {
		t.Error("the same frames give other bytes")
	}
}

func TestSaveLoopErrors(t *testing.T) {
	dir := t.TempDir()
	wantErr(t, SaveLoop(t.Context(), filepath.Join(dir, "a.png"), []Figure{swing(1)}, time.Second), "must end in .gif")
	wantErr(t, SaveLoop(t.Context(), filepath.Join(dir, "a.gif"), nil, time.Second), "no frames")
	wantErr(t, SaveLoop(t.Context(), filepath.Join(dir, "a.gif"), []Figure{broken{}}, time.Second), "no data")
	wantErr(t, SaveLoop(t.Context(), filepath.Join(dir, "a.gif"), []Figure{swing(1), stripExample()}, time.Second), "differ in size")
	wantErr(t, SaveLoop(t.Context(), filepath.Join(dir, "none", "a.gif"), []Figure{swing(1)}, time.Second), "cannot write in folder")
	cancelled, cancel := context.WithCancel(t.Context())
	cancel()
	if err := SaveLoop(cancelled, filepath.Join(dir, "a.gif"), []Figure{swing(1)}, time.Second); !errors.Is(err, context.Canceled) {
		t.Errorf("cancelled: err = %v", err)
	}
	wantFiles(t, dir)
}

func TestPressureSchemeIsEvenAboutZero(t *testing.T) {
	last := 2.0
	for i := range 51 {
		v := float64(i) / 50
		up, down := luminance(PressureScheme.colour(v, -1, 1)), luminance(PressureScheme.colour(-v, -1, 1))
		if up > last+0.004 || up > 0.97 && v > 0.5 {
			t.Errorf("brightens at %g: %g after %g", v, up, last)
		}
		if d := up - down; d > 0.1 || d < -0.1 {
			t.Errorf("±%g differ in lightness: %g and %g", v, up, down)
		}
		last = up
	}
}
