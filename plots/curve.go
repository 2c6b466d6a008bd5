package plots

import (
	"fmt"
	"image/color"
	"math"

	"gonum.org/v1/plot/vg"
)

// Curve is one line of a chart.
type Curve struct {
	Label string    // written at the curve's end
	X, Y  []float64 // same length; NaN in Y breaks the curve
	// Low and High, if given, bound a shaded band about the curve, such as 5 to
	// 95 %. Same length as X.
	Low, High []float64
	Dash      Dash
	Colour    int  // palette number 1 to 6; 0: the next one in turn
	Thin      bool // a guide, drawn thin
	Dots      bool // mark each point
	// Hollow marks points by rings: computed, but for something that cannot be built. nil:
	// none; else of the same length as X.
	Hollow []bool
}

// check returns what is wrong with the curve's data.
func (c Curve) check(xLog, yLog bool) error {
	name := c.Label
	if name == "" {
		name = "without label"
	}
	if len(c.X) == 0 {
		return fmt.Errorf("curve %q has no points", name)
	}
	if len(c.Y) != len(c.X) {
		return fmt.Errorf("curve %q has %d x values and %d y values", name, len(c.X), len(c.Y))
	}
	if c.Colour < 0 || c.Colour > len(palette) {
		return fmt.Errorf("curve %q: colour %d is not within 0 to %d", name, c.Colour, len(palette))
	}
	if (c.Low == nil) != (c.High == nil) || c.Low != nil && (len(c.Low) != len(c.X) || len(c.High) != len(c.X)) {
		return fmt.Errorf("curve %q: the band needs a low and a high value for each of its %d points", name, len(c.X))
	}
	for i, x := range c.X {
		if !finite(x) || xLog && x <= 0 {
			return fmt.Errorf("curve %q: x value %d is %g", name, i+1, x)
		}
	}
	shown := 0
	for _, values := range [][]float64{c.Y, c.Low, c.High} {
		for i, y := range values {
			if math.IsNaN(y) {
				continue
			}
			if math.IsInf(y, 0) || yLog && y <= 0 {
				return fmt.Errorf("curve %q: value %d, at x = %g, is %g", name, i+1, c.X[i], y)
			}
			shown++
		}
	}
	if shown == 0 {
		return fmt.Errorf("curve %q has no valid values: all %d are NaN", name, len(c.Y))
	}
	return nil
}

// extent widens a range by the curve's values within x range.
func (c Curve) extent(low, high float64, x scale) (float64, float64) {
	for _, values := range [][]float64{c.Y, c.Low, c.High} {
		for i, v := range values {
			if !math.IsNaN(v) && c.X[i] >= x.low && c.X[i] <= x.high {
				low, high = math.Min(low, v), math.Max(high, v)
			}
		}
	}
	return low, high
}

// runs splits the curve at NaN into connected lines on the panel, not clipped.
func (c Curve) runs(p panel) [][]vg.Point {
	var lines [][]vg.Point
	var run []vg.Point
	for i, y := range c.Y {
		if math.IsNaN(y) {
			if run != nil {
				lines = append(lines, run)
			}
			run = nil
			continue
		}
		run = append(run, p.at(c.X[i], y))
	}
	if run != nil {
		lines = append(lines, run)
	}
	return lines
}

// bandAreas returns the band's polygons, clipped to the panel.
func (c Curve) bandAreas(p panel) [][]vg.Point {
	var areas [][]vg.Point
	var up, down []vg.Point
	flush := func() {
		up, down = thin(up), thin(down)
		for i := len(down) - 1; i >= 0; i-- {
			up = append(up, down[i])
		}
		if len(up) > 3 {
			areas = append(areas, p.clipArea(up))
		}
		up, down = nil, nil
	}
	for i := range c.Low {
		if math.IsNaN(c.Low[i]) || math.IsNaN(c.High[i]) {
			flush()
			continue
		}
		up = append(up, p.at(c.X[i], c.High[i]))
		down = append(down, p.at(c.X[i], c.Low[i]))
	}
	flush()
	return areas
}

