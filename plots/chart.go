package plots

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"gonum.org/v1/plot/vg"
)

// Chart is one or more panels of curves, one above the other, over a shared
// horizontal axis.
type Chart struct {
	Caption
	X      Axis
	Panels []Panel
}

// Panel is one set of curves with its own vertical axis.
type Panel struct {
	Y      Axis
	Curves []Curve
	Marks  []Mark
	Guides []Guide
	Zones  []Zone
	// Proportion ties the vertical to the frequency axis; it needs a frequency
	// axis below. Free panels take Height, or a height that suits their number.
	Proportion Proportion
	Height     float64 // points
}

// Mark is a point with a text beside it.
type Mark struct {
	X, Y float64
	Text string
}

// Guide is a straight reference line across the panel.
type Guide struct {
	Value    float64
	Vertical bool // at an x value; else at a y value
	Text     string
	Strong   bool // drawn solid and bold, like a zero line
}

// Zone is a shaded range of y values with a word in it.
type Zone struct {
	Low, High float64 // infinite: to the panel's edge
	Text      string
	Open      bool // the warm tint of an open gap; else the cool one
}

// Measures of charts, in points.
const (
	curveLabelMax vg.Length = 96
	curveLabelGap vg.Length = 13 // leader between panel and label
	panelGap      vg.Length = 13
	singleHeight  vg.Length = 235
	sharedHeight  vg.Length = 165
	narrowHeight  vg.Length = 140 // on a narrow sheet
	narrowShared  vg.Length = 110
)

func (c Chart) layout() (*sheet, error) {
	if len(c.Panels) == 0 {
		return nil, errors.New("chart without panels")
	}
	plans := make([]*panelPlan, len(c.Panels))
	for i, p := range c.Panels {
		if err := p.check(c.X.Kind != Linear); err != nil {
			return nil, err
		}
		plans[i] = planPanel(p, c.Caption)
	}
	xs, err := c.xScale()
	if err != nil {
		return nil, err
	}
	var left, right vg.Length
	for _, p := range plans {
		if err := p.settleY(xs); err != nil {
			return nil, err
		}
		right = max(right, p.labelRoom())
	}
	// The margins depend on tick labels and legends, these on the height, and with
	// a proportion the height on the width: settle it in a few rounds.
	rounds := 3
	if c.narrow {
		rounds = 6 // a title may need a second line in the last of three
	}
	for i := range rounds {
		width := c.bodyWidth() - left - right
		if i < 3 {
			left = 0 // later the margin only grows, so that it settles
		}
		right = 12
		for _, p := range plans {
			p.settle(xs, width, len(plans))
			room, _ := leftRoom(p.ticks, p.Y.title(), p.height)
			left, right = max(left, room), max(right, p.labelRoom())
		}
	}
	width := c.bodyWidth() - left - right
	height := xTickRoom + xTitleRoom + panelGap*vg.Length(len(plans)-1) + topRoom
	for _, p := range plans {
		p.settle(xs, width, len(plans))
		height += p.height + p.legendHeight
	}
	s, body := newSheet(c.describing(c.words()...), height)
	y := body.Max.Y - topRoom
	for i, p := range plans {
		p.rect = rect(body.Min.X+left, y-p.height, body.Min.X+left+width, y)
		last := i == len(plans)-1
		p.draw(s, c.X, last)
		y -= p.height + panelGap
		if last {
			y += panelGap - xTickRoom - xTitleRoom
		}
		p.drawLegend(s, y)
		y -= p.legendHeight
	}
	return s, nil
}

// topRoom keeps the highest tick label off the subtitle.
const topRoom vg.Length = 4

// xScale settles the horizontal axis over all curves.
func (c Chart) xScale() (scale, error) {
	low, high := math.Inf(1), math.Inf(-1)
	for _, p := range c.Panels {
		for _, curve := range p.Curves {
			for _, x := range curve.X {
				low, high = math.Min(low, x), math.Max(high, x)
			}
		}
	}
	if c.X.automatic() && c.X.Kind == Linear && low < high {
		c.X.Low, c.X.High = low, high // levers run from end to end
	}
	return c.X.scaleFor(low, high, 8)
}

// panelPlan is a panel with its scales and measures worked out.
type panelPlan struct {
	Panel
	panel
	ticks        []tick
	height       vg.Length
	labels       [][]string // one block of lines per curve
	legend       bool       // labels stand below instead of at the curves' ends
	narrow       bool       // the sheet
	legendHeight vg.Length
}

// planPanel wraps the curve labels.
func planPanel(p Panel, c Caption) *panelPlan {
	plan := &panelPlan{Panel: p, legend: c.narrow, narrow: c.narrow}
	for _, c := range p.Curves {
		plan.labels = append(plan.labels, wrap(c.Label, noteSize, false, curveLabelMax, 3))
	}
	return plan
}

