package plots

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/plot/vg"
)

// Drawing is a view of a part to scale: outlines, rays, dimension lines and
// notes on axes in one unit of length.
type Drawing struct {
	Caption
	X, Y       Axis // labels and unit, such as "z (forward)", "mm"
	Shapes     []Shape
	Dimensions []Dimension
	Notes      []Mark // a dot with a text
}

// Shape is a connected line of a Drawing.
type Shape struct {
	Label  string // written beside the line; may be empty
	X, Y   []float64
	Kind   ShapeKind
	Closed bool // joined from the last point to the first
}

// ShapeKind is how a line of a drawing is drawn.
type ShapeKind int

// The kinds of line, after the usual engineering-drawing conventions.
const (
	Outline ShapeKind = iota // visible edge
	Wall                     // the wall that matters: bold, hatched on no side
	Hidden                   // behind another layer: dashed
	CentreLine
	Ray   // thin, coloured
	Layer // filled with a light tint; closed
	Clash // cannot be built: bold and hatched; closed
)

func (k ShapeKind) stroke() stroke {
	switch k {
	case Wall:
		return stroke{color: ink, width: 2.4}
	case Hidden:
		return stroke{color: inkSoft, width: 0.9, dash: dashPatterns[ShortDash]}
	case CentreLine:
		return stroke{color: inkSoft, width: 0.6, dash: dashPatterns[DashDot]}
	case Ray:
		return stroke{color: palette[1], width: 0.6}
	case Layer:
		return stroke{color: palette[0], width: 0.8}
	case Clash:
		return stroke{color: palette[5], width: 2}
	}
	return stroke{color: ink, width: 1.1}
}

// Dimension is a measure between two points, drawn as a line with arrow heads,
// moved sideways from the points by Offset with extension lines.
type Dimension struct {
	X0, Y0, X1, Y1 float64
	Offset         float64 // points on the sheet; positive: to the left of the way from 0 to 1
	Text           string  // the measure with its unit
}

// Measures of drawings, in points.
const (
	drawingPad  vg.Length = 44 // between the geometry and the frame: room for dimensions
	drawingMax  vg.Length = 430
	arrowLength vg.Length = 6
	arrowHalf   vg.Length = 1.7
)

func (d Drawing) check() error {
	if len(d.Shapes) == 0 {
		return errors.New("drawing without shapes")
	}
	for _, sh := range d.Shapes {
		if err := (Curve{Label: sh.Label, X: sh.X, Y: sh.Y}).check(false, false); err != nil {
			return fmt.Errorf("drawing: %w", err)
		}
	}
	for _, m := range d.Dimensions {
		if !finite(m.X0) || !finite(m.Y0) || !finite(m.X1) || !finite(m.Y1) || !finite(m.Offset) {
			return fmt.Errorf("dimension %q has an end that is not finite", m.Text)
		}
	}
	for _, n := range d.Notes {
		if !finite(n.X) || !finite(n.Y) {
			return fmt.Errorf("note %q at (%g, %g) cannot be drawn", n.Text, n.X, n.Y)
		}
	}
	return nil
}

// extent is the box of everything that is drawn to scale.
func (d Drawing) extent() (x, y scale) {
	x, y = scale{low: math.Inf(1), high: math.Inf(-1)}, scale{low: math.Inf(1), high: math.Inf(-1)}
	add := func(px, py float64) {
		if !math.IsNaN(px) && !math.IsNaN(py) {
			x.low, x.high = math.Min(x.low, px), math.Max(x.high, px)
			y.low, y.high = math.Min(y.low, py), math.Max(y.high, py)
		}
	}
	for _, sh := range d.Shapes {
		for i := range sh.X {
			add(sh.X[i], sh.Y[i])
		}
	}
	for _, m := range d.Dimensions {
		add(m.X0, m.Y0)
		add(m.X1, m.Y1)
	}
	for _, n := range d.Notes {
		add(n.X, n.Y)
	}
	return x, y
}

