package plots

import (
	"bytes"
	"compress/zlib"
	"encoding/hex"
	"fmt"
	"image"
	"image/color"
	"io"
	"slices"
	"unicode/utf16"

	"gonum.org/v1/plot/vg"
)

// pdfWriter collects the drawing commands of one page and what they need. The
// document is written here rather than by vg/vgpdf because that one stamps the
// clock, lists fonts in random order and knows the Windows-1252 letters only:
// no minus sign, no ohm, no theta. (ISO 32000-1.)
type pdfWriter struct {
	page   bytes.Buffer
	fonts  [2]*pdfFont // regular, bold
	alphas []uint8
	images []image.Image
	err    error
}

func (p *pdfWriter) colour(c color.NRGBA, op string) {
	if !slices.Contains(p.alphas, c.A) {
		p.alphas = append(p.alphas, c.A)
	}
	fmt.Fprintf(&p.page, "/A%d gs %.3f %.3f %.3f %s\n", c.A, float64(c.R)/255, float64(c.G)/255, float64(c.B)/255, op)
}

func (p *pdfWriter) path(pts []vg.Point) {
	for i, pt := range pts {
		op := "l"
		if i == 0 {
			op = "m"
		}
		fmt.Fprintf(&p.page, "%s %s %s\n", number(pt.X), number(pt.Y), op)
	}
}

func (p *pdfWriter) lines(st stroke, lines [][]vg.Point) {
	p.colour(st.color, "RG")
	fmt.Fprintf(&p.page, "%s w [", number(st.width))
	for _, d := range st.dash {
		p.page.WriteString(number(d) + " ")
	}
	p.page.WriteString("] 0 d\n")
	for _, l := range lines {
		p.path(l)
	}
	p.page.WriteString("S\n")
}

func (p *pdfWriter) area(c color.NRGBA, pts []vg.Point) {
	p.colour(c, "rg")
	p.path(pts)
	p.page.WriteString("f\n")
}

func (p *pdfWriter) picture(r vg.Rectangle, img image.Image) {
	p.images = append(p.images, img)
	fmt.Fprintf(&p.page, "/A255 gs q %s 0 0 %s %s %s cm /I%d Do Q\n",
		number(r.Max.X-r.Min.X), number(r.Max.Y-r.Min.Y), number(r.Min.X), number(r.Min.Y), len(p.images)-1)
	if !slices.Contains(p.alphas, 255) {
		p.alphas = append(p.alphas, 255)
	}
}

func (p *pdfWriter) words(l placedLabel) {
	n := 0
	if l.bold {
		n = 1
	}
	if p.fonts[n] == nil {
		f, err := newPDFFont(l.bold)
		if err != nil {
			p.err = err
			return
		}
		p.fonts[n] = f
	}
	p.colour(l.color, "rg")
	turn := "1 0 0 1"
	if l.up {
		turn = "0 1 -1 0"
	}
	text := l.text
	if l.runsOn {
		text += " " // so that programs that read the text do not join two words
	}
	fmt.Fprintf(&p.page, "BT /F%d %s Tf %s %s %s Tm <%s> Tj ET\n",
		n, number(l.size), turn, number(l.origin.X), number(l.origin.Y), p.fonts[n].encode(text))
}

// writePDF writes the sheet as a PDF of one page of the sheet's size.
func writePDF(w io.Writer, s *sheet) error {
	p := &pdfWriter{}
	s.render(p)
	if p.err != nil {
		return p.err
	}
	doc := &pdfDocument{}
	catalog, pages, page := doc.reserve(), doc.reserve(), doc.reserve()
	resources := p.resources(doc)
	content := doc.stream("", p.page.Bytes())
	doc.set(catalog, fmt.Sprintf("<< /Type /Catalog /Pages %d 0 R >>", pages))
	doc.set(pages, fmt.Sprintf("<< /Type /Pages /Kids [%d 0 R] /Count 1 >>", page))
	doc.set(page, fmt.Sprintf("<< /Type /Page /Parent %d 0 R /MediaBox [0 0 %s %s] /Resources << %s >> /Contents %d 0 R >>",
		pages, number(s.width), number(s.height), resources, content))
	info := doc.add(fmt.Sprintf("<< /Title %s /Subject %s /Producer (gapline) >>", pdfString(s.title), pdfString(s.desc)))
	_, err := w.Write(doc.bytes(catalog, info))
	return err
}