// check returns what is wrong with the panel's data.
func (p Panel) check(xLog bool) error {
	if len(p.Curves) == 0 {
		return fmt.Errorf("panel %q has no curves", p.Y.title())
	}
	for _, c := range p.Curves {
		if err := c.check(xLog, p.Y.Kind != Linear); err != nil {
			return err
		}
	}
	for _, m := range p.Marks {
		if !finite(m.X) || !finite(m.Y) || xLog && m.X <= 0 || p.Y.Kind != Linear && m.Y <= 0 {
			return fmt.Errorf("mark %q at (%g, %g) cannot be drawn", m.Text, m.X, m.Y)
		}
	}
	for _, g := range p.Guides {
		if !finite(g.Value) || g.Vertical && xLog && g.Value <= 0 || !g.Vertical && p.Y.Kind != Linear && g.Value <= 0 {
			return fmt.Errorf("guide %q at %g cannot be drawn", g.Text, g.Value)
		}
	}
	for _, z := range p.Zones {
		if math.IsNaN(z.Low) || math.IsNaN(z.High) || z.Low > z.High {
			return fmt.Errorf("zone %q from %g to %g: want low <= high", z.Text, z.Low, z.High)
		}
	}
	return nil
}

// settleY works out the vertical range over a horizontal axis.
func (p *panelPlan) settleY(xs scale) error {
	p.x = xs
	low, high := math.Inf(1), math.Inf(-1)
	for _, c := range p.Curves {
		low, high = c.extent(low, high, p.x)
	}
	for _, m := range p.Marks {
		if m.X >= p.x.low && m.X <= p.x.high {
			low, high = math.Min(low, m.Y), math.Max(high, m.Y)
		}
	}
	for _, g := range p.Guides {
		if g.Strong && !g.Vertical {
			low, high = math.Min(low, g.Value), math.Max(high, g.Value)
		}
	}
	if low > high {
		if p.Y.automatic() {
			return fmt.Errorf("panel %q: no data between %g and %g on the horizontal axis", p.Y.title(), p.x.low, p.x.high)
		}
		low, high = p.Y.Low, p.Y.High
	}
	if p.Proportion == LevelProportion && p.Y.automatic() {
		p.Y.Low, p.Y.High = levelRange(low, high)
	}
	var err error
	p.y, err = p.Y.scaleFor(low, high, 6)
	return err
}

// settle works out the height for a panel width, and the ticks for the height.
func (p *panelPlan) settle(xs scale, width vg.Length, panels int) {
	usual, limit := singleHeight, maxPanelHeight
	if p.narrow {
		usual, limit = narrowHeight, maxPanelShared
		if panels > 1 {
			usual = narrowShared
		}
	} else if panels > 1 {
		usual, limit = sharedHeight, maxPanelShared
	}
	p.height = vg.Length(p.Height)
	if p.narrow {
		p.height *= narrowShared / sharedHeight
	}
	if p.height <= 0 {
		p.height = usual
	}
	if h := p.Proportion.height(p.y, xs, width, limit); h > 0 {
		p.height = h
	}
	if p.Proportion == LevelProportion {
		p.ticks = levelTicks(p.y, p.height)
	} else {
		p.ticks = p.Y.ticks(p.y, max(2, int(p.height/30)))
	}
	p.chooseLegend(width)
}

// labelRoom is the width that curve labels need right of the panel.
func (p *panelPlan) labelRoom() vg.Length {
	if p.legend {
		return 0
	}
	var w vg.Length
	for _, l := range p.labels {
		w = max(w, widest(l, noteSize, false))
	}
	if w == 0 {
		return 0
	}
	return w + curveLabelGap + 2
}

// draw draws the panel into its rectangle.
func (p *panelPlan) draw(s *sheet, x Axis, last bool) {
	xTicks := x.ticks(p.x, 9)
	p.drawZones(s)
	p.grid(s, xTicks, p.ticks)
	for i, c := range p.Curves {
		tint := c.stroke(i).color
		tint.A = 0x30
		for _, a := range c.bandAreas(p.panel) {
			s.area(tint, a...)
		}
	}
	place := &placer{bounds: grow(p.rect, -2)}
	p.drawGuideLines(s, place)
	ends := make([]vg.Point, len(p.Curves))
	seen := make([]bool, len(p.Curves))
	for i, c := range p.Curves {
		lines := c.draw(s, p.panel, c.stroke(i))
		place.avoid(curveCost, lines...)
		ends[i], seen[i] = lastPoint(lines)
	}
	if !p.legend {
		p.drawEndLabels(s, ends, seen)
	}
	p.drawMarks(s, place)
	p.writeGuides(s, place)
	p.writeZones(s, place)
	p.frame(s, xTicks, p.ticks)
	_, room := leftRoom(p.ticks, p.Y.title(), p.height)
	p.yLabels(s, p.ticks, p.Y.title(), room)
	if last {
		p.xLabels(s, xTicks, x.title())
	}
}

// words says what each panel shows.
func (c Chart) words() []string {
	var out []string
	for _, p := range c.Panels {
		var names []string
		for _, curve := range p.Curves {
			names = append(names, clean(curve.Label))
		}
		out = append(out, fmt.Sprintf("%s over %s: %s", p.Y.title(), c.X.title(), strings.Join(names, "; ")))
		for _, m := range p.Marks {
			out = append(out, m.Text)
		}
	}
	return out
}
