package space

import (
	"context"

	"gapline/cabinet/design"
	"gapline/cabinet/sizing"
	"gapline/internal/figure"
	"gapline/internal/numeric"
	"gapline/internal/schema"
	"gapline/internal/spread"
	"gapline/internal/study/size"
)

// Tolerance is the study of a design within its tolerances. Nothing follows
// anything: a box that comes out 2 mm too high does not change its horn.
type Tolerance struct {
	Space
	List    []schema.Tolerance
	Samples int
	Seed    uint64
}

// NewTolerance prepares the study. The error says what the file lacks.
func NewTolerance(base *schema.Project) (*Tolerance, error) {
	t := base.Tolerances
	if t == nil || len(t.List) == 0 {
		return nil, schema.Faults{{Path: "tolerance", Text: "names no key that may be off. Add a table such as", Example: `[tolerance]
"cabinet.pitch"    = "2 mm"               # plus or minus, anything in between
"horn.mouth_width" = { sigma = "1 mm" }   # normal, with this standard deviation
"horn.coverage"    = "5 %"                # of the value`}}
	}
	var keys []*schema.Key
	for i := range t.List {
		keys = append(keys, t.List[i].Key)
	}
	return &Tolerance{Space: New(&base.Design, nil, keys), List: t.List, Samples: t.Samples, Seed: t.Seed}, nil
}

// units returns the tolerances as inputs about 0, each 1 wide: the half widths
// depend on the design that they are laid on.
func (t *Tolerance) units() []spread.Input {
	out := make([]spread.Input, len(t.List))
	for i := range out {
		out[i] = spread.Input{Half: 1, Normal: t.List[i].Normal}
	}
	return out
}

// off puts the values of a design into out that is off by the given share of each
// tolerance.
func (t *Tolerance) off(base *design.Design, shares []float64, out []schema.Value) {
	for i := range t.List {
		k := t.List[i].Key
		out[i] = schema.NumberValue(k, k.Number(base)+t.List[i].Half(base)*shares[i])
	}
}

// FigureBand is how far one figure spreads.
type FigureBand struct {
	Figure *figure.Def
	Value  float64 // as designed
	spread.Band
}

// Moves reports whether the tolerances change the figure at all.
func (b *FigureBand) Moves() bool { return b.Given > 0 && (b.Low != b.High || b.Low != b.Value) }

// TargetChance is how likely a target is met. Designs that cannot exist miss it.
type TargetChance struct {
	Target schema.Limit
	spread.Chance
}

// GapEffect is what one tolerance does to the gap by itself.
type GapEffect struct {
	Tolerance schema.Tolerance
	spread.Effect
	At float64 // the key's value as designed
}

// ToleranceResult is what the study found.
type ToleranceResult struct {
	Sizing     sizing.Sizing // as designed
	Samples    int           // looked at; fewer than asked for when stopped
	Impossible int
	Fits       int                    // that can be built
	Closed     [sizing.LevelCount]int // whose gap is closed, by level of trust
	Known      [sizing.LevelCount]int // whose gap is known there
	Divided    int                    // that one level closes and another leaves open
	First      string                 // why the first of these cannot exist
	Figures    []FigureBand
	Targets    []TargetChance
	Gap        float64 // as designed
	Effects    []GapEffect
}

// Run sizes the sampled designs on all cores. When ctx ends it returns the
// result of those done so far, with the context's error.
func (t *Tolerance) Run(ctx context.Context, seen func(done int)) (*ToleranceResult, error) {
	r := &ToleranceResult{Sizing: sizing.Size(t.Base)}
	targets := Targets(t.Base, &r.Sizing)
	point := spread.Points(t.units(), t.Samples, t.Seed)
	columns := make([]spread.Stream, len(size.Table))
	met := make([]int, len(targets))
	at := func(i int, values []schema.Value) {
		shares := make([]float64, len(t.List))
		point(i, shares)
		t.off(t.Base, shares, values)
	}
	many := t.Space
	many.Curves = t.Samples >= spread.Many
	err := Each(ctx, &many, at, 0, t.Samples, func(p *Point) sampled { return judge(p, targets) }, func(one sampled) error {
		r.take(one, t.Base.Targets.Gap.Or(0), columns, met)
		seen(r.Samples)
		return nil
	})
	for i, f := range size.Table {
		r.Figures = append(r.Figures, FigureBand{f.Def, f.Of(&r.Sizing), columns[i].Band()})
	}
	for i, target := range targets {
		r.Targets = append(r.Targets, TargetChance{target, spread.ChanceOf(met[i], r.Samples)})
	}
	t.rank(r)
	return r, err
}

