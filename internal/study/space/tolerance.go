package space

import (
	"context"
	"fmt"
	"math"
	"sync"

	"gapline/cabinet/design"
	"gapline/cabinet/sizing"
	"gapline/internal/check"
	"gapline/internal/designfile"
	"gapline/internal/figure"
	"gapline/internal/parallel"
	"gapline/internal/spread"
	"gapline/internal/study/size"

	"gonum.org/v1/gonum/mat"
)

// Doubt is the study of a design within its tolerances. Nothing follows
// anything: a box that comes out 2 mm too high does not change its horn.
type Doubt struct {
	Base    *designfile.File
	List    []designfile.Tolerance
	Samples int
	Seed    uint64
}

// NewDoubt prepares the study. The error says what the file lacks.
func NewDoubt(base *designfile.File) (*Doubt, error) {
	t := base.Tolerances
	if t == nil || len(t.List) == 0 {
		return nil, designfile.Problems{base.Problem("tolerance", "names no key that may be off. Add a table such as").With(`[tolerance]
"cabinet.pitch"    = "2 mm"               # plus or minus, anything in between
"horn.mouth_width" = { sigma = "1 mm" }   # normal, with this standard deviation
"horn.coverage"    = "5 %"                # of the value`)}
	}
	return &Doubt{Base: base, List: t.List, Samples: t.Samples, Seed: t.Seed}, nil
}

// units returns the tolerances as inputs about 0, each 1 wide: the half widths
// depend on the design that they are laid on.
func (t *Doubt) units() []spread.Input {
	out := make([]spread.Input, len(t.List))
	for i := range out {
		out[i] = spread.Input{Half: 1, Normal: t.List[i].Normal}
	}
	return out
}

// off returns the design with each tolerance off by the given share of itself.
// The error says why such a design cannot exist.
func (t *Doubt) off(base *design.Design, shares []float64) (design.Design, error) {
	d := *base
	for i := range t.List {
		one := &t.List[i]
		x := one.Key.Number(base) + one.Half(base)*shares[i]
		if err := one.Key.Accepts(x); err != nil {
			return d, fmt.Errorf("%s %w", one.Key.Path, err)
		}
		one.Key.SetNumber(&d, x)
	}
	if problems := check.Design(&d); len(problems) > 0 {
		return d, fmt.Errorf("%s", problems[0].Text)
	}
	return d, nil
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
	Target designfile.Limit
	spread.Chance
}

// GapEffect is what one tolerance does to the gap by itself.
type GapEffect struct {
	Tolerance designfile.Tolerance
	spread.Effect
	At float64 // the key's value as designed
}

// DoubtResult is what the study found.
type DoubtResult struct {
	Sizing     sizing.Sizing // as designed
	Samples    int           // looked at; fewer than asked for when stopped
	Impossible int
	First      string // why the first of these cannot exist
	Figures    []FigureBand
	Targets    []TargetChance
	Gap        float64 // as designed
	Effects    []GapEffect
}

// batch is how many designs one task sizes.
const batch = 128

