package plots

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
	"image"
	"image/color"
	"io"
	"math"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/vgimg"

	"gapline/internal/quantity"
)

// dotsPerInch is the resolution of PNG files: 10 pixels per millimetre.
const dotsPerInch = 254

// pngWriter draws on a raster.
type pngWriter struct{ c *vgimg.Canvas }

func (p pngWriter) lines(st stroke, lines [][]vg.Point) {
	p.c.SetColor(st.color)
	p.c.SetLineWidth(st.width)
	p.c.SetLineDash(st.dash, 0)
	for _, l := range lines {
		p.c.Stroke(pathOf(l))
	}
}

func (p pngWriter) area(c color.NRGBA, pts []vg.Point) {
	p.c.SetColor(c)
	path := pathOf(pts)
	path.Close()
	p.c.Fill(path)
}

func (p pngWriter) picture(r vg.Rectangle, img image.Image) { p.c.DrawImage(r, img) }

func (p pngWriter) words(l placedLabel) {
	p.c.SetColor(l.color)
	if !l.up {
		p.c.FillString(face(l.size, l.bold), l.origin, l.text)
		return
	}
	p.c.Push()
	p.c.Translate(l.origin)
	p.c.Rotate(math.Pi / 2)
	p.c.FillString(face(l.size, l.bold), vg.Point{}, l.text)
	p.c.Pop()
}

func pathOf(pts []vg.Point) vg.Path {
	path := make(vg.Path, 0, len(pts)+1)
	path.Move(pts[0])
	for _, pt := range pts[1:] {
		path.Line(pt)
	}
	return path
}

// writePNG writes the sheet as PNG of the given resolution that knows its
// printed size.
func writePNG(w io.Writer, s *sheet, dpi int) error {
	c := vgimg.NewWith(vgimg.UseWH(s.width, s.height), vgimg.UseDPI(dpi))
	s.render(pngWriter{c})
	var buf bytes.Buffer
	if _, err := (vgimg.PngCanvas{Canvas: c}).WriteTo(&buf); err != nil {
		return err
	}
	// The standard encoder has no place for the resolution: put the pHYs chunk
	// (ISO/IEC 15948, 11.3.5.3) behind the 8-byte signature and the 25-byte IHDR.
	const head = 8 + 25
	raw := buf.Bytes()
	for _, part := range [][]byte{raw[:head], physChunk(float64(dpi)), raw[head:]} {
		if _, err := w.Write(part); err != nil {
			return err
		}
	}
	return nil
}

// physChunk builds a PNG chunk that states the resolution.
func physChunk(dpi float64) []byte {
	perMetre := uint32(math.Round(dpi / quantity.OneInch))
	b := binary.BigEndian.AppendUint32(nil, 9)
	b = append(b, "pHYs"...)
	b = binary.BigEndian.AppendUint32(b, perMetre)
	b = binary.BigEndian.AppendUint32(b, perMetre)
	b = append(b, 1) // unit: metre
	return binary.BigEndian.AppendUint32(b, crc32.ChecksumIEEE(b[4:]))
}