// sampled is one sampled design.
type sampled struct {
	values []float64 // of every figure; nil when it cannot exist
	met    []bool    // of every target
	fits   bool
	gaps   [sizing.LevelCount]float64 // by level of trust; NaN: not known
	why    string
}

// judge keeps what the study needs of a design.
func judge(p *Point, targets []schema.Limit) sampled {
	if p.Err != nil {
		return sampled{why: p.Err.Error()}
	}
	s := p.Size()
	out := sampled{values: make([]float64, len(size.Table)), met: make([]bool, len(targets)), fits: p.Fits()}
	for j, f := range size.Table {
		out.values[j] = f.Of(&s)
	}
	for l, g := range sizing.Levels(&p.Design, &s) {
		out.gaps[l] = numeric.Absent
		if g.Given && len(g.Unknown) == 0 {
			out.gaps[l] = g.Gap
		}
	}
	for j, target := range targets {
		out.met[j] = target.Excess(Value(target.Of, &p.Design, &s)) <= 0
	}
	return out
}

// take adds a sampled design to the columns of figures and the counts.
func (r *ToleranceResult) take(row sampled, target float64, columns []spread.Stream, met []int) {
	r.Samples++
	if row.values == nil {
		if r.Impossible++; r.Impossible == 1 {
			r.First = row.why
		}
		return
	}
	if row.fits {
		r.Fits++
	}
	r.level(row.gaps, target)
	for j, v := range row.values {
		columns[j].Add(v)
	}
	for j, ok := range row.met {
		if ok {
			met[j]++
		}
	}
}

// level counts at which levels of trust the gap is closed, and whether they disagree.
func (r *ToleranceResult) level(gaps [sizing.LevelCount]float64, target float64) {
	yes, no := false, false
	for l, gap := range gaps {
		if !numeric.Given(gap) {
			continue
		}
		r.Known[l]++
		if gap <= target {
			r.Closed[l]++
			yes = true
		} else {
			no = true
		}
	}
	if yes && no {
		r.Divided++
	}
}

// rank moves one tolerance at a time and ranks them by what they do to the gap.
func (t *Tolerance) rank(r *ToleranceResult) {
	gap := t.gapOf(t.Base)
	var ranked []spread.Effect
	r.Gap, ranked = spread.OneAtATime(t.units(), gap)
	for _, e := range ranked {
		one := t.List[e.Input]
		at, half := one.Key.Number(t.Base), one.Half(t.Base)
		e.InLow, e.InHigh = at+half*e.InLow, at+half*e.InHigh
		r.Effects = append(r.Effects, GapEffect{one, e, at})
	}
}

// gapOf returns the gap of a design that is off a base by shares of the tolerances;
// NaN when it cannot exist. It is for one goroutine.
func (t *Tolerance) gapOf(base *design.Design) func(shares []float64) float64 {
	off := t.offOf(base)
	return func(shares []float64) float64 {
		d, err := off(shares)
		if err != nil {
			return numeric.Absent
		}
		return sizing.GapOf(&d)
	}
}

// offOf returns designs that are off a base by shares of the tolerances; the error says
// why one cannot exist. It is for one goroutine.
func (t *Tolerance) offOf(base *design.Design) func(shares []float64) (design.Design, error) {
	space := t.Space
	space.Base = base
	values := make([]schema.Value, len(t.List))
	return func(shares []float64) (design.Design, error) {
		t.off(base, shares, values)
		return space.Design(values)
	}
}

// Override takes another number of samples and another seed in place of the
// file's. 0 samples and a negative seed leave them.
func (t *Tolerance) Override(samples int, seed int64) error {
	if samples != 0 {
		if err := schema.CheckSamples(samples); err != nil {
			return err
		}
		t.Samples = samples
	}
	if seed >= 0 {
		t.Seed = uint64(seed)
	}
	return nil
}
