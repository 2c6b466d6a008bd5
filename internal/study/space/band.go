package space

import (
	"context"
	"math"

	"gapline/cabinet/layout"
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
	Impossible int     // of the samples
	Fits       float64 // share of the samples that can be built
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
			return b // none can be built
		}
		b.Nominal = sizing.GapOf(&p.Design)
		off := t.offOf(&p.Design)
		gaps, fits := make([]float64, 0, n), 0
		for k := range n {
			gap := numeric.Absent
			if d, err := off(points.RawRowView(k)); err == nil {
				gap = sizing.GapOf(&d)
				if layout.New(&d).Fits() {
					fits++
				}
			}
			if math.IsNaN(gap) {
				b.Impossible++
			}
			gaps = append(gaps, gap)
		}
		b.Band, b.Fits = spread.BandOf(gaps), float64(fits)/float64(n)
		return b
	}, func(b LeverBand) error {
		out = append(out, b)
		seen(len(out))
		return nil
	})
	return out, err
}
