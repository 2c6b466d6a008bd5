package plots

import (
	"math"

	"gonum.org/v1/plot/vg"
)

// drawEndLabels writes each curve's label right of the panel at the height of
// its end, moved apart where they would meet, with a leader line.
func (p *panelPlan) drawEndLabels(s *sheet, ends []vg.Point, seen []bool) {
	var which []int
	for i, l := range p.labels {
		if len(l) > 0 && seen[i] {
			which = append(which, i)
		}
	}
	wanted, heights := make([]vg.Length, len(which)), make([]vg.Length, len(which))
	for k, i := range which {
		wanted[k], heights[k] = ends[i].Y, labelHeight(p.labels[i])
	}
	at, _ := spread(wanted, heights, p.rect.Min.Y-2, p.rect.Max.Y+2)
	for k, i := range which {
		st := p.Curves[i].stroke(i)
		x := p.rect.Max.X + curveLabelGap
		edge := vg.Point{X: p.rect.Max.X + 2, Y: ends[i].Y}
		if ends[i].X < p.rect.Max.X-1 { // within the panel a leader must not look like data
			s.lines(stroke{color: inkSoft, width: 0.6, dash: dashPatterns[Dotted]}, []vg.Point{ends[i], edge})
		}
		s.lines(stroke{color: st.color, width: 0.7}, []vg.Point{{X: min(edge.X, max(ends[i].X, p.rect.Max.X)), Y: edge.Y}, edge, {X: x - 2, Y: at[k]}})
		s.textLines(p.labels[i], label{at: vg.Point{X: x, Y: at[k]}, alignY: 0.5, size: noteSize, color: textColour(st.color)})
	}
}

// labelHeight is the room of a block of curve label lines.
func labelHeight(lines []string) vg.Length {
	return vg.Length(len(lines))*noteSize*lineSpacing + 1
}

// chooseLegend moves the labels below the panel if they cannot all stand beside it.
func (p *panelPlan) chooseLegend(width vg.Length) {
	var sum vg.Length
	for _, l := range p.labels {
		if len(l) > 0 {
			sum += labelHeight(l)
		}
	}
	p.legend = p.legend || sum > p.height+4 // once a legend, always: the width must settle
	p.legendHeight = 0
	switch {
	case p.narrow:
		for _, l := range p.legendBlocks() {
			p.legendHeight += vg.Length(len(l))*noteSize*lineSpacing + legendLead
		}
		p.legendHeight += 8
	case p.legend:
		rows, _ := p.legendCells(width)
		p.legendHeight = vg.Length(rows)*noteSize*lineSpacing + 8
	}
}

// legendBlocks are the entries below the panel of a narrow sheet, a block of lines each,
// as wide as the sheet.
func (p *panelPlan) legendBlocks() [][]string {
	var out [][]string
	width := narrowWidth - 2*narrowMargin - legendLine - 4
	for _, c := range p.Curves {
		out = append(out, wrap(c.Label, noteSize, false, width, 3))
	}
	return out
}

// legendLead is the room between entries of a narrow sheet.
const legendLead vg.Length = 1.5

// drawNarrowLegend writes the entries one below the other with their top at y.
func (p *panelPlan) drawNarrowLegend(s *sheet, y vg.Length) {
	y -= 4
	for i, lines := range p.legendBlocks() {
		if len(lines) > 0 {
			mid := y - noteSize*0.45
			p.drawSample(s, i, narrowMargin, mid)
			s.textLines(lines, label{at: vg.Point{X: narrowMargin + legendLine + 4, Y: y}, alignY: 1, size: noteSize, color: ink})
		}
		y -= vg.Length(len(lines))*noteSize*lineSpacing + legendLead
	}
}

// drawSample draws a piece of a curve in a legend.
func (p *panelPlan) drawSample(s *sheet, i int, x, y vg.Length) {
	st := p.Curves[i].stroke(i)
	s.line(st, x, y, x+legendLine, y)
	if p.Curves[i].Dots {
		s.disc(st.color, vg.Point{X: x + legendLine/2, Y: y}, 2.2)
	}
}

// Measures of a legend below the panel.
const (
	legendLine vg.Length = 24 // sample of the curve
	legendGap  vg.Length = 14 // between entries
)

// legendCells puts the legend's entries in even columns and returns the number of
// rows and the left edge and row of each entry.
func (p *panelPlan) legendCells(width vg.Length) (rows int, cells []vg.Point) {
	var column vg.Length
	for _, c := range p.Curves {
		column = max(column, legendLine+4+textWidth(p.legendText(c, width), noteSize, false)+legendGap)
	}
	columns := max(1, int((width+legendGap)/column))
	for i := range p.Curves {
		cells = append(cells, vg.Point{X: vg.Length(i%columns) * column, Y: vg.Length(i / columns)})
	}
	return (len(p.Curves) + columns - 1) / columns, cells
}

func (p *panelPlan) legendText(c Curve, width vg.Length) string {
	return cut(clean(c.Label), noteSize, false, width-legendLine-4)
}

// drawLegend writes the legend with its top at y.
func (p *panelPlan) drawLegend(s *sheet, y vg.Length) {
	if !p.legend {
		return
	}
	if p.narrow {
		p.drawNarrowLegend(s, y)
		return
	}
	width := p.rect.Max.X - p.rect.Min.X
	_, cells := p.legendCells(width)
	for i, c := range p.Curves {
		text := p.legendText(c, width)
		if text == "" {
			continue
		}
		x, mid := p.rect.Min.X+cells[i].X, y-6-cells[i].Y*noteSize*lineSpacing-noteSize*0.4
		p.drawSample(s, i, x, mid)
		s.text(label{text: text, at: vg.Point{X: x + legendLine + 4, Y: mid}, alignY: 0.5, size: noteSize, color: ink})
	}
}

