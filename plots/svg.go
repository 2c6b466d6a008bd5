package plots

import (
	"bytes"
	"encoding/base64"
	"fmt"
	"html"
	"image"
	"image/color"
	"image/png"
	"io"
	"strconv"

	"gonum.org/v1/plot/vg"
)

// fontFamily names metric-compatible fonts first and ends in a generic family,
// so that a machine without the fonts keeps the layout.
const fontFamily = "Liberation Sans, Arimo, Arial, Helvetica, sans-serif"

// svgWriter collects SVG elements; y is turned over to point down.
type svgWriter struct {
	buf    bytes.Buffer
	height vg.Length
	err    error
}

func (s *svgWriter) lines(st stroke, lines [][]vg.Point) {
	fmt.Fprintf(&s.buf, `<path fill="none"%s stroke-width="%s"`, paint("stroke", st.color), number(st.width))
	if len(st.dash) > 0 {
		s.buf.WriteString(` stroke-dasharray="`)
		for i, d := range st.dash {
			if i > 0 {
				s.buf.WriteByte(' ')
			}
			s.buf.WriteString(number(d))
		}
		s.buf.WriteByte('"')
	}
	s.buf.WriteString(` d="`)
	for _, l := range lines {
		s.path(l)
	}
	s.buf.WriteString("\"/>\n")
}

func (s *svgWriter) area(c color.NRGBA, pts []vg.Point) {
	fmt.Fprintf(&s.buf, `<path%s d="`, paint("fill", c))
	s.path(pts)
	s.buf.WriteString("Z\"/>\n")
}

func (s *svgWriter) path(pts []vg.Point) {
	for i, p := range pts {
		if i == 0 {
			s.buf.WriteByte('M')
		} else {
			s.buf.WriteByte('L')
		}
		s.buf.WriteString(number(p.X) + " " + number(s.height-p.Y))
	}
}

func (s *svgWriter) picture(r vg.Rectangle, img image.Image) {
	var raw bytes.Buffer
	if err := png.Encode(&raw, img); err != nil && s.err == nil {
		s.err = err
	}
	fmt.Fprintf(&s.buf, `<image x="%s" y="%s" width="%s" height="%s" preserveAspectRatio="none" href="data:image/png;base64,%s"/>`+"\n",
		number(r.Min.X), number(s.height-r.Max.Y), number(r.Max.X-r.Min.X), number(r.Max.Y-r.Min.Y),
		base64.StdEncoding.EncodeToString(raw.Bytes()))
}

// words states the measured length of each text, so that another font is
// squeezed or spread to the same place instead of running into its neighbour;
// programs that know no textLength at least keep the anchor.
func (s *svgWriter) words(l placedLabel) {
	anchor, at := "start", l.origin
	shift := l.width * vg.Length(l.alignX)
	switch l.alignX {
	case 0.5:
		anchor = "middle"
	case 1:
		anchor = "end"
	default:
		shift = 0
	}
	if l.up {
		at.Y += shift
	} else {
		at.X += shift
	}
	x, y := number(at.X), number(s.height-at.Y)
	fmt.Fprintf(&s.buf, `<text x="%s" y="%s" font-size="%s"`, x, y, number(l.size))
	if anchor != "start" {
		fmt.Fprintf(&s.buf, ` text-anchor="%s"`, anchor)
	}
	if l.bold {
		s.buf.WriteString(` font-weight="bold"`)
	}
	if l.up {
		fmt.Fprintf(&s.buf, ` transform="rotate(-90 %s %s)"`, x, y)
	}
	fmt.Fprintf(&s.buf, ` textLength="%s" lengthAdjust="spacingAndGlyphs"%s>%s</text>`+"\n",
		number(l.width), paint("fill", l.color), html.EscapeString(l.text))
}

// paint writes a colour attribute, with its opacity if it has one.
func paint(attr string, c color.NRGBA) string {
	s := fmt.Sprintf(` %s="#%02X%02X%02X"`, attr, c.R, c.G, c.B)
	if c.A != 0xFF {
		s += fmt.Sprintf(` %s-opacity="%s"`, attr, strconv.FormatFloat(float64(c.A)/255, 'f', 3, 64))
	}
	return s
}

// number writes a length rounded to 1/100 point: finer than any eye, coarse
// enough that the last bits of an architecture's arithmetic do not show.
func number(v vg.Length) string {
	s := strconv.FormatFloat(float64(v), 'f', 2, 64)
	for s[len(s)-1] == '0' {
		s = s[:len(s)-1]
	}
	if s[len(s)-1] == '.' {
		s = s[:len(s)-1]
	}
	if s == "-0" {
		return "0"
	}
	return s
}

// writeSVG writes the sheet as one svg element. id is the stem of the two ids
// that tie the text alternative to the picture.
func writeSVG(w io.Writer, s *sheet, id string) error {
	sw := &svgWriter{height: s.height}
	s.render(sw)
	if sw.err != nil {
		return sw.err
	}
	id = html.EscapeString(id)
	zoom := s.zoom
	if zoom == 0 {
		zoom = 1
	}
	_, err := fmt.Fprintf(w, `<svg xmlns="http://www.w3.org/2000/svg" width="%[8]spt" height="%[9]spt" viewBox="0 0 %[1]s %[2]s" role="img" aria-labelledby="%[3]s-title %[3]s-desc" font-family="%[4]s">
<title id="%[3]s-title">%[5]s</title>
<desc id="%[3]s-desc">%[6]s</desc>
%[7]s</svg>
`, number(s.width), number(s.height), id, fontFamily, html.EscapeString(s.title), html.EscapeString(s.desc), sw.buf.String(), number(zoom*s.width), number(zoom*s.height))
	return err
}
