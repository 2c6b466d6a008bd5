package space

import (
	"context"
	"math"

	"gapline/cabinet/sizing"
	"gapline/internal/numeric"
	"gapline/internal/schema"
	"gapline/internal/spread"
)

// LeverBand is the gap at one value of a lever, with its spread.
type LeverBand struct {
	Value   schema.Value
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
func (t *Tolerance) Along(ctx context.Context, g *Grid, seen func(done int)) ([]LeverBand, error) {
	n := min(t.Samples, maxBandSamples)
	points := spread.Sample(t.units(), n, t.Seed)
	var out []LeverBand
	err := inTasks(ctx, &g.Space, g.Values, 0, g.Len(), 1, func(p *Point) LeverBand {
		b := LeverBand{Value: p.Values[0], Nominal: numeric.Absent}
		if p.Err != nil {
			b.Band, b.Impossible = spread.BandOf(nil), n
			return b
		}
		b.Nominal = sizing.GapOf(&p.Design)
		gap := t.gapOf(&p.Design)
		gaps := make([]float64, 0, n)
		for k := range n {
			gap := gap(points.RawRowView(k))
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