func (d Drawing) layout() (*sheet, error) {
	if err := d.check(); err != nil {
		return nil, err
	}
	x, y := d.extent()
	if x.high-x.low == 0 && y.high-y.low == 0 {
		return nil, errors.New("drawing without extent: all points are one")
	}
	var p panel
	var xTicks, yTicks []tick
	left, tickRoom := d.pick(0, 12), vg.Length(0)
	pad := vg.Point{X: d.pick(drawingPad, 28), Y: d.pick(drawingPad, 28)}
	for range 3 { // tick labels, width, height and dimensions depend on each other
		p = fitDrawing(x, y, d.bodyWidth()-left-12, pad, d.pick(drawingMax, 220))
		if beyond := d.beyond(p); d.narrow {
			pad = pad.Add(beyond)
		}
		ratio := float64(p.rect.Max.X) / (p.x.high - p.x.low)
		step, parts := niceStep(40 / ratio) // labels every 40 points or more, alike on both axes
		xTicks = steppedTicks(p.x.low, p.x.high, step, parts, decimalsOf(step))
		yTicks = steppedTicks(p.y.low, p.y.high, step, parts, decimalsOf(step))
		if !d.narrow { // there the dimensions and the axis below have to do
			left, tickRoom = leftRoom(yTicks, d.Y.title(), p.rect.Max.Y)
		}
	}
	s, body := newSheet(d.describing(d.words()...), p.rect.Max.Y+xTickRoom+xTitleRoom+topRoom)
	corner := vg.Point{X: body.Min.X + left, Y: body.Max.Y - topRoom - p.rect.Max.Y}
	p.rect = vg.Rectangle{Min: corner, Max: p.rect.Max.Add(corner)}
	p.grid(s, xTicks, yTicks)
	d.draw(s, p)
	p.frame(s, xTicks, yTicks)
	if !d.narrow {
		p.yLabels(s, yTicks, d.Y.title(), tickRoom)
	}
	p.xLabels(s, xTicks, d.X.title())
	return s, nil
}

// beyond is how far dimension lines would stand out of the panel, with room for their texts.
func (d Drawing) beyond(p panel) (out vg.Point) {
	const text = noteSize + 4
	for _, m := range d.Dimensions {
		a, b, _, _ := m.ends(p)
		for _, e := range []vg.Point{a, b} {
			out.X = max(out.X, p.rect.Min.X-e.X, e.X-p.rect.Max.X)
			out.Y = max(out.Y, p.rect.Min.Y-e.Y+text, e.Y-p.rect.Max.Y+text)
		}
	}
	return out
}

// fitDrawing scales geometry of the given extent, both axes alike, to a panel of
// the given width with its corner at the origin, with room for dimensions about it.
func fitDrawing(x, y scale, width vg.Length, pad vg.Point, most vg.Length) panel {
	room := width - 2*pad.X
	ratio := min(float64(room)/math.Max(x.high-x.low, 1e-12), float64(most-2*pad.Y)/math.Max(y.high-y.low, 1e-12))
	height := vg.Length((y.high-y.low)*ratio) + 2*pad.Y
	midX, midY := (x.low+x.high)/2, (y.low+y.high)/2
	halfX, halfY := float64(width)/ratio/2, float64(height)/ratio/2
	return panel{rect: rect(0, 0, width, height),
		x: scale{low: midX - halfX, high: midX + halfX}, y: scale{low: midY - halfY, high: midY + halfY}}
}

// draw draws shapes, then dimensions, then texts where they fit.
func (d Drawing) draw(s *sheet, p panel) {
	place := &placer{bounds: grow(p.rect, -2)}
	lines := make([][][]vg.Point, len(d.Shapes))
	for i, sh := range d.Shapes {
		lines[i] = sh.draw(s, p)
		place.avoid(curveCost, lines[i]...)
	}
	for _, m := range d.Dimensions {
		place.avoid(guideCost, m.drawLines(s, p)...)
	}
	for _, m := range d.Dimensions {
		m.writeText(s, p, place)
	}
	for _, n := range d.Notes {
		at := p.at(n.X, n.Y)
		s.disc(ink, at, 2)
		place.block(rect(at.X-3, at.Y-3, at.X+3, at.Y+3))
	}
	for _, n := range d.Notes {
		place.note(s, p.at(n.X, n.Y), 5, label{text: n.Text, size: noteSize, color: ink}, 120)
	}
	for i, sh := range d.Shapes {
		if len(lines[i]) > 0 && sh.Label != "" {
			l := lines[i][0]
			place.note(s, l[len(l)/2], 4, label{text: sh.Label, size: noteSize, color: textColour(sh.Kind.stroke().color)}, 120)
		}
	}
}

// draw draws one shape and returns its visible lines.
func (sh Shape) draw(s *sheet, p panel) [][]vg.Point {
	runs := Curve{X: sh.X, Y: sh.Y}.runs(p)
	if sh.Kind == Layer {
		tint := sh.Kind.stroke().color
		tint.A = 0x1C
		for _, run := range runs {
			s.area(tint, run...)
		}
	}
	if sh.Kind == Clash {
		st := sh.Kind.stroke()
		st.width = 0.5
		for _, run := range runs {
			s.lines(st, hatchedPolygon(run, 5)...)
		}
	}
	if sh.Closed {
		for i, run := range runs {
			runs[i] = append(run, run[0])
		}
	}
	s.lines(sh.Kind.stroke(), runs...)
	return runs
}

// words lists the measures and the named parts.
func (d Drawing) words() []string {
	var out []string
	for _, m := range d.Dimensions {
		out = append(out, m.Text)
	}
	for _, sh := range d.Shapes {
		out = append(out, sh.Label)
	}
	for _, n := range d.Notes {
		out = append(out, n.Text)
	}
	return out
}