// Run sizes the sampled designs on all cores. When ctx ends it returns the
// result of those done so far, with the context's error.
func (t *Doubt) Run(ctx context.Context, seen func(done int)) (*DoubtResult, error) {
	d := &t.Base.Design
	r := &DoubtResult{Sizing: sizing.Size(d)}
	targets := Targets(d, &r.Sizing)
	points := spread.Sample(t.units(), t.Samples, t.Seed)
	columns := make([][]float64, len(size.Table))
	met := make([]int, len(targets))
	sizers := sync.Pool{New: func() any { return new(sizing.Sizer) }}
	err := parallel.Ordered(ctx, t.Samples, batch, func(lo, hi int) []sampled {
		z := sizers.Get().(*sizing.Sizer)
		defer sizers.Put(z)
		return t.size(z, points, lo, hi, targets)
	}, func(rows []sampled) error {
		for _, row := range rows {
			r.take(row, columns, met)
		}
		seen(r.Samples)
		return nil
	})
	for i, f := range size.Table {
		r.Figures = append(r.Figures, FigureBand{f.Def, f.Of(&r.Sizing), spread.BandOf(columns[i])})
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
	why    string
}

func (t *Doubt) size(z *sizing.Sizer, points *mat.Dense, lo, hi int, targets []designfile.Limit) []sampled {
	rows := make([]sampled, hi-lo)
	for i := range rows {
		d, err := t.off(&t.Base.Design, points.RawRowView(lo+i))
		if err != nil {
			rows[i].why = err.Error()
			continue
		}
		s := z.Size(&d)
		rows[i].values = make([]float64, len(size.Table))
		for j, f := range size.Table {
			rows[i].values[j] = f.Of(&s)
		}
		for _, target := range targets {
			rows[i].met = append(rows[i].met, target.Excess(Value(target.Of, &d, &s)) <= 0)
		}
	}
	return rows
}

// take adds a sampled design to the columns of figures and the counts.
func (r *DoubtResult) take(row sampled, columns [][]float64, met []int) {
	r.Samples++
	if row.values == nil {
		if r.Impossible++; r.Impossible == 1 {
			r.First = row.why
		}
		return
	}
	for j, v := range row.values {
		columns[j] = append(columns[j], v)
	}
	for j, ok := range row.met {
		if ok {
			met[j]++
		}
	}
}

// rank moves one tolerance at a time and ranks them by what they do to the gap.
func (t *Doubt) rank(r *DoubtResult) {
	base := &t.Base.Design
	var ranked []spread.Effect
	r.Gap, ranked = spread.OneAtATime(t.units(), func(shares []float64) float64 { return t.gap(base, shares) })
	for _, e := range ranked {
		one := t.List[e.Input]
		at, half := one.Key.Number(base), one.Half(base)
		e.InLow, e.InHigh = at+half*e.InLow, at+half*e.InHigh
		r.Effects = append(r.Effects, GapEffect{one, e, at})
	}
}

// gap returns the gap of a design that is off; NaN when it cannot exist.
func (t *Doubt) gap(base *design.Design, shares []float64) float64 {
	d, err := t.off(base, shares)
	if err != nil {
		return math.NaN()
	}
	return sizing.GapOf(&d)
}

// LeverBand is the gap at one value of a lever, with its spread.
type LeverBand struct {
	Value   designfile.Value
	Nominal float64 // without tolerances; NaN where the design cannot exist
	spread.Band
	Impossible int // of the samples
}

// maxBandSamples bounds the samples at each value of a lever: enough for a 5 %
// point to settle to a tenth of the band.
const maxBandSamples = 1000

// Along returns the gap at each value of a grid with one axis. Links act on the
// lever, as in a sweep; the tolerances are laid on what comes out. All values
// share one sample, so that the band is smooth.
func (t *Doubt) Along(ctx context.Context, g *Grid, seen func(done int)) ([]LeverBand, error) {
	n := min(t.Samples, maxBandSamples)
	points := spread.Sample(t.units(), n, t.Seed)
	var out []LeverBand
	err := parallel.Ordered(ctx, g.Len(), 1, func(i, _ int) LeverBand {
		b := LeverBand{Value: g.At(i)[0], Nominal: math.NaN()}
		d, err := g.Design(i)
		if err != nil {
			b.Band, b.Impossible = spread.BandOf(nil), n
			return b
		}
		b.Nominal = sizing.GapOf(&d)
		gaps := make([]float64, 0, n)
		for k := range n {
			gap := t.gap(&d, points.RawRowView(k))
			if math.IsNaN(gap) {
				b.Impossible++
			}
			gaps = append(gaps, gap)
		}
		b.Band = spread.BandOf(gaps)
		return b
	}, func(b LeverBand) error {
		out = append(out, b)
		seen(len(out))
		return nil
	})
	return out, err
}

// Override takes another number of samples and another seed in place of the
// file's. 0 samples and a negative seed leave them.
func (t *Doubt) Override(samples int, seed int64) error {
	if samples != 0 {
		if err := designfile.CheckSamples(samples); err != nil {
			return err
		}
		t.Samples = samples
	}
	if seed >= 0 {
		t.Seed = uint64(seed)
	}
	return nil
}