// resources adds fonts, images and opacities to the document and returns the
// page's resource entries.
func (p *pdfWriter) resources(doc *pdfDocument) string {
	var b bytes.Buffer
	b.WriteString("/Font <<")
	for i, f := range p.fonts {
		if f != nil {
			fmt.Fprintf(&b, " /F%d %d 0 R", i, f.embed(doc))
		}
	}
	b.WriteString(" >> /XObject <<")
	for i, img := range p.images {
		fmt.Fprintf(&b, " /I%d %d 0 R", i, addImage(doc, img))
	}
	b.WriteString(" >> /ExtGState <<")
	slices.Sort(p.alphas)
	for _, a := range p.alphas {
		fmt.Fprintf(&b, " /A%d << /ca %.3f /CA %.3f >>", a, float64(a)/255, float64(a)/255)
	}
	b.WriteString(" >>")
	return b.String()
}

// addImage adds an image with its opacity as a soft mask.
func addImage(doc *pdfDocument, img image.Image) int {
	b := img.Bounds()
	rgb := make([]byte, 0, 3*b.Dx()*b.Dy())
	mask := make([]byte, 0, b.Dx()*b.Dy())
	for y := b.Min.Y; y < b.Max.Y; y++ {
		for x := b.Min.X; x < b.Max.X; x++ {
			c := color.NRGBAModel.Convert(img.At(x, y)).(color.NRGBA)
			rgb = append(rgb, c.R, c.G, c.B)
			mask = append(mask, c.A)
		}
	}
	size := fmt.Sprintf("/Type /XObject /Subtype /Image /Width %d /Height %d /BitsPerComponent 8", b.Dx(), b.Dy())
	soft := doc.stream(size+" /ColorSpace /DeviceGray", mask)
	return doc.stream(fmt.Sprintf("%s /ColorSpace /DeviceRGB /SMask %d 0 R", size, soft), rgb)
}

// pdfDocument is a list of numbered objects.
type pdfDocument struct{ objects []string }

func (d *pdfDocument) reserve() int           { return d.add("") }
func (d *pdfDocument) set(n int, body string) { d.objects[n-1] = body }
func (d *pdfDocument) add(body string) int {
	d.objects = append(d.objects, body)
	return len(d.objects)
}
func (d *pdfDocument) stream(dict string, data []byte) int {
	var z bytes.Buffer
	zw := zlib.NewWriter(&z)
	// A bytes.Buffer takes whatever is written to it: neither call can fail.
	_, _ = zw.Write(data)
	_ = zw.Close()
	return d.add(fmt.Sprintf("<< %s /Filter /FlateDecode /Length %d >>\nstream\n%s\nendstream", dict, z.Len(), z.Bytes()))
}

// bytes writes the document out with its cross-reference table.
func (d *pdfDocument) bytes(catalog, info int) []byte {
	var b bytes.Buffer
	b.WriteString("%PDF-1.6\n%\xE2\xE3\xCF\xD3\n")
	offsets := make([]int, len(d.objects))
	for i, body := range d.objects {
		offsets[i] = b.Len()
		fmt.Fprintf(&b, "%d 0 obj\n%s\nendobj\n", i+1, body)
	}
	start := b.Len()
	fmt.Fprintf(&b, "xref\n0 %d\n0000000000 65535 f \n", len(d.objects)+1)
	for _, o := range offsets {
		fmt.Fprintf(&b, "%010d 00000 n \n", o)
	}
	fmt.Fprintf(&b, "trailer\n<< /Size %d /Root %d 0 R /Info %d 0 R >>\nstartxref\n%d\n%%%%EOF\n", len(d.objects)+1, catalog, info, start)
	return b.Bytes()
}

// pdfString writes any text as a UTF-16 string object.
func pdfString(s string) string {
	b := []byte{0xFE, 0xFF}
	for _, u := range utf16.Encode([]rune(s)) {
		b = append(b, byte(u>>8), byte(u))
	}
	return "<" + hex.EncodeToString(b) + ">"
}
