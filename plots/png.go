package plots

import (
	"image"
	"image/color"
	"image/draw"
	"io"
	"math"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/vgimg"
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
	if p.isSheet(pts) && c.A == 255 {
		draw.Draw(p.c.Image(), p.c.Image().Bounds(), image.NewUniform(c), image.Point{}, draw.Src)
		return
	}
	p.c.SetColor(c)
	path := pathOf(pts)
	path.Close()
	p.c.Fill(path)
}

// isSheet reports whether the corners are those of the whole sheet, whose edges need no
// blending.
func (p pngWriter) isSheet(pts []vg.Point) bool {
	w, h := p.c.Size()
	for _, pt := range pts {
		if pt.X != 0 && pt.X != w || pt.Y != 0 && pt.Y != h {
			return false
		}
	}
	return len(pts) == 4 && pts[0] != pts[1] && pts[1] != pts[2] && pts[0] != pts[2]
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
	m, ok := c.Image().(*image.RGBA)
	if !ok {
		m = image.NewRGBA(c.Image().Bounds())
		draw.Draw(m, m.Bounds(), c.Image(), m.Bounds().Min, draw.Src)
	}
	return encodePNG(w, m, float64(dpi))
}