// stroke is the curve's line when it is the i-th of its panel.
func (c Curve) stroke(i int) stroke {
	st := curveStroke(i, c.Dash)
	if c.Colour > 0 {
		st.color = palette[c.Colour-1]
	}
	if c.Thin {
		st.width = 0.8
	}
	return st
}

// draw draws band, line and dots and returns the visible lines.
func (c Curve) draw(s *sheet, p panel, st stroke) [][]vg.Point {
	var dots []vg.Point
	runs := c.runs(p)
	for _, run := range runs {
		if c.Dots || len(run) == 1 { // a lone point would be invisible
			dots = append(dots, run...)
		}
	}
	for i := range runs {
		runs[i] = thin(runs[i])
	}
	lines := p.clip(runs...)
	s.lines(st, lines...)
	inside := grow(p.rect, 0.01)
	for _, pt := range dots {
		if meet(rect(pt.X, pt.Y, pt.X+1e-6, pt.Y+1e-6), inside) {
			s.disc(st.color, pt, 2.2)
			lines = append(lines, []vg.Point{pt})
		}
	}
	c.drawHollow(s, p, st)
	return lines
}

func (c Curve) drawHollow(s *sheet, p panel, st stroke) {
	var points []vg.Point
	var marked []bool
	for i, y := range c.Y {
		if i < len(c.Hollow) && !math.IsNaN(y) {
			if at := p.at(c.X[i], y); within(rect(at.X, at.Y, at.X, at.Y), grow(p.rect, 0.01)) {
				points, marked = append(points, at), append(marked, c.Hollow[i])
			}
		}
	}
	s.hollow(st, points, marked)
}

// thinTo is the width in points within which the points of a line count as one
// column: half a pixel of a PNG.
const thinTo vg.Length = 72.0 / dotsPerInch / 2

// thin leaves out points of a line that no eye would miss: of those that follow
// each other in one column it keeps the first, the lowest, the highest and the
// last, in their order.
func thin(line []vg.Point) []vg.Point {
	if len(line) < 5 {
		return line
	}
	out := line[:0:0]
	for start := 0; start < len(line); {
		column := math.Floor(float64(line[start].X / thinTo))
		low, high, end := start, start, start+1
		for ; end < len(line) && math.Floor(float64(line[end].X/thinTo)) == column; end++ {
			if line[end].Y < line[low].Y {
				low = end
			}
			if line[end].Y > line[high].Y {
				high = end
			}
		}
		last := -1
		for _, i := range []int{start, min(low, high), max(low, high), end - 1} {
			if i > last {
				out = append(out, line[i])
				last = i
			}
		}
		start = end
	}
	return out
}

// lastPoint is the visible point farthest to the right.
func lastPoint(lines [][]vg.Point) (vg.Point, bool) {
	best, ok := vg.Point{}, false
	for _, l := range lines {
		for _, pt := range l {
			if !ok || pt.X >= best.X {
				best, ok = pt, true
			}
		}
	}
	return best, ok
}

// disc fills a circle.
func (s *sheet) disc(c color.NRGBA, at vg.Point, r vg.Length) { s.area(c, circle(at, r)...) }

// ring draws a circle.
func (s *sheet) ring(st stroke, at vg.Point, r vg.Length) {
	c := circle(at, r)
	s.lines(st, append(c, c[0]))
}

// circle is a polygon close to a circle: its edges miss it by less than 1/100
// of the radius, and by less than 1/10 point.
func circle(at vg.Point, r vg.Length) []vg.Point {
	n := max(24, int(math.Ceil(8*math.Sqrt(float64(r)))))
	pts := make([]vg.Point, n)
	for i := range pts {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		pts[i] = vg.Point{X: at.X + r*vg.Length(cos), Y: at.Y + r*vg.Length(sin)}
	}
	return pts
}

// diamond is the mark of the present design.
func (s *sheet) diamond(fill color.NRGBA, at vg.Point, r vg.Length) {
	d := func(r vg.Length) []vg.Point {
		return []vg.Point{{X: at.X, Y: at.Y - r}, {X: at.X + r, Y: at.Y}, {X: at.X, Y: at.Y + r}, {X: at.X - r, Y: at.Y}}
	}
	s.area(paper, d(r+1.6)...)
	s.area(fill, d(r)...)
}
