package plots

import (
	"cmp"
	"image/color"
	"math"
	"slices"
	"strconv"
	"strings"

	"gonum.org/v1/plot/vg"
)

// contourLine is a drawn contour on the sheet.
type contourLine struct {
	pts  []vg.Point
	text string
	bold bool
}

// boldText returns the label of a bold level.
func (p *mapPlan) boldText(level float64) (string, bool) {
	for _, b := range p.Bold {
		if math.Abs(b.Value-level) < (p.high-p.low)*1e-9 {
			if b.Text != "" {
				return b.Text, true
			}
			return p.levelText(level), true
		}
	}
	return p.levelText(level), false
}

// levelText writes a contour level with as few decimals as tell it exactly, four
// at most.
func (p *mapPlan) levelText(v float64) string {
	if math.Abs(v) < (p.high-p.low)*1e-9 {
		v = 0
	}
	s := strconv.FormatFloat(v, 'f', 4, 64)
	s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	return strings.Replace(s, "-", minusSign, 1)
}

// drawContours draws all contour lines, dark on light bands and light on dark
// ones, bold ones with a white seam.
func (p *mapPlan) drawContours(s *sheet) []contourLine {
	fine := p.table.refine(mapFine)
	var all []contourLine
	for _, bold := range []bool{false, true} {
		for k, level := range p.levels {
			text, strong := p.boldText(level)
			if strong != bold || p.BoldOnly && !bold {
				continue
			}
			var lines [][]vg.Point
			for _, l := range fine.contour(level) {
				pts := make([]vg.Point, len(l))
				for i, q := range l {
					pts[i] = vg.Point{
						X: p.rect.Min.X + vg.Length(q.x)*(p.rect.Max.X-p.rect.Min.X),
						Y: p.rect.Min.Y + vg.Length(q.y)*(p.rect.Max.Y-p.rect.Min.Y)}
				}
				lines = append(lines, p.clip(pts)...)
			}
			for _, l := range lines {
				all = append(all, contourLine{l, text, bold})
			}
			st := stroke{color: ink, width: 0.6}
			if luminance(p.bands[k].(color.NRGBA)) < 0.2 {
				st.color = paper
			}
			if bold {
				s.lines(stroke{color: paper, width: 3}, lines...)
				st = stroke{color: ink, width: 1.7}
			}
			s.lines(st, lines...)
		}
	}
	return all
}

// labelContours writes the level on each contour that is long enough, where the
// line runs flat and nothing else is written.
func (p *mapPlan) labelContours(s *sheet, place *placer, lines []contourLine) {
	slices.SortStableFunc(lines, func(a, b contourLine) int { // bold first, then longest
		if a.bold != b.bold {
			if a.bold {
				return -1
			}
			return 1
		}
		return cmp.Compare(lineLength(b.pts), lineLength(a.pts))
	})
	done := map[string][]vg.Point{}
	for _, l := range lines {
		if lineLength(l.pts) < minLabelled || len(done[l.text]) >= labelsPerLevel {
			continue
		}
		size := noteSize - 0.5
		if l.bold {
			size = noteSize
		}
		text := cut(clean(l.text), size, l.bold, p.rect.Max.X-p.rect.Min.X-10)
		w, h := textWidth(text, size, l.bold), size*(boxAscent+boxDescent)
		var spots []vg.Rectangle
		for _, at := range flatPlaces(l.pts) {
			if slices.ContainsFunc(done[l.text], func(q vg.Point) bool { return lineLength([]vg.Point{q, at}) < labelApart }) {
				continue
			}
			if p.covered(at) {
				continue
			}
			spots = append(spots, rect(at.X-w/2, at.Y-h/2, at.X+w/2, at.Y+h/2))
		}
		if r, _, ok := place.best(spots, 0.5); ok {
			mid := vg.Point{X: (r.Min.X + r.Max.X) / 2, Y: (r.Min.Y + r.Max.Y) / 2}
			done[l.text] = append(done[l.text], mid)
			s.plated(label{text: text, at: mid, alignX: 0.5, alignY: 0.5, size: size, bold: l.bold, color: ink})
		}
	}
}

