package screen

import (
	"encoding/json"
	"slices"
	"strings"

	"gapline/internal/advice"
	"gapline/internal/render/machine"
	"gapline/internal/schema"
	"gapline/internal/study/space"
)

// Object is the result as JSON.
func (v *FoundView) Object() *Object {
	a, o := v.Found.Archive, &Object{}
	o.Set("schema_version", SchemaVersion).Set("title", v.Hunt.Project.Design.Title).Set("seed", v.Hunt.Table.Seed).
		Set("designs", a.Evaluated+a.Impossible+a.Incomplete).Set("exhaustive", v.Hunt.Plan.Exhaustive()).
		Set("impossible", a.Impossible).Set("first_impossible", v.Found.First).Set("not_computed", a.Incomplete).
		Set("feasible", a.Feasible).Set("refined", a.Refined)
	goals, limits := []string{}, []*Object{}
	for _, g := range v.Hunt.Table.Goals {
		goals = append(goals, g.String())
	}
	for i, l := range v.Hunt.Table.Limits {
		limits = append(limits, limitObject(l).Set("met", a.Met[i]))
	}
	best, front := []*Object{}, []*Object{}
	for i := range v.Found.Best {
		best = append(best, v.candidateObject(&v.Found.Best[i]).Set("held_back_by", append([]string{}, v.Found.Best[i].Held...)))
	}
	for i := range v.Found.Front {
		front = append(front, v.candidateObject(&v.Found.Front[i]))
	}
	return o.Set("goals", goals).Set("limits", limits).Set("best", best).Set("front", front).
		Set("relax", v.relaxObjects(v.Found.Relax)).Set("relax_together", v.relaxObjects(v.Found.Missed)).
		Set("cautions", machine.Texts(advice.DesignCautions(v.loud())))
}

func limitObject(l schema.Limit) *Object {
	o := &Object{}
	return o.Set("name", l.Of.Name()).Set("sign", l.Sign()).Set("value", Number(measureJSON(l.Of, l.Value)))
}

// measureJSON turns SI into the unit that a figure's key names; keys stay SI.
func measureJSON(m schema.Measure, x float64) float64 {
	if m.Figure != nil {
		return inKeyUnit(m.Figure, x)
	}
	return x
}

func (v *FoundView) candidateObject(c *space.Candidate) *Object {
	o, values, goals, limits := &Object{}, &Object{}, &Object{}, &Object{}
	for _, x := range c.Values {
		values.Set(x.Key.Path, json.RawMessage(appendAxis(nil, x)))
	}
	for i, g := range v.Hunt.Table.Goals {
		goals.Set(g.Of.Name(), Number(measureJSON(g.Of, v.Hunt.Goal(c, i))))
	}
	for i, l := range v.Hunt.Table.Limits {
		limits.Set(l.Of.Name(), Number(measureJSON(l.Of, v.Hunt.Limited(c, i))))
	}
	if c.Label != "" {
		o.Set("label", c.Label)
	}
	return o.Set("values", values).Set("goals", goals).Set("limits", limits)
}

func (v *FoundView) relaxObjects(list []space.Relaxation) []*Object {
	out := []*Object{}
	for i := range list {
		r := &list[i]
		out = append(out, limitObject(r.Limit).Set("to", Number(measureJSON(r.Limit.Of, r.To))).Set("share_of_range", Number(r.Share)).
			Set("design", v.candidateObject(&r.Design)))
	}
	return out
}

// Rows is the list of designs for CSV: the best under their labels, then the rest
// of the front.
func (v *FoundView) Rows() [][]string {
	head := []string{"label"}
	for _, x := range v.Hunt.Table.Vary {
		name, _ := x.Key.Column()
		head = append(head, name)
	}
	for _, m := range v.measures() {
		head = append(head, m.Name())
	}
	rows := [][]string{append(head, "held_back_by")}
	for i := range v.Found.Best {
		rows = append(rows, v.csvRow(&v.Found.Best[i]))
	}
	for i := range v.Found.Front {
		if c := &v.Found.Front[i]; c.Label == "" {
			rows = append(rows, v.csvRow(c))
		}
	}
	return rows
}

// measures lists goals and limits, each once.
func (v *FoundView) measures() []schema.Measure {
	var out []schema.Measure
	for _, g := range v.Hunt.Table.Goals {
		out = append(out, g.Of)
	}
	for _, l := range v.Hunt.Table.Limits {
		if !slices.Contains(out, l.Of) && !v.isVaried(l.Of) {
			out = append(out, l.Of)
		}
	}
	return out
}

func (v *FoundView) csvRow(c *space.Candidate) []string {
	row := []string{c.Label}
	for _, x := range c.Values {
		if word, ok := axisWord(x); ok {
			row = append(row, word)
			continue
		}
		_, factor := x.Key.Column()
		row = append(row, numberCell(x.Number*factor))
	}
	for _, m := range v.measures() {
		row = append(row, numberCell(measureJSON(m, space.Value(m, &c.Design, &c.Sizing))))
	}
	return append(row, strings.Join(c.Held, "; "))
}
