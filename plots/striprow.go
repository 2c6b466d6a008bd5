package plots

import (
	"gapline/internal/quantity"
	"math"
	"strings"

	"gonum.org/v1/plot/vg"
)

// stripRowPlan is a row with its texts placed. Heights are measured downward
// from the row's top.
type stripRowPlan struct {
	StripRow
	label  []string
	x0, x1 vg.Length   // bar
	spots  []stripSpot // texts on the bar's own line
	below  []string    // texts that found no room there
	height vg.Length
	above  vg.Length // room of the label where it stands above the bar; 0: it stands beside it
}

// stripSpot is a text on the bar's line.
type stripSpot struct {
	text   string
	left   vg.Length
	inside bool
}

// planRow measures the row's texts and decides where they go: inside the bar if
// both ends fit there, else outside next to the ends, else in a line below.
func planRow(p panel, r StripRow, narrow bool) stripRowPlan {
	plan := stripRowPlan{StripRow: r, label: wrap(r.Label, labelSize, false, stripLabelMax, 3)}
	if narrow {
		plan.label = wrap(r.Label, labelSize, false, p.rect.Max.X-p.rect.Min.X-2*stripPad, 3)
		plan.above = vg.Length(len(plan.label)) * labelSize * lineSpacing
	}
	if r.Missing != "" {
		plan.below = wrap(r.Missing, stripText, false, p.rect.Max.X-p.rect.Min.X-2*stripPad, 3)
		plan.height = vg.Length(len(plan.below)) * stripLine
	} else {
		plan.x0, plan.x1 = p.xAt(p.x.clamp(max(r.From, p.x.low))), p.xAt(p.x.clamp(r.To))
		rest := plan.placeTexts(p)
		plan.below = wrap(rest, stripText, false, p.rect.Max.X-p.rect.Min.X-2*stripPad, 3)
		plan.height = stripBar + vg.Length(len(plan.below))*stripLine
	}
	if narrow {
		plan.height += plan.above
	} else {
		plan.height = max(plan.height, vg.Length(len(plan.label))*labelSize*lineSpacing)
	}
	plan.height += stripRowGap
	return plan
}

// endTexts returns what is written at the bar's two ends.
func (r StripRow) endTexts() (from, to string) {
	pick := func(given string, f float64, open bool) string {
		switch {
		case given == "-" || given == "" && open:
			return ""
		case given == "":
			return quantity.FormatAs(f, quantity.Frequency, quantity.Style{Short: true}, quantity.Metric)
		}
		return clean(given)
	}
	return pick(r.FromText, r.From, r.From == 0), pick(r.ToText, r.To, math.IsInf(r.To, 1))
}

// placeTexts finds room on the bar's line and returns what found none.
func (r *stripRowPlan) placeTexts(p panel) (rest string) {
	from, to := r.endTexts()
	note := clean(r.Note)
	size := func(s string) vg.Length {
		if s == "" {
			return 0
		}
		return textWidth(s, stripText, false) + stripPad
	}
	in0, in1 := r.x0+stripPad, r.x1-stripPad                    // free inside
	left, right := p.rect.Min.X+stripPad, p.rect.Max.X-stripPad // free outside, to the panel's edges
	outLeft, outRight := r.x0-stripPad, r.x1+stripPad
	put := func(s string, x vg.Length, inside bool) {
		if s != "" {
			r.spots = append(r.spots, stripSpot{s, x, inside})
		}
	}
	var parts []string
	switch wf, wt := size(from), size(to); {
	case wf+wt <= in1-in0:
		put(from, in0, true)
		put(to, in1-(wt-stripPad), true)
		in0, in1 = in0+wf, in1-wt
	case outLeft-left >= wf && right-outRight >= wt:
		put(from, outLeft-(wf-stripPad), false)
		put(to, outRight, false)
		outRight += wt
	default:
		joined := strings.Trim(from+" – "+to, " –")
		switch w := size(joined); {
		case w <= right-outRight:
			put(joined, outRight, false)
			outRight += w
		case w <= outLeft-left:
			put(joined, outLeft-(w-stripPad), false)
		default:
			parts = append(parts, joined)
		}
	}
	switch w := size(note); {
	case note == "":
	case w+stripPad <= in1-in0:
		put(note, (in0+in1-w+stripPad)/2, true)
	case w+stripPad <= right-outRight:
		put(note, outRight+stripPad, false)
	default: // left of the bar it would read as a remark to another one
		parts = append(parts, note)
	}
	return strings.Join(parts, thinDivider)
}