func lineLength(pts []vg.Point) (sum vg.Length) {
	for i := 1; i < len(pts); i++ {
		sum += vg.Length(math.Hypot(float64(pts[i].X-pts[i-1].X), float64(pts[i].Y-pts[i-1].Y)))
	}
	return sum
}

// flatPlaces lists points along a line, those first where it runs level and near
// its middle.
func flatPlaces(pts []vg.Point) []vg.Point {
	const pitch, reach = 8, 5
	type place struct {
		at   vg.Point
		cost float64
	}
	var places []place
	total, run, next := lineLength(pts), vg.Length(0), vg.Length(0)
	for i := 1; i < len(pts); i++ {
		run += lineLength(pts[i-1 : i+1])
		if run < next {
			continue
		}
		next = run + pitch
		a, b := pts[max(0, i-reach)], pts[min(len(pts)-1, i+reach)]
		slope := math.Atan2(math.Abs(float64(b.Y-a.Y)), math.Abs(float64(b.X-a.X)))
		places = append(places, place{pts[i], slope + math.Abs(float64(run/total)-0.5)})
	}
	slices.SortStableFunc(places, func(a, b place) int { return cmp.Compare(a.cost, b.cost) })
	out := make([]vg.Point, len(places))
	for i, q := range places {
		out[i] = q.at
	}
	return out
}

// drawOverlays draws the overlay lines, dark with a white seam so that they show
// on any colour.
func (p *mapPlan) drawOverlays(s *sheet) [][]vg.Point {
	var all [][]vg.Point
	for _, o := range p.Overlays {
		if o.Solid {
			o.X, o.Y = append(slices.Clone(o.X), o.X[0]), append(slices.Clone(o.Y), o.Y[0])
			s.area(solidFill, p.inside(o)...)
		}
		if o.Blank {
			continue
		}
		width := vg.Length(1.8)
		if o.Thin {
			width = 0.9
		}
		lines := p.clip(Curve{X: o.X, Y: o.Y}.runs(p.panel)...)
		s.lines(stroke{color: paper, width: width + 1.6}, lines...)
		s.lines(stroke{color: ink, width: width}, lines...)
		all = append(all, lines...)
	}
	return all
}

// inside returns the part of an overlay's polygon within the map, on the sheet (I. E.
// Sutherland and G. W. Hodgman, "Reentrant polygon clipping", CACM 17 (1974) 32-42).
func (p *mapPlan) inside(o Overlay) []vg.Point {
	pts := make([]vg.Point, len(o.X))
	for i := range pts {
		pts[i] = vg.Point{X: p.xAt(o.X[i]), Y: p.yAt(o.Y[i])}
	}
	r := p.rect
	for _, depth := range []func(vg.Point) vg.Length{ // of a point within an edge of the map
		func(q vg.Point) vg.Length { return q.X - r.Min.X },
		func(q vg.Point) vg.Length { return r.Max.X - q.X },
		func(q vg.Point) vg.Length { return q.Y - r.Min.Y },
		func(q vg.Point) vg.Length { return r.Max.Y - q.Y },
	} {
		pts = clipped(pts, depth)
	}
	return pts
}

// clipped returns the part of a polygon where depth is 0 or more.
func clipped(pts []vg.Point, depth func(vg.Point) vg.Length) []vg.Point {
	var out []vg.Point
	for i, b := range pts {
		a := pts[(i+len(pts)-1)%len(pts)]
		da, db := depth(a), depth(b)
		if (da < 0) != (db < 0) {
			t := da / (da - db)
			out = append(out, vg.Point{X: a.X + t*(b.X-a.X), Y: a.Y + t*(b.Y-a.Y)})
		}
		if db >= 0 {
			out = append(out, b)
		}
	}
	return out
}

