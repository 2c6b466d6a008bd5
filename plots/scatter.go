package plots

import (
	"cmp"
	"errors"
	"fmt"
	"gapline/internal/quantity"
	"math"
	"slices"

	"gonum.org/v1/plot/vg"
)

// Scatter shows designs as points over two results, with those that no other
// design beats in both joined by a line (the Pareto front).
type Scatter struct {
	Caption
	X, Y   Axis
	Points []Point
}

// Point is one design of a Scatter.
type Point struct {
	X, Y    float64
	Label   string // written where there is room, front and present first
	Front   bool   // on the Pareto front
	Present bool   // the design as it stands
}

func (c Scatter) check() error {
	if len(c.Points) == 0 {
		return errors.New("scatter chart without points")
	}
	for i, q := range c.Points {
		if !finite(q.X) || !finite(q.Y) || c.X.Kind != Linear && q.X <= 0 || c.Y.Kind != Linear && q.Y <= 0 {
			return fmt.Errorf("scatter point %d %q at (%g, %g) cannot be drawn", i+1, q.Label, q.X, q.Y)
		}
	}
	return nil
}

// scales settles both axes with some room around the points.
func (c Scatter) scales() (x, y scale, err error) {
	xl, xh, yl, yh := math.Inf(1), math.Inf(-1), math.Inf(1), math.Inf(-1)
	for _, q := range c.Points {
		xl, xh = math.Min(xl, q.X), math.Max(xh, q.X)
		yl, yh = math.Min(yl, q.Y), math.Max(yh, q.Y)
	}
	pad := func(a Axis, low, high float64) (float64, float64) {
		if a.Kind != Linear {
			return low, high
		}
		d := 0.04 * (high - low)
		return low - d, high + d
	}
	xl, xh = pad(c.X, xl, xh)
	yl, yh = pad(c.Y, yl, yh)
	if x, err = c.X.scaleFor(xl, xh, 7); err != nil {
		return x, y, err
	}
	y, err = c.Y.scaleFor(yl, yh, 6)
	return x, y, err
}

func (c Scatter) layout() (*sheet, error) {
	if err := c.check(); err != nil {
		return nil, err
	}
	x, y, err := c.scales()
	if err != nil {
		return nil, err
	}
	const height = mapHeight
	yTicks := c.Y.ticks(y, 8)
	left, room := leftRoom(yTicks, c.Y.title(), height)
	s, body := newSheet(c.describing(c.words()...), height+xTickRoom+xTitleRoom+topRoom)
	top := body.Max.Y - topRoom
	p := panel{rect: rect(body.Min.X+left, top-height, body.Max.X-12, top), x: x, y: y}
	xTicks := c.X.ticks(x, 8)
	p.grid(s, xTicks, yTicks)
	c.drawPoints(s, p)
	p.frame(s, xTicks, yTicks)
	p.yLabels(s, yTicks, c.Y.title(), room)
	p.xLabels(s, xTicks, c.X.title())
	return s, nil
}

// drawPoints draws the front, the points and as many labels as find room.
func (c Scatter) drawPoints(s *sheet, p panel) {
	points := slices.Clone(c.Points)
	// Plain points first, so that the others lie on top; the front from left to right.
	rank := func(q Point) int {
		switch {
		case q.Present:
			return 2
		case q.Front:
			return 1
		}
		return 0
	}
	slices.SortStableFunc(points, func(a, b Point) int { return cmp.Or(cmp.Compare(rank(a), rank(b)), cmp.Compare(a.X, b.X)) })
	place := &placer{bounds: grow(p.rect, -2)}
	var front []vg.Point
	for _, q := range points {
		if q.Front {
			front = append(front, p.at(q.X, q.Y))
		}
	}
	slices.SortStableFunc(front, func(a, b vg.Point) int { return cmp.Compare(a.X, b.X) })
	lines := p.clip(front)
	s.lines(stroke{color: palette[0], width: 1.2}, lines...)
	place.avoid(curveCost, lines...)
	for _, q := range points {
		at := p.at(q.X, q.Y)
		if !within(rect(at.X, at.Y, at.X, at.Y), grow(p.rect, 0.01)) {
			continue
		}
		switch rank(q) {
		case 2:
			s.diamond(ink, at, 4.5)
		case 1:
			s.disc(palette[0], at, 3)
		default:
			s.disc(paper, at, 2.2)
			s.ring(stroke{color: inkSoft, width: 0.8}, at, 2.2)
		}
		place.block(rect(at.X-3.5, at.Y-3.5, at.X+3.5, at.Y+3.5))
	}
	slices.Reverse(points)
	for _, q := range points {
		l := label{text: q.Label, size: noteSize, color: ink, bold: q.Present}
		if rank(q) == 0 {
			l.color = inkSoft
		}
		at := p.at(q.X, q.Y)
		if within(rect(at.X, at.Y, at.X, at.Y), p.rect) {
			place.note(s, at, 5.5, l, 110)
		}
	}
}

// words says how many designs are shown and where the named ones lie.
func (c Scatter) words() []string {
	out := []string{fmt.Sprintf("%d designs, %s over %s", len(c.Points), c.Y.title(), c.X.title())}
	for _, q := range c.Points {
		if q.Label != "" && (q.Front || q.Present) {
			out = append(out, fmt.Sprintf("%s at %s, %s", q.Label, quantity.Significant(q.X, 3), quantity.Significant(q.Y, 3)))
		}
	}
	return out
}
