package plots

import (
	"cmp"
	"image/color"
	"math"
	"slices"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// scale maps a value to its place on an axis, 0 to 1.
type scale struct {
	low, high float64
	log       bool
}

func (s scale) unit(v float64) float64 {
	if s.log {
		return math.Log(v/s.low) / math.Log(s.high/s.low)
	}
	return (v - s.low) / (s.high - s.low)
}

// clamp limits v to the axis.
func (s scale) clamp(v float64) float64 { return min(max(v, s.low), s.high) }

// panel is one set of axes on a sheet.
type panel struct {
	rect vg.Rectangle
	x, y scale
}

func (p panel) xAt(v float64) vg.Length {
	return p.rect.Min.X + vg.Length(p.x.unit(v))*(p.rect.Max.X-p.rect.Min.X)
}

func (p panel) yAt(v float64) vg.Length {
	return p.rect.Min.Y + vg.Length(p.y.unit(v))*(p.rect.Max.Y-p.rect.Min.Y)
}

func (p panel) at(x, y float64) vg.Point { return vg.Point{X: p.xAt(x), Y: p.yAt(y)} }

// clip cuts connected lines to the panel.
func (p panel) clip(lines ...[]vg.Point) [][]vg.Point {
	c := draw.Canvas{Rectangle: p.rect}
	return c.ClipLinesXY(lines...)
}

// clipArea cuts a polygon to the panel.
func (p panel) clipArea(pts []vg.Point) []vg.Point {
	c := draw.Canvas{Rectangle: p.rect}
	return c.ClipPolygonXY(pts)
}

// grid draws minor and major grid lines.
func (p panel) grid(s *sheet, xTicks, yTicks []tick) {
	var minor, major [][]vg.Point
	add := func(t tick, l []vg.Point) {
		if t.major {
			major = append(major, l)
		} else {
			minor = append(minor, l)
		}
	}
	for _, t := range xTicks {
		x := p.xAt(t.value)
		add(t, []vg.Point{{X: x, Y: p.rect.Min.Y}, {X: x, Y: p.rect.Max.Y}})
	}
	for _, t := range yTicks {
		y := p.yAt(t.value)
		add(t, []vg.Point{{X: p.rect.Min.X, Y: y}, {X: p.rect.Max.X, Y: y}})
	}
	s.lines(stroke{color: gridMinor, width: 0.5}, minor...)
	s.lines(stroke{color: gridMajor, width: 0.5}, major...)
}

// frame draws the panel's outline and the tick marks outside it.
func (p panel) frame(s *sheet, xTicks, yTicks []tick) {
	var marks [][]vg.Point
	for _, t := range xTicks {
		x := p.xAt(t.value)
		marks = append(marks, []vg.Point{{X: x, Y: p.rect.Min.Y}, {X: x, Y: p.rect.Min.Y - tickLength(t)}})
	}
	for _, t := range yTicks {
		y := p.yAt(t.value)
		marks = append(marks, []vg.Point{{X: p.rect.Min.X, Y: y}, {X: p.rect.Min.X - tickLength(t), Y: y}})
	}
	s.lines(stroke{color: frameInk, width: 0.6}, marks...)
	s.strokeRect(stroke{color: frameInk, width: 0.8}, p.rect)
}

func tickLength(t tick) vg.Length {
	if t.major {
		return 3.5
	}
	return 1.8
}

// Heights and gaps around a panel.
const (
	xTickRoom  vg.Length = 5 + tickSize*(boxAscent+boxDescent) // below the panel: tick labels
	xTitleRoom vg.Length = 4 + labelSize*(boxAscent+boxDescent)
	yTickGap   vg.Length = 5.5
	yTitleRoom vg.Length = 6 + labelSize*(boxAscent+boxDescent)
)

// xLabels writes tick labels and the axis title below the panel. Labels that
// would touch a more important one are left out.
func (p panel) xLabels(s *sheet, ticks []tick, title string) {
	var taken []vg.Rectangle
	for _, t := range byImportance(ticks) {
		half := textWidth(t.text, tickSize, false) / 2
		x := min(max(p.xAt(t.value), half), s.width-half)
		l := label{text: t.text, at: vg.Point{X: x, Y: p.rect.Min.Y - 5}, alignX: 0.5, alignY: 1, size: tickSize, color: ink}
		box := grow(placeLabel(l).box, 2)
		if slices.ContainsFunc(taken, func(r vg.Rectangle) bool { return meet(r, box) }) {
			continue
		}
		taken = append(taken, box)
		s.text(l)
	}
	if title != "" {
		mid := (p.rect.Min.X + p.rect.Max.X) / 2
		title = cut(clean(title), labelSize, false, min(p.rect.Max.X-p.rect.Min.X+40, s.width-2))
		half := textWidth(title, labelSize, false)/2 + 1
		mid = min(max(mid, half), s.width-half)
		s.text(label{text: title, at: vg.Point{X: mid, Y: p.rect.Min.Y - xTickRoom - 4}, alignX: 0.5, alignY: 1, size: labelSize, color: ink})
	}
}

// yLabels writes tick labels and the upright axis title left of the panel;
// room is the width kept for the tick labels.
func (p panel) yLabels(s *sheet, ticks []tick, title string, room vg.Length) {
	var taken []vg.Rectangle
	for _, t := range byImportance(ticks) {
		l := label{text: t.text, at: vg.Point{X: p.rect.Min.X - yTickGap, Y: p.yAt(t.value)}, alignX: 1, alignY: 0.5, size: tickSize, color: ink}
		box := grow(placeLabel(l).box, 0.5)
		if slices.ContainsFunc(taken, func(r vg.Rectangle) bool { return meet(r, box) }) {
			continue
		}
		taken = append(taken, box)
		s.text(l)
	}
	height := p.rect.Max.Y - p.rect.Min.Y
	lines := wrap(title, labelSize, false, height, 2)
	for i, text := range lines {
		x := p.rect.Min.X - yTickGap - room - 5 - vg.Length(len(lines)-1-i)*labelSize*lineSpacing
		s.text(label{text: text, at: vg.Point{X: x, Y: p.rect.Min.Y + height/2}, alignX: 0.5, alignY: 0, size: labelSize, color: ink, up: true})
	}
}

// leftRoom is the width yLabels needs left of a panel of the given height.
func leftRoom(ticks []tick, title string, height vg.Length) (total, tickRoom vg.Length) {
	for _, t := range ticks {
		tickRoom = max(tickRoom, textWidth(t.text, tickSize, false))
	}
	total = yTickGap + tickRoom
	if n := len(wrap(title, labelSize, false, height, 2)); n > 0 {
		total += yTitleRoom + vg.Length(n-1)*labelSize*lineSpacing
	}
	return total, tickRoom
}

// byImportance returns the labelled ticks: powers of ten and zero first, then the
// ends, then the rest.
func byImportance(ticks []tick) []tick {
	var major []tick
	for _, t := range ticks {
		if t.major && t.text != "" {
			major = append(major, t)
		}
	}
	rank := make(map[float64]int, len(major))
	for i, t := range major {
		lg := math.Log10(math.Abs(t.value))
		switch {
		case t.value == 0 || math.Abs(lg-math.Round(lg)) < 1e-9:
			rank[t.value] = 0
		case i == 0 || i == len(major)-1:
			rank[t.value] = 1
		default:
			rank[t.value] = 2
		}
	}
	slices.SortStableFunc(major, func(a, b tick) int { return cmp.Compare(rank[a.value], rank[b.value]) })
	return major
}

// hatch fills a rectangle with slanted lines.
func (s *sheet) hatch(st stroke, r vg.Rectangle, pitch vg.Length) {
	var lines [][]vg.Point
	h := r.Max.Y - r.Min.Y
	// Lines start at multiples of the pitch on the sheet, so that neighbouring
	// rectangles join.
	for x := vg.Length(math.Floor(float64((r.Min.X-h)/pitch))) * pitch; x < r.Max.X; x += pitch {
		lines = append(lines, []vg.Point{{X: x, Y: r.Min.Y}, {X: x + h, Y: r.Max.Y}})
	}
	c := draw.Canvas{Rectangle: r}
	s.lines(st, c.ClipLinesXY(lines...)...)
}

// textOn returns white or ink, whichever reads better on c.
func textOn(c color.NRGBA) color.NRGBA {
	l := luminance(c)
	if 1.05/(l+0.05) >= (l+0.05)/(luminance(ink)+0.05) {
		return paper
	}
	return ink
}
