package plots

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"gonum.org/v1/plot/vg"
)

// Strip is the frequency strip: bars on a logarithmic frequency axis that show
// where each part of a design does its job, with the gap or overlap between
// them shaded. Several groups stand one below the other for comparison.
type Strip struct {
	Caption
	Groups    []StripGroup
	Low, High float64 // ends of the axis, Hz; zero: 20 and 20 000
}

// StripGroup is one design, or one state of a design.
type StripGroup struct {
	Title  string // may be empty
	Rows   []StripRow
	Window *StripWindow // gap or overlap; nil: none
}

// StripRow is one bar.
type StripRow struct {
	Label    string
	From, To float64    // Hz; From 0: from below the axis; To +Inf: beyond the axis
	Fill     BarStyle   // solid, hatched or light
	Colour   int        // palette number 1 to 6; 0: by the row's place in the group
	FromText string     // at the lower end; empty: the frequency; "-": nothing
	ToText   string     // at the upper end, likewise
	Note     string     // a remark to the bar
	Missing  string     // if set, stands in place of the bar: why there is none
	Within   [2]float64 // between which frequencies one of its ends lies, Hz: a bracket under the bar; zero: none
	Was      [2]float64 // from where to where it reached in an earlier state, Hz, as From and To: a dashed outline; zero: none
}

// BarStyle is how a bar is filled.
type BarStyle int

// The bar styles, in order of emphasis.
const (
	SolidBar BarStyle = iota
	HatchedBar
	LightBar
)

// StripWindow is the band between the end of one bar and the start of another.
type StripWindow struct {
	Low, High float64 // Hz, Low <= High
	Label     string  // such as "gap 1.3 oct" or "overlap 0.4 oct"
	Overlap   bool    // both serve the band (else neither does)
}

// Measures of the strip, in points.
const (
	stripBar      vg.Length = 14
	stripRowGap   vg.Length = 6
	stripText     vg.Length = noteSize
	stripPad      vg.Length = 4
	stripGroupGap vg.Length = 9
	stripLabelMax vg.Length = 130
	stripLine     vg.Length = stripText * lineSpacing
)

func (c Strip) axis() scale {
	s := scale{low: c.Low, high: c.High, log: true}
	if s.low == 0 {
		s.low = 20
	}
	if s.high == 0 {
		s.high = 20e3
	}
	return s
}

func (c Strip) check() error {
	ax := c.axis()
	if !(ax.low > 0 && ax.high > ax.low && !math.IsInf(ax.high, 0)) {
		return fmt.Errorf("frequency axis from %g to %g Hz: want 0 < low < high", ax.low, ax.high)
	}
	rows := 0
	for _, g := range c.Groups {
		for _, r := range g.Rows {
			rows++
			if r.Missing == "" && !(r.From >= 0 && r.To > r.From && !math.IsInf(r.From, 0)) {
				return fmt.Errorf("strip row %q from %g to %g Hz: want 0 <= from < to", r.Label, r.From, r.To)
			}
			if w := r.Within; !(w == [2]float64{} || w[0] > 0 && w[1] >= w[0] && !math.IsInf(w[1], 0)) {
				return fmt.Errorf("strip row %q: an end between %g and %g Hz: want 0 < low <= high", r.Label, w[0], w[1])
			}
			if w := r.Was; !(w == [2]float64{} || w[0] >= 0 && w[1] > w[0] && !math.IsInf(w[0], 0)) {
				return fmt.Errorf("strip row %q: it was from %g to %g Hz: want 0 <= from < to", r.Label, w[0], w[1])
			}
			if r.Colour < 0 || r.Colour > len(palette) {
				return fmt.Errorf("strip row %q: colour %d is not within 0 to %d", r.Label, r.Colour, len(palette))
			}
		}
		if w := g.Window; w != nil && !(w.Low > 0 && w.High >= w.Low && !math.IsInf(w.High, 0)) {
			return fmt.Errorf("strip window %q from %g to %g Hz: want 0 < low <= high", w.Label, w.Low, w.High)
		}
	}
	if rows == 0 {
		return errors.New("frequency strip without rows")
	}
	return nil
}