// covered reports whether a body hides a place of the sheet.
func (p *mapPlan) covered(at vg.Point) bool {
	for _, o := range p.Overlays {
		if o.Solid && holds(p.inside(o), at) {
			return true
		}
	}
	return false
}

// holds reports whether a point lies within a polygon, by the edges that it sees to
// its right.
func holds(pts []vg.Point, at vg.Point) bool {
	in := false
	for i, b := range pts {
		a := pts[(i+len(pts)-1)%len(pts)]
		if (a.Y > at.Y) != (b.Y > at.Y) && at.X < a.X+(at.Y-a.Y)/(b.Y-a.Y)*(b.X-a.X) {
			in = !in
		}
	}
	return in
}

func (p *mapPlan) labelOverlays(s *sheet, place *placer) {
	for _, o := range p.Overlays {
		lines := p.clip(Curve{X: o.X, Y: o.Y}.runs(p.panel)...)
		if len(lines) == 0 || len(lines[0]) == 0 {
			continue
		}
		l := lines[0]
		mid := l[len(l)/2]
		if len(l) == 2 {
			mid = vg.Point{X: (l[0].X + l[1].X) / 2, Y: (l[0].Y + l[1].Y) / 2}
		}
		place.note(s, mid, 4, label{text: o.Label, size: noteSize, color: ink}, 120)
	}
}

func (p *mapPlan) drawMarks(s *sheet, place *placer) {
	plan := panelPlan{Panel: Panel{Marks: p.Marks}, panel: p.panel}
	plan.drawMarks(s, place)
}

// barTicks labels the colour bar at the contour levels.
func (p *mapPlan) barTicks() []tick {
	var ticks []tick
	for _, v := range p.levels {
		ticks = append(ticks, tick{value: v, text: p.levelText(v), major: true})
	}
	return ticks
}

func barTickWidth(ticks []tick) vg.Length {
	var w vg.Length
	for _, t := range ticks {
		w = max(w, textWidth(t.text, tickSize, false))
	}
	return w
}

// drawBar draws the colour bar right of the map.
func (p *mapPlan) drawBar(s *sheet, ticks []tick) {
	x0 := p.rect.Max.X + barGap
	bar := panel{rect: rect(x0, p.rect.Min.Y, x0+barWidth, p.rect.Max.Y), y: scale{low: p.low, high: p.high}}
	edges := append(append([]float64{p.low}, p.levels...), p.high)
	for k := range len(edges) - 1 {
		if edges[k+1] > edges[k] {
			s.fillRect(p.bands[k].(color.NRGBA), rect(x0, bar.yAt(edges[k]), x0+barWidth, bar.yAt(edges[k+1])))
		}
	}
	s.strokeRect(stroke{color: frameInk, width: 0.6}, bar.rect)
	var taken []vg.Rectangle
	for _, t := range byImportance(ticks) {
		y := bar.yAt(t.value)
		_, bold := p.boldText(t.value)
		width := vg.Length(0.5)
		if bold {
			width = 1.8
		}
		s.line(stroke{color: ink, width: width}, x0, y, x0+barWidth, y)
		l := label{text: t.text, at: vg.Point{X: x0 + barWidth + 4, Y: y}, alignY: 0.5, size: tickSize, bold: bold, color: ink}
		box := placeLabel(l).box
		if !slices.ContainsFunc(taken, func(r vg.Rectangle) bool { return meet(r, box) }) {
			taken = append(taken, grow(box, 0.5))
			s.text(l)
		}
	}
	title := cut(p.Value.title(), labelSize, false, p.rect.Max.Y-p.rect.Min.Y)
	s.text(label{text: title, at: vg.Point{X: x0 + barWidth + 5 + barTickWidth(ticks) + yTitleRoom, Y: (p.rect.Min.Y + p.rect.Max.Y) / 2},
		alignX: 0.5, alignY: 0, size: labelSize, color: ink, up: true})
}
