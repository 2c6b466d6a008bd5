package describe

import (
	"errors"
	"math"
	"slices"
	"strings"

	"gapline/internal/result"
	"gapline/internal/schema"
	"gapline/internal/study/size"
	"gapline/internal/study/space"
)

// Pareto draws what a search found over its first two goals, the best designs under
// their labels. With one goal it stands over the key in which the best differ most;
// with three the labels tell the third. An error says why there is no picture.
func Pareto(s *space.Search, found *space.Found) (*result.Result, error) {
	if len(found.Best) == 0 {
		return nil, errors.New("there is no picture when nothing fits")
	}
	p := pareto{search: search{s, found}}
	p.chart.Shown = result.At(result.Drawn)
	if len(s.Table.Goals) == 1 {
		if err := p.overKey(); err != nil {
			return nil, err
		}
	} else {
		p.overGoals()
	}
	if len(p.chart.Points) == 0 {
		return nil, errors.New("there is no picture: a goal is without limit in every design found")
	}
	if c, ok := s.Present(); ok && isFinite(p.x(&c)) && isFinite(p.y(&c)) {
		p.chart.Points = append(p.chart.Points, result.Point{X: p.x(&c), Y: p.y(&c), Present: true, Label: thisDesign})
	}
	p.caption()
	r := &result.Result{Title: s.Project.Design.Title}
	r.Add(p.chart)
	return r, nil
}

type pareto struct {
	search
	chart result.Scatter
	x, y  func(*space.Candidate) float64
}

// goalOn returns the value of a goal.
func (p *pareto) goalOn(i int) func(*space.Candidate) float64 {
	return func(c *space.Candidate) float64 { return p.Goal(c, i) }
}

// overGoals sets the axes of a search with several goals.
func (p *pareto) overGoals() {
	goals := p.Table.Goals
	p.x, p.y = p.goalOn(0), p.goalOn(1)
	p.chart.X, p.chart.Y = goalAxis(goals[0]), goalAxis(goals[1])
	two := len(goals) == 2
	if two {
		p.add(p.found.Some, false)
	}
	p.add(p.thinned(), two)
}

// overKey sets the axes of a search with one goal.
func (p *pareto) overKey() error {
	k := p.widest()
	if k == nil {
		return errors.New("a picture needs a number among what is varied")
	}
	p.x, p.y = func(c *space.Candidate) float64 { return k.Number(&c.Design) }, p.goalOn(0)
	p.chart.X, p.chart.Y = keyAxis(k), goalAxis(p.Table.Goals[0])
	p.add(p.found.Some, false)
	p.add(p.found.Best, false)
	return nil
}

// widest returns the varied number in which the best designs differ most: that has
// most different values, then that takes most of its range. nil when no number is
// varied.
func (p *pareto) widest() *schema.Key {
	var key *schema.Key
	most := -1.0
	for i := range p.Table.Vary {
		v := &p.Table.Vary[i]
		if !v.Key.Numeric() || math.IsInf(v.To, 0) {
			continue
		}
		low, high := math.Inf(1), math.Inf(-1)
		values := map[float64]bool{}
		for _, c := range p.found.Best {
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
		label := result.Plain(c.Label)
		if c.Label != "" && len(p.Table.Goals) == 3 {
			label = label.And(result.Say(", %s", measureCell(p.Table.Goals[2].Of, p.Goal(c, 2))))
		}
		p.chart.Points = append(p.chart.Points, result.Point{X: x, Y: y, Label: label, Front: joined})
	}
}

// thinned leaves out designs of the front that would lie on one another: those
// without a label that are nearer to the last one than a fortieth of the front.
func (p *pareto) thinned() []space.Candidate {
	var out []space.Candidate
	front := p.found.Front
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

// titles are what a chart with that many goals shows.
var titles = map[int]string{
	1: "The best designs found: ",
	2: "Designs that no other found beats in both goals",
	3: "Designs that no other found beats in all three goals",
}

func (p *pareto) caption() {
	goals := p.Table.Goals
	title := titles[len(goals)]
	var words []result.Text
	switch len(goals) {
	case 1:
		title += goals[0].String()
	case 2:
		words = append(words, result.Plain("goals: "+goals[0].String()+", "+goals[1].String()))
	case 3:
		words = append(words, result.Plain("third goal, beside the letters: "+goals[2].String()))
	}
	if len(p.Table.Limits) > 0 {
		var limits []result.Text
		for _, l := range p.Table.Limits {
			limits = append(limits, limitText(l))
		}
		words = append(words, result.Plain("limits: ").And(joined(", ", limits...)))
	}
	if len(goals) < 3 {
		words = append(words, result.Plain("rings: some of the designs sampled within the limits"))
	}
	words = append(words, result.Plain("the present design need not meet them"))
	p.chart.Caption = captioned(result.Caption{
		ID: "search", Title: title, Subtitle: joined("; ", words...), Trust: p.trusts(),
		Alt: result.Say("%s designs found by a search.", result.Count(len(p.chart.Points))),
	}, &p.Project.Design, &p.found.Best[0].Sizing)
}

// trusts names the levels of the figures on the axes.
func (p *pareto) trusts() string {
	var levels []string
	for _, g := range p.Table.Goals {
		if f := g.Of.Figure; f != nil {
			if level := size.Trust(&p.found.Best[0].Sizing, f).String(); !slices.Contains(levels, level) {
				levels = append(levels, level)
			}
		}
	}
	if levels == nil {
		return "geometry"
	}
	return strings.Join(levels, ", ")
}

func goalAxis(g schema.Goal) result.Axis {
	label := capital(g.Of.Label()) + " (less is better)"
	if g.Maximise {
		label = capital(g.Of.Label()) + " (more is better)"
	}
	return result.Axis{Label: label, Kind: g.Of.Kind(), Suited: true}
}
