package trace

import (
	"context"
	"fmt"
	"math"
	"path/filepath"

	"gapline/cabinet/design"
	"gapline/cabinet/sizing"
	"gapline/internal/measured"
	"gapline/internal/numeric"
	"gapline/internal/schema"
)

// Kept returns the limits that the traces of [measured] give for the design of a file, absent
// where there are none. A pair counts only while the keys that it depends on are as they
// were when it was kept; warn, unless nil, is told of pairs that do not count and why.
func Kept(ctx context.Context, file string, d *design.Design, warn func(error)) sizing.MeasuredSizing {
	out := sizing.AbsentMeasured
	k := kept{ctx: ctx, folder: filepath.Dir(file), d: d, m: &d.Measured}
	tell := func(err error) {
		if err != nil && warn != nil && ctx.Err() == nil {
			warn(err)
		}
	}
	var err error
	if out.Coupling, err = k.coupling(); err != nil {
		tell(err)
	}
	if out.Pattern, err = k.pattern(); err != nil {
		tell(err)
	}
	spread := math.Exp2(k.smoothing().Spread())
	out.CouplingFrom, out.CouplingTo = out.Coupling/spread, out.Coupling*spread
	out.PatternFrom, out.PatternTo = out.Pattern/spread, out.Pattern*spread
	return out
}

// kept reads the traces that a design names.
type kept struct {
	ctx    context.Context
	folder string
	d      *design.Design
	m      *design.Measured
}

func (k *kept) smoothing() measured.Smoothing {
	if k.m.Smoothing > 0 {
		return measured.Smoothing{Fraction: k.m.Smoothing}
	}
	return measured.Smoothing{Fraction: design.DefaultSmoothing}
}

// coupling is where the traces of the stacks part, Hz.
func (k *kept) coupling() (float64, error) {
	p, err := k.pair(OfStacks, [2]string{"measured.stack", "measured.closer"}, [2]string{k.m.Stack, k.m.Closer}, k.m.StackDigest, schema.StackTables)
	switch {
	case p == nil:
		return numeric.Absent, err
	case !numeric.Given(p.Parting.Limit):
		return numeric.Absent, fmt.Errorf("measured.stack and measured.closer do not part: they give no coupling limit")
	}
	return p.Parting.Limit, nil
}

// pattern is from where the horn holds its pattern, Hz.
func (k *kept) pattern() (float64, error) {
	p, err := k.pair(OfEdge, [2]string{"measured.axis", "measured.edge"}, [2]string{k.m.Axis, k.m.Edge}, k.m.EdgeDigest, schema.EdgeTables)
	switch {
	case p == nil:
		return numeric.Absent, err
	case !numeric.Given(p.Control):
		return numeric.Absent, fmt.Errorf("measured.edge does not stay 6 dB under measured.axis: they give no pattern control")
	}
	return p.Control, nil
}

// pair reads and compares the two traces of two keys; nil where they are not given or do not
// count, with the reason why.
func (k *kept) pair(of PairOf, keys, files [2]string, digest string, tables []string) (*Pair, error) {
	switch {
	case files[0] == "" && files[1] == "":
		return nil, nil
	case files[0] == "" || files[1] == "":
		missing, given := keys[0], keys[1]
		if files[0] != "" {
			missing, given = given, missing
		}
		return nil, fmt.Errorf("%s is not given: it takes both to read a limit, and %s is not used", missing, given)
	case digest == "":
		return nil, fmt.Errorf("%s has no digest of the design that it was taken on, and is not used: gapline trace --write gives it", keys[0])
	case digest != schema.Digest(k.d, tables):
		return nil, fmt.Errorf("the design has changed since %s was taken, and it is not used: take it again, or gapline trace --write if the change does not touch it", keys[0])
	}
	var in [2]Input
	for i, name := range files {
		path := name
		if !filepath.IsAbs(path) {
			path = filepath.Join(k.folder, path)
		}
		t, err := measured.Load(k.ctx, path, measured.Import{})
		if err != nil {
			return nil, fmt.Errorf("%s, %s: %w", keys[i], name, err)
		}
		in[i] = Input{Name: name, Trace: t}
	}
	v := &Overlay{Design: k.d, Options: k.options(), Frequency: commonGrid(in[:])}
	if len(v.Frequency) < 2 {
		return nil, fmt.Errorf("%s and %s hold less than two grid points, 1/48 octave apart", keys[0], keys[1])
	}
	v.chooseBand()
	if err := v.addPair(PairInput{With: in[0], Without: in[1], Of: of}); err != nil {
		return nil, err
	}
	return &v.Pairs[0], nil
}

// options are what the pairs are read with.
func (k *kept) options() Options {
	o := Options{Against: None, Smoothing: k.smoothing(), Align: Align{Off: true}, PartLevel: k.m.Threshold.Or(design.DefaultThreshold)}
	if a := k.m.Aligned; len(a) == 2 {
		o.Align = Align{Low: a[0], High: a[1]}
	}
	return o
}
