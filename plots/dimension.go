package plots

import (
	"image/color"
	"math"

	"gonum.org/v1/plot/vg"
)

// ends are the points the dimension line runs between, and the measured points.
func (m Dimension) ends(p panel) (a, b, from, to vg.Point) {
	from, to = p.at(m.X0, m.Y0), p.at(m.X1, m.Y1)
	d := to.Sub(from)
	n := vg.Length(math.Hypot(float64(d.X), float64(d.Y)))
	if n == 0 {
		return from, to, from, to
	}
	side := vg.Point{X: -d.Y / n, Y: d.X / n}.Scale(vg.Length(m.Offset))
	return from.Add(side), to.Add(side), from, to
}

// drawLines draws extension lines, dimension line and arrow heads. Arrows of
// short dimensions point inward from outside.
func (m Dimension) drawLines(s *sheet, p panel) [][]vg.Point {
	st := stroke{color: closedInk, width: 0.6}
	a, b, from, to := m.ends(p)
	d := b.Sub(a)
	n := vg.Length(math.Hypot(float64(d.X), float64(d.Y)))
	if n == 0 {
		return nil
	}
	u := vg.Point{X: d.X / n, Y: d.Y / n}
	line := []vg.Point{a, b}
	inward := n < 3*arrowLength
	if inward {
		line = []vg.Point{a.Sub(u.Scale(2 * arrowLength)), b.Add(u.Scale(2 * arrowLength))}
		arrow(s, st.color, a, u)
		arrow(s, st.color, b, u.Scale(-1))
	} else {
		arrow(s, st.color, a, u.Scale(-1))
		arrow(s, st.color, b, u)
	}
	all := [][]vg.Point{line}
	if m.Offset != 0 {
		all = append(all, extension(from, a), extension(to, b))
	}
	all = p.clip(all...)
	s.lines(st, all...)
	return all
}

// extension runs from just off the measured point to just past the dimension line.
func extension(from, to vg.Point) []vg.Point {
	d := to.Sub(from)
	n := vg.Length(math.Hypot(float64(d.X), float64(d.Y)))
	u := vg.Point{X: d.X / n, Y: d.Y / n}
	return []vg.Point{from.Add(u.Scale(min(2, n/2))), to.Add(u.Scale(2.5))}
}

// arrow fills an arrow head with its tip at a point, pointing along u.
func arrow(s *sheet, c color.NRGBA, tip, u vg.Point) {
	base := tip.Sub(u.Scale(arrowLength))
	side := vg.Point{X: -u.Y * arrowHalf, Y: u.X * arrowHalf}
	s.area(c, tip, base.Add(side), base.Sub(side))
}

// writeText puts the measure on the dimension line or close to it; upright lines
// carry their text turned along the line.
func (m Dimension) writeText(s *sheet, p panel, place *placer) {
	text := cut(clean(m.Text), noteSize, false, 140)
	if text == "" {
		return
	}
	a, b, _, _ := m.ends(p)
	up := math.Abs(float64(b.X-a.X)) < 0.2*math.Abs(float64(b.Y-a.Y))
	w, h := textWidth(text, noteSize, false), noteSize*(boxAscent+boxDescent)
	if up {
		w, h = h, w
	}
	var spots []vg.Rectangle
	beside := noteSize*(boxAscent+boxDescent)/2 + 2
	for _, t := range []vg.Length{0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8, -0.3, 1.3} {
		at := vg.Point{X: a.X + t*(b.X-a.X), Y: a.Y + t*(b.Y-a.Y)}
		for _, shift := range []vg.Length{beside, 0, -beside} { // above the line as the text reads
			q := at
			if up {
				q.X -= shift
			} else {
				q.Y += shift
			}
			spots = append(spots, rect(q.X-w/2, q.Y-h/2, q.X+w/2, q.Y+h/2))
		}
	}
	mid := vg.Point{X: (a.X + b.X) / 2, Y: (a.Y + b.Y) / 2}
	r, _, ok := place.bestOf(append(spots, place.around(mid, w, h, 6)...), func() []vg.Rectangle { return place.everywhere(mid, w, h) }, 0.4)
	if !ok {
		return
	}
	l := label{text: text, at: vg.Point{X: (r.Min.X + r.Max.X) / 2, Y: (r.Min.Y + r.Max.Y) / 2}, alignX: 0.5, alignY: 0.5, size: noteSize, color: closedInk, up: up}
	s.plated(l)
}
