package plots

import (
	"image"
	"image/color"

	"gonum.org/v1/plot/vg"
)

// stroke says how a line is drawn.
type stroke struct {
	color color.NRGBA
	width vg.Length
	dash  []vg.Length
}

// label is one line of text and where it stands.
type label struct {
	text string
	at   vg.Point
	// alignX and alignY say which part of the text lies at the point: 0 left or
	// bottom, 0.5 middle, 1 right or top. For a text turned upright (up), X and
	// Y are those of the text's own reading direction.
	alignX, alignY float64
	size           vg.Length
	bold           bool
	color          color.NRGBA
	up             bool // reads upward, turned by 90 degrees
	runsOn         bool // the sentence goes on in the next label
}

// writer turns the parts of a sheet into one file format.
type writer interface {
	lines(st stroke, lines [][]vg.Point)
	area(c color.NRGBA, pts []vg.Point)
	picture(r vg.Rectangle, img image.Image)
	words(l placedLabel)
}

// placedLabel is a label with its baseline's start and its box worked out.
type placedLabel struct {
	label
	origin vg.Point
	width  vg.Length
	box    vg.Rectangle
}

// sheet is a picture before it is written: its size, its parts in drawing
// order, and the boxes of all texts.
type sheet struct {
	width, height vg.Length
	zoom          vg.Length // how much larger a page shows it; 0: as it is
	title, desc   string
	parts         []func(writer)
	texts         []placedLabel
}

// lines adds one or more connected lines in one style.
func (s *sheet) lines(st stroke, lines ...[]vg.Point) {
	kept := lines[:0:0]
	for _, l := range lines {
		if len(l) > 1 {
			kept = append(kept, l)
		}
	}
	if len(kept) > 0 {
		s.parts = append(s.parts, func(w writer) { w.lines(st, kept) })
	}
}

// line adds one straight line.
func (s *sheet) line(st stroke, x0, y0, x1, y1 vg.Length) {
	s.lines(st, []vg.Point{{X: x0, Y: y0}, {X: x1, Y: y1}})
}

// area fills a closed polygon.
func (s *sheet) area(c color.NRGBA, pts ...vg.Point) {
	if len(pts) > 2 {
		s.parts = append(s.parts, func(w writer) { w.area(c, pts) })
	}
}

// fillRect fills a rectangle.
func (s *sheet) fillRect(c color.NRGBA, r vg.Rectangle) { s.area(c, corners(r)...) }

// strokeRect draws the outline of a rectangle.
func (s *sheet) strokeRect(st stroke, r vg.Rectangle) {
	c := corners(r)
	s.lines(st, append(c, c[0], c[1]))
}

// picture scales an image into a rectangle.
func (s *sheet) picture(r vg.Rectangle, img image.Image) {
	s.parts = append(s.parts, func(w writer) { w.picture(r, img) })
}

// text adds a label and returns the box it fills. An empty text adds nothing.
func (s *sheet) text(l label) vg.Rectangle {
	p := placeLabel(l)
	if p.text == "" {
		return p.box
	}
	s.texts = append(s.texts, p)
	s.parts = append(s.parts, func(w writer) { w.words(p) })
	return p.box
}

// plated adds a label on a white plate that keeps grid lines and hatches off it.
func (s *sheet) plated(l label) vg.Rectangle {
	if p := placeLabel(l); p.text != "" {
		s.fillRect(plate, grow(p.box, 0.8))
	}
	return s.text(l)
}

// textLines adds a block of lines, the first one on top; l.at is the point of
// the block named by l.alignX and l.alignY.
func (s *sheet) textLines(lines []string, l label) {
	pitch := l.size * lineSpacing
	height := pitch*vg.Length(len(lines)-1) + l.size*(boxAscent+boxDescent)
	top := l.at.Y + height*vg.Length(1-l.alignY)
	for i, text := range lines {
		li := l
		li.text, li.alignY = text, 1
		li.at.Y = top - pitch*vg.Length(i)
		s.text(li)
	}
}

// placeLabel works out origin and box of a label.
func placeLabel(l label) placedLabel {
	l.text = clean(l.text)
	p := placedLabel{label: l, width: textWidth(l.text, l.size, l.bold)}
	along := -p.width * vg.Length(l.alignX)
	var across vg.Length // from the point to the baseline
	switch l.alignY {
	case 0.5:
		across = -l.size * capHeight / 2
	default:
		across = l.size * vg.Length(boxDescent-(boxAscent+boxDescent)*l.alignY)
	}
	lo, hi := across-l.size*boxDescent, across+l.size*boxAscent
	if l.up {
		p.origin = vg.Point{X: l.at.X - across, Y: l.at.Y + along}
		p.box = rect(l.at.X-hi, l.at.Y+along, l.at.X-lo, l.at.Y+along+p.width)
		return p
	}
	p.origin = vg.Point{X: l.at.X + along, Y: l.at.Y + across}
	p.box = rect(l.at.X+along, l.at.Y+lo, l.at.X+along+p.width, l.at.Y+hi)
	return p
}

// render sends the sheet to a writer.
func (s *sheet) render(w writer) {
	for _, part := range s.parts {
		part(w)
	}
}

func rect(x0, y0, x1, y1 vg.Length) vg.Rectangle {
	return vg.Rectangle{Min: vg.Point{X: x0, Y: y0}, Max: vg.Point{X: x1, Y: y1}}
}

func corners(r vg.Rectangle) []vg.Point {
	return []vg.Point{r.Min, {X: r.Max.X, Y: r.Min.Y}, r.Max, {X: r.Min.X, Y: r.Max.Y}}
}

// grow returns r enlarged by d on all sides.
func grow(r vg.Rectangle, d vg.Length) vg.Rectangle {
	return rect(r.Min.X-d, r.Min.Y-d, r.Max.X+d, r.Max.Y+d)
}

// meet says whether two rectangles share an area.
func meet(a, b vg.Rectangle) bool {
	return a.Min.X < b.Max.X && b.Min.X < a.Max.X && a.Min.Y < b.Max.Y && b.Min.Y < a.Max.Y
}

// within says whether a lies wholly inside b.
func within(a, b vg.Rectangle) bool {
	return a.Min.X >= b.Min.X && a.Max.X <= b.Max.X && a.Min.Y >= b.Min.Y && a.Max.Y <= b.Max.Y
}