func (c Strip) layout() (*sheet, error) {
	if err := c.check(); err != nil {
		return nil, err
	}
	var labelWidth vg.Length
	for _, g := range c.Groups {
		for _, r := range g.Rows {
			labelWidth = max(labelWidth, widest(wrap(r.Label, labelSize, false, stripLabelMax, 3), labelSize, false))
		}
	}
	const right = 12 // room for half of the last tick label
	left := c.margin() + labelWidth + 10
	if c.narrow {
		left = c.margin() + 6
	}
	p := panel{rect: rect(left, 0, c.fullWidth()-c.margin()-right, 1), x: c.axis(), y: scale{high: 1}}

	groups := make([]stripGroupPlan, len(c.Groups))
	var height vg.Length
	for i, g := range c.Groups {
		groups[i] = c.planGroup(p, g)
		height += groups[i].height
	}
	height += vg.Length(len(groups)-1) * stripGroupGap
	s, body := newSheet(c.describing(c.words()...), height+xTickRoom+xTitleRoom)
	ticks := frequencyTicks(p.x.low, p.x.high)
	y := body.Max.Y
	for _, g := range groups {
		p.rect.Max.Y = y - g.titleHeight()
		p.rect.Min.Y = y - g.height
		p.grid(s, ticks, nil)
		g.draw(s, p, vg.Point{X: c.margin(), Y: y})
		p.frame(s, ticks, nil)
		y -= g.height + stripGroupGap
	}
	p.xLabels(s, ticks, "Frequency, Hz")
	return s, nil
}

// stripGroupPlan is a group with all heights worked out.
type stripGroupPlan struct {
	StripGroup
	title  []string
	rows   []stripRowPlan
	header vg.Length // between frame and first row: the window's label
	height vg.Length
}

func (c Strip) planGroup(p panel, g StripGroup) stripGroupPlan {
	plan := stripGroupPlan{StripGroup: g, header: stripRowGap}
	plan.title = wrap(g.Title, labelSize, true, p.rect.Max.X-c.margin(), 2)
	if g.Window != nil {
		plan.header += stripLine + 3
	}
	plan.height = plan.titleHeight() + plan.header
	for i, r := range g.Rows {
		if r.Colour == 0 {
			r.Colour = i%len(palette) + 1
		}
		row := planRow(p, r, c.narrow)
		plan.rows = append(plan.rows, row)
		plan.height += row.height
	}
	return plan
}

// titleHeight is the room of the title above the group's frame.
func (g stripGroupPlan) titleHeight() vg.Length {
	return vg.Length(len(g.title)) * labelSize * lineSpacing
}

// draw draws the group with its title from a point on.
func (g stripGroupPlan) draw(s *sheet, p panel, at vg.Point) {
	top := at.Y
	s.textLines(g.title, label{at: at, alignY: 1, size: labelSize, bold: true, color: ink})
	y := top - g.titleHeight() - g.header
	if g.Window != nil {
		g.drawWindow(s, p, y, top-g.height)
	}
	for _, r := range g.rows {
		r.draw(s, p, y)
		y -= r.height
	}
}

// drawWindow shades the gap or overlap over the group's rows and puts its label,
// with a bracket, above them.
func (g stripGroupPlan) drawWindow(s *sheet, p panel, top, bottom vg.Length) {
	const minWidth = 1.2 // a window of no width still shows as a line
	w := g.Window
	x0, x1 := p.xAt(p.x.clamp(w.Low)), p.xAt(p.x.clamp(w.High))
	if x1-x0 < minWidth {
		mid := (x0 + x1) / 2
		x0, x1 = mid-minWidth/2, mid+minWidth/2
	}
	tint, dark := openTint, openInk
	if w.Overlap {
		tint, dark = closedTint, closedInk
	}
	shade := rect(x0, bottom+1, x1, top)
	s.fillRect(tint, shade)
	if !w.Overlap { // hatched, so that grey print tells gap from overlap
		hatched := dark
		hatched.A = 0x50
		s.hatch(stroke{color: hatched, width: 0.5}, shade, 5)
	}
	edges := [][]vg.Point{{{X: x0, Y: top}, {X: x0, Y: bottom + 1}}, {{X: x1, Y: top}, {X: x1, Y: bottom + 1}}}
	if x1-x0 < 4 { // two dashed lines would run into each other
		edges = edges[:1]
	}
	s.lines(stroke{color: dark, width: 0.8, dash: dashPatterns[ShortDash]}, edges...)
	s.lines(stroke{color: dark, width: 1.1}, []vg.Point{{X: x0, Y: top}, {X: x0, Y: top + 3.5}, {X: x1, Y: top + 3.5}, {X: x1, Y: top}})
	text := cut(clean(w.Label), stripText, true, p.rect.Max.X-p.rect.Min.X)
	half := textWidth(text, stripText, true) / 2
	x := min(max((x0+x1)/2, p.rect.Min.X+half+2), p.rect.Max.X-half-2)
	s.plated(label{text: text, at: vg.Point{X: x, Y: top + 5}, alignX: 0.5, size: stripText, bold: true, color: dark})
}

// words says what the strip shows, row by row.
func (c Strip) words() []string {
	var out []string
	for _, g := range c.Groups {
		var rows []string
		for _, r := range g.Rows {
			rows = append(rows, r.words())
		}
		if g.Window != nil {
			rows = append(rows, g.Window.Label)
		}
		out = append(out, strings.TrimPrefix(g.Title+": ", ": ")+strings.Join(rows, "; "))
	}
	return out
}
