package plots

import (
	"math"

	"gonum.org/v1/plot/vg"
)

// Measures of the rings that mark what is computed but cannot be built, in points.
const (
	ringRadius vg.Length = 2.4
	ringApart  vg.Length = 9 // between neighbours
)

// hollow draws a ring at those of the points that are marked, thinned so that rings stay
// apart.
func (s *sheet) hollow(st stroke, points []vg.Point, marked []bool) {
	st = stroke{color: st.color, width: 1}
	var drawn []vg.Point
	for i, at := range points {
		if i < len(marked) && marked[i] && clear(at, drawn) {
			s.disc(paper, at, ringRadius)
			s.ring(st, at, ringRadius)
			drawn = append(drawn, at)
		}
	}
}

// clear reports whether a ring at the point stays apart from those drawn.
func clear(at vg.Point, drawn []vg.Point) bool {
	for _, d := range drawn {
		if math.Hypot(float64(at.X-d.X), float64(at.Y-d.Y)) < float64(ringApart) {
			return false
		}
	}
	return true
}

// drawHollow marks the places of the map that cannot be built.
func (p *mapPlan) drawHollow(s *sheet) {
	var points []vg.Point
	var marked []bool
	for j, row := range p.Hollow {
		for i, is := range row {
			if at := p.at(p.XValues[i], p.YValues[j]); within(rect(at.X, at.Y, at.X, at.Y), grow(p.rect, 0.01)) && !math.IsNaN(p.Z[j][i]) {
				points, marked = append(points, at), append(marked, is)
			}
		}
	}
	s.hollow(stroke{color: ink}, points, marked)
}
