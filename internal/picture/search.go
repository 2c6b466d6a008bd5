package picture

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"gapline/internal/quantity"
	"gapline/internal/schema"
	"gapline/internal/study/size"
	"gapline/internal/study/space"
	"gapline/plots"
)

// Pareto draws what a search found over its first two goals, the best designs
// under their labels. With one goal it stands over the first key that is varied;
// with three the labels tell the third.
func Pareto(h *space.Search, f *space.Found, sys quantity.System) (plots.Scatter, error) {
	if len(f.Best) == 0 {
		return plots.Scatter{}, errors.New("there is no picture when nothing fits")
	}
	p := pareto{h: h, f: f, sys: sys}
	var err error
	switch goals := h.Table.Goals; len(goals) {
	case 1:
		err = p.overKey()
	default:
		p.x, p.y = p.goalOn(0), p.goalOn(1)
		p.chart.X, p.chart.Y = goalAxis(goals[0], sys), goalAxis(goals[1], sys)
		if len(goals) == 2 {
			p.add(f.Some, false)
		}
		p.add(p.thinned(), len(goals) == 2)
	}
	if err != nil {
		return plots.Scatter{}, err
	}
	if len(p.chart.Points) == 0 {
		return plots.Scatter{}, errors.New("there is no picture: a goal is without limit in every design found")
	}
	if c, ok := h.Present(); ok && isFinite(p.x(&c)) && isFinite(p.y(&c)) {
		p.chart.Points = append(p.chart.Points, plots.Point{X: p.x(&c), Y: p.y(&c), Present: true, Label: "this design"})
	}
	p.caption()
	return p.chart, nil
}

type pareto struct {
	h     *space.Search
	f     *space.Found
	sys   quantity.System
	chart plots.Scatter
	x, y  func(*space.Candidate) float64
}

// goalOn returns the value of a goal in the unit of its axis.
func (p *pareto) goalOn(i int) func(*space.Candidate) float64 {
	kind := p.h.Table.Goals[i].Of.Kind()
	return func(c *space.Candidate) float64 { return displayOf(kind, p.h.Goal(c, i), p.sys) }
}

// overKey sets the axes of a search with one goal.
func (p *pareto) overKey() error {
	k := p.widest()
	if k == nil {
		return errors.New("a picture needs a number among what is varied")
	}
	p.x, p.y = func(c *space.Candidate) float64 { return displayOf(k.Kind, k.Number(&c.Design), p.sys) }, p.goalOn(0)
	p.chart.X, p.chart.Y = leverAxis(k, p.sys), goalAxis(p.h.Table.Goals[0], p.sys)
	p.add(p.f.Some, false)
	p.add(p.f.Best, false)
	return nil
}

// widest returns the varied number in which the best designs differ most: that
// has most different values, then that takes most of its range. nil when no
// number is varied.
func (p *pareto) widest() *schema.Key {
	var key *schema.Key
	most := -1.0
	for i := range p.h.Table.Vary {
		v := &p.h.Table.Vary[i]
		if !v.Key.Numeric() || math.IsInf(v.To, 0) {
			continue
		}
		low, high := math.Inf(1), math.Inf(-1)
		values := map[float64]bool{}
		for _, c := range p.f.Best {
			x := c.Values[i].Number
			values[x] = true
			low, high = math.Min(low, x), math.Max(high, x)
		}
		if rank := float64(len(values)) + (high-low)/(v.To-v.From); rank > most {
			key, most = v.Key, rank
		}
	}
	return key
}

// add adds designs; joined ones are the front, along which a line runs.
func (p *pareto) add(list []space.Candidate, joined bool) {
	for i := range list {
		c := &list[i]
		x, y := p.x(c), p.y(c)
		if !isFinite(x) || !isFinite(y) {
			continue
		}
		label := c.Label
		if label != "" && len(p.h.Table.Goals) == 3 {
			g := p.h.Table.Goals[2]
			label += ", " + quantity.Format(p.h.Goal(c, 2), g.Of.Kind(), p.sys)
		}
		p.chart.Points = append(p.chart.Points, plots.Point{X: x, Y: y, Label: label, Front: joined})
	}
}

// thinned leaves out designs of the front that would lie on one another: those
// without a label that are nearer to the last one than a fortieth of the front.
func (p *pareto) thinned() []space.Candidate {
	var out []space.Candidate
	front := p.f.Front
	width := math.Abs(p.x(&front[len(front)-1]) - p.x(&front[0]))
	for i := range front {
		c := &front[i]
		if c.Label == "" && len(out) > 0 && math.Abs(p.x(c)-p.x(&out[len(out)-1])) < width/40 {
			continue
		}
		out = append(out, *c)
	}
	return out
}

func (p *pareto) caption() {
	goals := p.h.Table.Goals
	title := "Designs that no other found beats in both goals"
	switch len(goals) {
	case 1:
		title = "The best designs found: " + goals[0].String()
	case 3:
		title = "Designs that no other found beats in all three goals"
	}
	var words []string
	if len(goals) == 3 {
		words = append(words, "third goal, beside the letters: "+goals[2].String())
	}
	if len(goals) == 2 {
		words = append(words, "goals: "+goals[0].String()+", "+goals[1].String())
	}
	var limits []string
	for _, l := range p.h.Table.Limits {
		limits = append(limits, l.Text(p.sys))
	}
	if len(limits) > 0 {
		words = append(words, "limits: "+strings.Join(limits, ", "))
	}
	if len(goals) < 3 {
		words = append(words, "rings: some of the designs sampled within the limits")
	}
	words = append(words, "the present design need not meet them")
	first := &p.f.Best[0]
	p.chart.Caption = caption(title, strings.Join(words, "; "), &p.h.Project.Design, &first.Sizing, p.trust(),
		fmt.Sprintf("%d designs found by a search.", len(p.chart.Points)), p.sys)
}

// trust names the levels of the figures on the axes.
func (p *pareto) trust() string {
	var levels []string
	for _, g := range p.h.Table.Goals {
		if f := g.Of.Figure; f != nil {
			level := size.Trust(&p.f.Best[0].Sizing, f).String()
			if !strings.Contains(strings.Join(levels, ", "), level) {
				levels = append(levels, level)
			}
		}
	}
	if levels == nil {
		return "geometry"
	}
	return strings.Join(levels, ", ")
}

func goalAxis(g schema.Goal, sys quantity.System) plots.Axis {
	label := capital(g.Of.Label()) + " (less is better)"
	if g.Maximise {
		label = capital(g.Of.Label()) + " (more is better)"
	}
	return plots.Axis{Label: label, Unit: unitInWords(g.Of.Kind(), sys)}
}
