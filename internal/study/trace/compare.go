package trace

import (
	"errors"
	"fmt"
	"math"

	"gapline/cabinet/design"
	"gapline/cabinet/sizing"
	"gapline/internal/figure"
	"gapline/internal/measured"
	"gapline/internal/numeric"
)

// leastAlign is the share of an alignment band in which there must be values.
const leastAlign = 0.5

// Compare lays the traces over the prediction. Traces of pairs count as traces
// too; give them in both lists. The error says which trace does not suit the
// options.
func Compare(d *design.Design, traces []Input, pairs []PairInput, o Options) (*Overlay, error) {
	if len(traces) == 0 {
		return nil, errors.New("no measured response to show")
	}
	v := &Overlay{Design: d, Sizing: sizing.Size(d), Options: o}
	v.Sizing.Wave = o.Wave
	roles, err := rolesOf(pairs)
	if err != nil {
		return nil, err
	}
	if err := v.predict(traces, roles); err != nil {
		return nil, err
	}
	v.Frequency = commonGrid(traces)
	if len(v.Frequency) < 2 {
		return nil, errors.New("the traces hold less than two grid points, 1/48 octave apart")
	}
	for _, p := range []*Prediction{v.Prediction, v.Bare} {
		if p == nil {
			continue
		}
		v.Reference = "predicted"
		if err := p.on(v.Frequency, o.Smoothing); err != nil {
			return nil, err
		}
	}
	if err := v.addCurves(traces, roles); err != nil {
		return nil, err
	}
	for _, p := range pairs {
		if err := v.addPair(p); err != nil {
			return nil, err
		}
	}
	return v, nil
}

// commonGrid covers all traces.
func commonGrid(traces []Input) []float64 {
	low, high := math.Inf(1), 0.0
	for i := range traces {
		l, h := traces[i].Trace.Range()
		low, high = math.Min(low, l), math.Max(high, h)
	}
	return measured.Grid(low, high)
}

// smoothed puts a trace on the grid.
func (v *Overlay) smoothed(in Input) ([]float64, error) {
	level, err := v.Options.Smoothing.Apply(in.Trace, v.Frequency)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", in.Name, err)
	}
	return level, nil
}

// addCurves smooths and aligns the traces and takes the differences, each to its own
// prediction. Without any prediction the first of several traces is the reference.
func (v *Overlay) addCurves(traces []Input, roles map[string]role) error {
	v.chooseBand()
	var first []float64
	for i, in := range traces {
		c := Curve{Name: in.Name, Notes: in.Trace.Notes, Prediction: v.own(roles[in.Name])}
		var err error
		if c.Level, err = v.smoothed(in); err != nil {
			return err
		}
		reference := first
		switch {
		case c.Prediction != nil:
			reference = c.Prediction.Level
		case v.Prediction != nil:
			reference = nil
		case i == 0 && len(traces) > 1:
			first, v.Reference = c.Level, c.Name
		}
		if reference == nil {
			c.Octaves = measured.Octaves(v.Frequency, c.Level)
			v.Curves = append(v.Curves, c)
			continue
		}
		if c.Moved, err = v.align(c.Name, c.Level, reference); err != nil {
			return err
		}
		c.Difference = measured.Subtract(c.Level, reference)
		c.Octaves = measured.Octaves(v.Frequency, c.Difference)
		v.Curves = append(v.Curves, c)
	}
	return nil
}

// chooseBand settles where levels are aligned.
func (v *Overlay) chooseBand() {
	a := v.Options.Align
	switch {
	case a.Off:
	case a.given():
		v.Band = [2]float64{a.Low, a.High}
	case v.Prediction != nil:
		v.Band = v.Prediction.Passband
		v.Band[1] = math.Min(v.Band[1], v.Prediction.Limit)
	}
}

// align moves level so that it matches the reference in the mean over the band,
// and returns by how much. A trace that does not cover the prediction's own band
// stays as measured, NaN; where the user chose the band it is an error.
func (v *Overlay) align(name string, level, reference []float64) (float64, error) {
	if v.Band[1] == 0 {
		return 0, nil
	}
	mean, covered := measured.BandMean(v.Frequency, measured.Subtract(reference, level), v.Band[0], v.Band[1])
	switch {
	case covered < leastAlign && !v.Options.Align.given():
		return numeric.Absent, nil
	case covered < leastAlign:
		return 0, fmt.Errorf("%s covers only %.0f %% of the alignment band, %.4g to %.4g Hz, together with what it is compared with: choose another with --align, or --align none",
			name, 100*covered, v.Band[0], v.Band[1])
	}
	measured.Shift(level, mean)
	return mean, nil
}

// addPair compares the two traces of a pair.
func (v *Overlay) addPair(in PairInput) error {
	with, err := v.smoothed(in.With)
	if err != nil {
		return err
	}
	without, err := v.smoothed(in.Without)
	if err != nil {
		return err
	}
	p := Pair{With: in.With.Name, Without: in.Without.Name, Of: in.Of, Control: numeric.Absent}
	if v.Options.Align.given() && !v.Options.Align.Off && in.Of != OfEdge {
		if p.Moved, err = v.align(p.Without, without, with); err != nil {
			return err
		}
	}
	p.Difference = measured.Subtract(with, without)
	if p.Octaves = measured.Octaves(v.Frequency, p.Difference); p.Octaves == nil {
		return fmt.Errorf("%s and %s have no frequency in common", p.With, p.Without)
	}
	p.Parting = measured.Part(v.Frequency, p.Difference, v.Options.PartLevel)
	switch in.Of {
	case OfEdge:
		p.Control = edgeControl(v.Frequency, p.Difference)
		p.Limits = limits(&v.Sizing, edgeLimits, p.Control)
	case OfStacks:
		p.Limits = limits(&v.Sizing, stackLimits, p.Parting.Limit)
	default:
		if p.Predicted, err = predictedPair(v.Design, v.Frequency, v.Options); err != nil {
			return err
		}
		if !numeric.AnyGiven(p.Predicted) {
			p.Predicted = nil
		}
		p.Limits = v.boxLimits(&p)
	}
	v.Pairs = append(v.Pairs, p)
	return nil
}

// What counts as holding a pattern: a level at the edge of the coverage 6 dB under that on
// the axis, for half an octave, as the wave level reads it off a run.
const (
	EdgeFall  = 6.0 // dB
	edgeStays = 0.5 // octaves
)

// edgeControl is the lowest frequency in Hz from which a horn holds its pattern by the level
// on its axis less that at the edge of its coverage, dB.
func edgeControl(f, difference []float64) float64 {
	edge := make([]float64, len(difference))
	for i, x := range difference {
		edge[i] = -x
	}
	return numeric.Curve{X: f, Y: edge}.Settles(-EdgeFall, edgeStays)
}

// boxLimits are what the parting of one box can be held against: where the prediction
// parts, and the corner of the chamber.
func (v *Overlay) boxLimits(p *Pair) []Limit {
	var out []Limit
	if p.Predicted != nil {
		if at := measured.Part(v.Frequency, p.Predicted, v.Options.PartLevel).Limit; numeric.Given(at) {
			out = append(out, Limit{Figure: figure.PairPredictedLimit, Trust: figure.Aperture, Value: at, Octaves: math.Log2(p.Parting.Limit / at)})
		}
	}
	return append(out, limits(&v.Sizing, []*figure.Def{figure.CouplingInsertChamber}, p.Parting.Limit)...)
}
