package space

import (
	"math"

	"gapline/cabinet/sizing"
	"gapline/internal/quantity"
	"gapline/internal/schema"
	"gapline/internal/search"
)

// Search is a search among the designs that a file's [search] table spans. The
// keys that it varies no longer follow others; the rest still do.
type Search struct {
	Space
	Project *schema.Project
	Table   schema.Search
	Plan    *search.Plan

	steps  []float64 // of the continuous keys, SI: values are whole multiples
	goals  []bounds  // what the goals came to in the trial
	limits []bounds  // and the limits' measures
	eases  sizing.GapLimit
	eased  float64 // octaves by which that limit of the gap gives way; see easing
}

// bounds are the least and greatest of some values.
type bounds struct {
	low, high float64
	n         int
}

func (b *bounds) add(x float64) {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return
	}
	if b.n == 0 {
		b.low, b.high = x, x
	}
	b.low, b.high = math.Min(b.low, x), math.Max(b.high, x)
	b.n++
}

// scale is the range of the values, or their size when they have none.
func (b *bounds) scale() float64 {
	switch {
	case b.high > b.low:
		return b.high - b.low
	case b.n > 0 && b.low != 0:
		return math.Abs(b.low)
	}
	return 1
}

// NewSearch prepares the search. designs above 0 and a seed from 0 up stand in for
// the file's. Errors say everything that is missing from the table or cannot be
// meant.
func NewSearch(base *schema.Project, designs int, seed int64) (*Search, error) {
	if problems := missingPieces(base); problems != nil {
		return nil, problems
	}
	h := &Search{Project: base, Table: *base.Search}
	if designs != 0 {
		if err := schema.CheckDesigns(designs); err != nil {
			return nil, err
		}
		h.Table.Designs = designs
	}
	if seed >= 0 {
		h.Table.Seed = uint64(seed)
	}
	var keys []*schema.Key
	for i := range h.Table.Vary {
		v := &h.Table.Vary[i]
		keys = append(keys, v.Key)
		h.steps = append(h.steps, fineStep(v))
	}
	h.Space = New(&base.Design, base.Links, keys)
	h.Space.MustFit = true
	h.Plan = search.NewPlan(h.problem(), h.Table.Designs, h.Table.Seed)
	return h, h.try()
}

// missingPieces says what the [search] table lacks.
func missingPieces(base *schema.Project) schema.Faults {
	t := base.Search
	if t == nil {
		return schema.Faults{{Path: "search", Text: "does not say what to look for. Add tables such as", Example: `[search]
limits = ["horn.flat_to_hz >= 12 kHz", "cabinet.width <= 620 mm"]
goals  = ["minimise gap.open_oct", "minimise coupling.lower_hz"]
[search.vary]
"cabinet.pitch"    = "200:320 mm"
"horn.mouth_width" = "250:450:10 mm"`}}
	}
	var out schema.Faults
	if len(t.Goals) == 0 {
		out = append(out, schema.Fault{Path: "search.goals", Text: `is missing: one to three goals such as goals = ["minimise gap.open_oct"]`})
	}
	if len(t.Vary) == 0 {
		out = append(out, schema.Fault{Path: "search.vary", Text: `is missing: ranges such as "cabinet.pitch" = "200:320 mm" under [search.vary]`})
	}
	derived := !base.Design.Cabinet.Pitch.Given() && base.Design.Cabinet.Height.Given()
	names := map[string]bool{}
	for _, v := range t.Vary {
		names[v.Key.Path] = true
	}
	if names["cabinet.pitch"] && derived && (names["cabinet.height"] || names["cabinet.gap"]) {
		out = append(out, schema.Fault{Path: "search.vary.cabinet.pitch", Text: "is varied beside cabinet.height or cabinet.gap, but the pitch is height plus gap here: leave out one"})
	}
	return out
}

// fineStep is the step to which a continuous key is rounded: a power of ten of
// its unit, at most 1/2000 of the range, so that designs can be written down.
func fineStep(v *schema.Variation) float64 {
	if !v.Continuous() {
		return 0
	}
	unit := 1.0
	if v.Key.Kind == quantity.Angle {
		unit = math.Pi / 180
	}
	return unit * math.Pow(10, math.Floor(math.Log10((v.To-v.From)/unit/2000)))
}

// problem is the search in the unit box.
func (h *Search) problem() *search.Problem {
	p := &search.Problem{Goals: len(h.Table.Goals), Limits: len(h.Table.Limits), New: h.evaluator}
	for i := range h.Table.Vary {
		v := &h.Table.Vary[i]
		p.Levers = append(p.Levers, search.Lever{Levels: len(v.Values), Ordered: v.Key.Numeric()})
	}
	return p
}

// Values puts the settings that a point of the unit box stands for into out.
func (h *Search) Values(u []float64, out []schema.Value) {
	for i := range u {
		out[i] = h.value(i, u[i])
	}
}

func (h *Search) value(i int, u float64) schema.Value {
	v := &h.Table.Vary[i]
	if !v.Continuous() {
		return v.Values[h.Plan.Problem.Levers[i].Level(u)]
	}
	x := v.From + u*(v.To-v.From)
	if u > 0 && u < 1 {
		x = math.Round(x/h.steps[i]) * h.steps[i]
	}
	return schema.NumberValue(v.Key, min(max(x, v.From), v.To))
}

// evaluator returns the outcome of points, for one goroutine.
func (h *Search) evaluator() search.Evaluate {
	p := h.point()
	return func(u, goals, excess []float64) search.Status {
		h.Values(u, p.Values)
		p.move(&h.Space, 0)
		if p.Err != nil {
			if r, ok := p.Err.(*Refusal); ok && r.misfit() {
				return search.Misfit
			}
			return search.Impossible
		}
		s := p.Size()
		if h.eased != 0 {
			s = s.Eased(&p.Design, h.eases, h.eased)
		}
		for i, g := range h.Table.Goals {
			v := Value(g.Of, &p.Design, &s)
			if math.IsNaN(v) {
				return search.Incomplete
			}
			goals[i] = clip(g.Score(v), g.Score(h.goals[i].low), h.goals[i].scale())
		}
		for i, l := range h.Table.Limits {
			v := Value(l.Of, &p.Design, &s)
			if math.IsNaN(v) {
				return search.Incomplete
			}
			excess[i] = h.excess(i, l.Excess(v))
		}
		return search.Evaluated
	}
}

// clip keeps infinite values (a limit that does not exist) comparable with
// finite ones: far beyond what was seen.
func clip(x, about, scale float64) float64 {
	const far = 1e3
	return min(max(x, about-far*scale), about+far*scale)
}

// excess scales what a limit is missed by with the range of its measure, and
// forgives rounding.
func (h *Search) excess(i int, missed float64) float64 {
	const rounding = 1e-9
	e := clip(missed/h.limits[i].scale(), 0, 1)
	if math.Abs(e) < rounding {
		return 0
	}
	return e
}
