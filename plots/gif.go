package plots

import (
	"bytes"
	"cmp"
	"context"
	"errors"
	"fmt"
	"image"
	"image/color"
	"image/gif"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"gapline/internal/wholefile"

	"gonum.org/v1/plot/vg/vgimg"
)

// loopDotsPerInch is the resolution of animated pictures.
const loopDotsPerInch = 110

// CheckLoopPath says whether SaveLoop knows the ending of path.
func CheckLoopPath(path string) error {
	if ext := strings.ToLower(filepath.Ext(path)); ext != ".gif" {
		return fmt.Errorf("moving picture %s: its name must end in .gif", path)
	}
	return nil
}

// SaveLoop draws the frames, which must have one size, and writes them to path
// as a GIF that runs through them once per period without end. The file appears
// whole or not at all; the bytes depend on the frames and the period only. A
// cancelled context ends the drawing with its error.
func SaveLoop(ctx context.Context, path string, frames []Figure, period time.Duration) error {
	if err := CheckLoopPath(path); err != nil {
		return err
	}
	var buf bytes.Buffer
	loop, err := newLoop(ctx, frames, period)
	if err == nil {
		err = gif.EncodeAll(&buf, loop)
	}
	if err != nil {
		return fmt.Errorf("moving picture %s: %w", path, err)
	}
	if err := wholefile.Write(path, buf.Bytes()); err != nil {
		return fmt.Errorf("moving picture %w", err)
	}
	return nil
}

// newLoop draws all frames in one palette.
func newLoop(ctx context.Context, frames []Figure, period time.Duration) (*gif.GIF, error) {
	if len(frames) == 0 {
		return nil, errors.New("no frames")
	}
	var drawn []*image.RGBA
	for _, f := range frames {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		s, err := f.layout()
		if err != nil {
			return nil, err
		}
		c := vgimg.NewWith(vgimg.UseWH(s.width, s.height), vgimg.UseDPI(loopDotsPerInch))
		s.render(pngWriter{c})
		drawn = append(drawn, asRGBA(c.Image()))
		if drawn[0].Rect != drawn[len(drawn)-1].Rect {
			return nil, errors.New("the frames differ in size")
		}
	}
	// A GIF counts time in hundredths of a second; viewers slow down below two.
	delay := max(2, int(period/time.Duration(len(frames))/(10*time.Millisecond)))
	q := newQuantizer(drawn)
	loop := &gif.GIF{}
	for _, img := range drawn {
		loop.Image = append(loop.Image, q.paletted(img))
		loop.Delay = append(loop.Delay, delay)
	}
	return loop, nil
}

// asRGBA returns the image as it is when it has the form, else a copy.
func asRGBA(img image.Image) *image.RGBA {
	if m, ok := img.(*image.RGBA); ok {
		return m
	}
	m := image.NewRGBA(img.Bounds())
	for y := m.Rect.Min.Y; y < m.Rect.Max.Y; y++ {
		for x := m.Rect.Min.X; x < m.Rect.Max.X; x++ {
			m.Set(x, y, img.At(x, y))
		}
	}
	return m
}

// quantizer maps colours to a palette of the commonest ones. The bands of a map
// are few, so what is left over are mixtures at the edges of lines and letters.
type quantizer struct {
	palette color.Palette
	index   map[[3]uint8]uint8
}

func newQuantizer(images []*image.RGBA) *quantizer {
	count := map[[3]uint8]int{}
	for _, img := range images {
		eachRun(img, func(c [3]uint8, n int) { count[c] += n })
	}
	colours := make([][3]uint8, 0, len(count))
	for c := range count {
		colours = append(colours, c)
	}
	slices.SortFunc(colours, func(a, b [3]uint8) int {
		return cmp.Or(cmp.Compare(count[b], count[a]), slices.Compare(a[:], b[:]))
	})
	q := &quantizer{index: map[[3]uint8]uint8{}}
	for i, c := range colours {
		if i < 256 {
			q.palette = append(q.palette, color.RGBA{c[0], c[1], c[2], 0xFF})
		}
		q.index[c] = uint8(q.palette.Index(color.RGBA{c[0], c[1], c[2], 0xFF}))
	}
	return q
}

// eachRun calls f with each run of equal pixels.
func eachRun(img *image.RGBA, f func(c [3]uint8, n int)) {
	var last [3]uint8
	n := 0
	for i := 0; i+3 < len(img.Pix); i += 4 {
		c := [3]uint8{img.Pix[i], img.Pix[i+1], img.Pix[i+2]}
		if n > 0 && c != last {
			f(last, n)
			n = 0
		}
		last = c
		n++
	}
	if n > 0 {
		f(last, n)
	}
}

func (q *quantizer) paletted(img *image.RGBA) *image.Paletted {
	out := image.NewPaletted(img.Rect, q.palette)
	at := 0
	eachRun(img, func(c [3]uint8, n int) {
		k := q.index[c]
		for range n {
			out.Pix[at] = k
			at++
		}
	})
	return out
}