func (r stripRowPlan) draw(s *sheet, p panel, top vg.Length) {
	if r.above > 0 {
		for i, line := range r.label {
			s.plated(label{text: line, at: vg.Point{X: p.rect.Min.X + stripPad, Y: top - vg.Length(i)*labelSize*lineSpacing}, alignY: 1, size: labelSize, color: ink})
		}
		top -= r.above
	}
	bar := rect(r.x0, top-stripBar, r.x1, top)
	textTop := top - (stripBar-labelSize*(boxAscent+boxDescent))/2
	if r.above == 0 {
		s.textLines(r.label, label{at: vg.Point{X: p.rect.Min.X - 8, Y: textTop}, alignX: 1, alignY: 1, size: labelSize, color: ink})
	}
	if r.Missing != "" {
		for i, line := range r.below {
			s.plated(label{text: line, at: vg.Point{X: p.rect.Min.X + stripPad, Y: textTop - vg.Length(i)*stripLine}, alignY: 1, size: stripText, color: inkSoft})
		}
		return
	}
	r.drawBar(s, p, bar)
	r.drawWithin(s, p, bar)
	r.drawWas(s, p, bar)
	for _, spot := range r.spots {
		l := label{text: spot.text, at: vg.Point{X: spot.left, Y: top - stripBar/2}, alignY: 0.5, size: stripText, color: ink}
		if spot.inside && r.Fill == SolidBar {
			l.color = textOn(palette[r.Colour-1])
			s.text(l)
			continue
		}
		s.plated(l)
	}
	w := widest(r.below, stripText, false)
	mid := min(max((r.x0+r.x1)/2, p.rect.Min.X+stripPad+w/2), p.rect.Max.X-stripPad-w/2)
	for i, line := range r.below {
		s.plated(label{text: line, at: vg.Point{X: mid, Y: top - stripBar - 1.5 - vg.Length(i)*stripLine}, alignX: 0.5, alignY: 1, size: stripText, color: ink})
	}
}

// drawBar fills the bar and marks ends that lie beyond the axis.
func (r stripRowPlan) drawBar(s *sheet, p panel, bar vg.Rectangle) {
	c := palette[r.Colour-1]
	if bar.Max.X-bar.Min.X < 1 { // shorter than a hair: still visible
		mid := (bar.Max.X + bar.Min.X) / 2
		bar.Min.X, bar.Max.X = mid-0.5, mid+0.5
	}
	light := c
	light.A = 0x38
	switch r.Fill {
	case HatchedBar:
		s.fillRect(paper, bar)
		s.fillRect(light, bar)
		s.hatch(stroke{color: c, width: 1.1}, bar, 4.5)
	case LightBar:
		s.fillRect(paper, bar)
		s.fillRect(light, bar)
	default:
		s.fillRect(c, bar)
	}
	s.strokeRect(stroke{color: c, width: 0.9}, bar)
	mid, h := (bar.Min.Y+bar.Max.Y)/2, (bar.Max.Y-bar.Min.Y)/2
	if r.To > p.x.high {
		s.area(c, vg.Point{X: bar.Max.X, Y: mid - h}, vg.Point{X: bar.Max.X + 5, Y: mid}, vg.Point{X: bar.Max.X, Y: mid + h})
	}
	if r.From < p.x.low {
		s.area(c, vg.Point{X: bar.Min.X, Y: mid - h}, vg.Point{X: bar.Min.X - 5, Y: mid}, vg.Point{X: bar.Min.X, Y: mid + h})
	}
}

// drawWithin marks under the bar between what an uncertain end lies.
func (r stripRowPlan) drawWithin(s *sheet, p panel, bar vg.Rectangle) {
	if r.Within == [2]float64{} {
		return
	}
	const drop, end = 2.5, 1.8
	x0, x1, y := p.xAt(p.x.clamp(r.Within[0])), p.xAt(p.x.clamp(r.Within[1])), bar.Min.Y-drop
	s.lines(stroke{color: ink, width: 0.9},
		[]vg.Point{{X: x0, Y: y}, {X: x1, Y: y}},
		[]vg.Point{{X: x0, Y: y - end}, {X: x0, Y: y + end}},
		[]vg.Point{{X: x1, Y: y - end}, {X: x1, Y: y + end}})
}

// drawWas outlines where the bar stood in an earlier state.
func (r stripRowPlan) drawWas(s *sheet, p panel, bar vg.Rectangle) {
	if r.Was == [2]float64{} {
		return
	}
	const around = 2
	x0, x1 := p.xAt(p.x.clamp(max(r.Was[0], p.x.low))), p.xAt(p.x.clamp(r.Was[1]))
	s.strokeRect(stroke{color: ink, width: 0.9, dash: dashPatterns[ShortDash]}, rect(x0, bar.Min.Y-around, x1, bar.Max.Y+around))
}

// words says what the row shows.
func (r StripRow) words() string {
	text := r.span()
	if r.Within != [2]float64{} {
		short := func(f float64) string {
			return quantity.FormatAs(f, quantity.Frequency, quantity.Style{Short: true}, quantity.Metric)
		}
		text += " (certain to between " + short(r.Within[0]) + " and " + short(r.Within[1]) + ")"
	}
	if r.Was != [2]float64{} {
		before := StripRow{From: r.Was[0], To: r.Was[1]}
		text += " (before:" + before.span() + ")"
	}
	return text
}

// span says from where to where the bar reaches.
func (r StripRow) span() string {
	from, to := r.endTexts()
	switch {
	case r.Missing != "":
		return r.Label + ": " + r.Missing
	case from == "" && to == "":
		return r.Label
	case from == "":
		return r.Label + " up to " + to
	case to == "":
		return r.Label + " from " + from
	}
	return r.Label + " " + from + " to " + to
}