// drawMarks draws marks as diamonds with their texts.
func (p *panelPlan) drawMarks(s *sheet, place *placer) {
	var shown []Mark
	for _, m := range p.Marks {
		at := p.at(m.X, m.Y)
		if !within(rect(at.X, at.Y, at.X, at.Y), grow(p.rect, 0.01)) {
			continue
		}
		shown = append(shown, m)
		s.diamond(ink, at, 4)
		place.block(rect(at.X-5, at.Y-5, at.X+5, at.Y+5))
	}
	for _, m := range shown {
		place.note(s, p.at(m.X, m.Y), 7, label{text: m.Text, size: noteSize, bold: true, color: ink}, 130)
	}
}

// guideLine returns the ends of a guide, if it lies within the panel.
func (p *panelPlan) guideLine(g Guide) ([]vg.Point, bool) {
	if g.Vertical {
		x := p.xAt(g.Value)
		return []vg.Point{{X: x, Y: p.rect.Min.Y}, {X: x, Y: p.rect.Max.Y}}, g.Value >= p.x.low && g.Value <= p.x.high
	}
	y := p.yAt(g.Value)
	return []vg.Point{{X: p.rect.Min.X, Y: y}, {X: p.rect.Max.X, Y: y}}, g.Value >= p.y.low && g.Value <= p.y.high
}

func (p *panelPlan) drawGuideLines(s *sheet, place *placer) {
	for _, g := range p.Guides {
		line, ok := p.guideLine(g)
		if !ok {
			continue
		}
		st := stroke{color: inkSoft, width: 0.8, dash: dashPatterns[ShortDash]}
		if g.Strong {
			st = stroke{color: ink, width: 1.3}
		}
		s.lines(st, line)
		place.avoid(guideCost, line)
	}
}

// writeGuides writes the guides' texts along their lines: beside the upper end of
// a vertical one, above either end of a horizontal one.
func (p *panelPlan) writeGuides(s *sheet, place *placer) {
	for _, g := range p.Guides {
		line, ok := p.guideLine(g)
		text := cut(clean(g.Text), noteSize, false, p.rect.Max.X-p.rect.Min.X-8)
		if !ok || text == "" {
			continue
		}
		w, h := textWidth(text, noteSize, false), noteSize*(boxAscent+boxDescent)
		var spots []vg.Rectangle
		for _, t := range []vg.Length{0, 0.1, 0.2, 0.35, 0.5, 0.65, 0.8, 0.9, 1} {
			if g.Vertical {
				x, y := line[0].X, p.rect.Max.Y-4-h-t*(p.height-8-h)
				spots = append(spots, rect(x+3, y, x+3+w, y+h), rect(x-3-w, y, x-3, y+h))
			} else {
				x, y := p.rect.Min.X+4+t*(p.rect.Max.X-p.rect.Min.X-8-w), line[0].Y
				spots = append(spots, rect(x, y+2, x+w, y+2+h), rect(x, y-2-h, x+w, y-2))
			}
		}
		if r, _, ok := place.best(spots, 0.3); ok {
			s.plated(label{text: text, at: vg.Point{X: r.Min.X, Y: r.Min.Y}, size: noteSize, color: inkSoft})
		}
	}
}

// zoneRect is the part of a zone that shows.
func (p *panelPlan) zoneRect(z Zone) (vg.Rectangle, bool) {
	low, high := math.Max(z.Low, p.y.low), math.Min(z.High, p.y.high)
	if low >= high {
		return vg.Rectangle{}, false
	}
	return rect(p.rect.Min.X, p.yAt(low), p.rect.Max.X, p.yAt(high)), true
}

func (p *panelPlan) drawZones(s *sheet) {
	for _, z := range p.Zones {
		r, ok := p.zoneRect(z)
		if !ok {
			continue
		}
		tint := closedTint
		if z.Open {
			tint = openTint
		}
		tint.A = 0x38
		s.fillRect(tint, r)
	}
}

// writeZones writes each zone's word near its middle boundary, where there is room.
func (p *panelPlan) writeZones(s *sheet, place *placer) {
	for _, z := range p.Zones {
		r, ok := p.zoneRect(z)
		if !ok || clean(z.Text) == "" {
			continue
		}
		c := closedInk
		if z.Open {
			c = openInk
		}
		w, h := textWidth(z.Text, labelSize, true), labelSize*(boxAscent+boxDescent)
		var spots []vg.Rectangle
		for _, ty := range []vg.Length{1, 0.8, 0.6, 0.4, 0.2, 0} {
			if z.Open { // upper zone: from its upper edge; lower zone: from its lower edge
				ty = 1 - ty
			}
			y := r.Max.Y - 4 - h - ty*(r.Max.Y-r.Min.Y-8-h)
			for _, tx := range []vg.Length{0, 1, 0.5, 0.25, 0.75} {
				x := r.Min.X + 6 + tx*(r.Max.X-r.Min.X-12-w)
				if box := rect(x, y, x+w, y+h); within(box, r) {
					spots = append(spots, box)
				}
			}
		}
		if box, _, ok := place.best(spots, 0.2); ok {
			s.text(label{text: z.Text, at: box.Min, size: labelSize, bold: true, color: c})
		}
	}
}
