package plots

import (
	"bytes"
	"image"
	"image/color"
	"image/png"
	"math/rand/v2"
	"testing"
)

// What the library's decoder reads back is the image, pixel by pixel.
func TestPNGAgainstTheLibrary(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 2))
	for _, size := range []image.Point{{1, 1}, {3, 2}, {64, 33}, {301, 200}} {
		m := image.NewRGBA(image.Rectangle{Max: size})
		for y := range size.Y {
			for x := range size.X {
				c := color.RGBA{uint8(x), uint8(y / 7), 200, 255}
				if r.IntN(5) == 0 {
					c = color.RGBA{uint8(r.IntN(256)), uint8(r.IntN(256)), uint8(r.IntN(256)), 255}
				}
				m.SetRGBA(x, y, c)
			}
		}
		var file bytes.Buffer
		if err := encodePNG(&file, m, 254); err != nil {
			t.Fatal(err)
		}
		got, err := png.Decode(&file)
		if err != nil {
			t.Fatal(err)
		}
		if got.Bounds() != m.Bounds() {
			t.Fatalf("bounds %v, want %v", got.Bounds(), m.Bounds())
		}
		for y := range size.Y {
			for x := range size.X {
				if color.RGBAModel.Convert(got.At(x, y)) != m.RGBAAt(x, y) {
					t.Fatalf("%v: pixel %d, %d is %v, want %v", size, x, y, got.At(x, y), m.RGBAAt(x, y))
				}
			}
		}
	}
}
