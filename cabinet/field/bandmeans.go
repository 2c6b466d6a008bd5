package field

import (
	"context"
	"math"
)

// How many tones stand for the noise of a band at a seat. The sum of a stack
// swings the faster with frequency the more its mouths differ in distance, so that
// a few tones may all miss the crests or the dips.
const (
	// ToneTolerance is the most in dB that the level of a band may move at any
	// seat when its tones are doubled for the last time.
	ToneTolerance = 0.2
	// FewestTones is where the doubling starts, MostTones where it ends at the
	// latest, tones in a band.
	FewestTones = 6
	MostTones   = 384
)

// mostPressures bounds the pressures that are held at a time.
const mostPressures = 1 << 21

// bandMeans are mean squares over the tones of each band, [band][place].
type bandMeans struct {
	plain, weighted [][]float64 // weighted: with A-weighting
	tones           []int       // in each band
	settled         bool
}

// bandMeans averages the bands of s at places: over s.Tones tones each, or over as
// many as each band takes to settle.
func (e *Engine) bandMeans(ctx context.Context, s AudienceSpec, at []place) (*bandMeans, error) {
	n := len(s.Bands)
	m := &bandMeans{plain: make([][]float64, n), weighted: make([][]float64, n), tones: make([]int, n)}
	open := make([]int, n)
	for b := range open {
		open[b] = b
	}
	first, last := s.Tones, s.Tones
	if s.Tones == 0 {
		first, last = FewestTones, MostTones
	}
	for tones := first; tones <= last && len(open) > 0; tones *= 2 {
		var err error
		if open, err = e.refine(ctx, m, s.Bands, open, tones, at); err != nil {
			return nil, err
		}
	}
	m.settled = len(open) == 0 || s.Tones > 0
	return m, nil
}

// refine averages the bands of the given indices over so many tones, and returns
// those of them whose level has moved, or is there for the first time.
func (e *Engine) refine(ctx context.Context, m *bandMeans, bands []Band, which []int, tones int, at []place) (moving []int, err error) {
	var hz []float64
	for _, b := range which {
		hz = append(hz, bands[b].Tones(tones)...)
	}
	plain, weighted := table2[float64](len(which), len(at)), table2[float64](len(which), len(at))
	step := max(1, mostPressures/len(hz))
	for low := 0; low < len(at); low += step {
		p, err := e.pressures(ctx, at[low:min(low+step, len(at))], hz)
		if err != nil {
			return nil, err
		}
		for j, f := range hz {
			weight := math.Pow(10, AWeighting(f)/10)
			for k, q := range p[j] {
				p2 := square(q) / float64(tones)
				plain[j/tones][low+k] += p2
				weighted[j/tones][low+k] += p2 * weight
			}
		}
	}
	for i, b := range which {
		if moves(m.plain[b], plain[i]) {
			moving = append(moving, b)
		}
		m.plain[b], m.weighted[b], m.tones[b] = plain[i], weighted[i], tones
	}
	return moving, nil
}

// moves reports whether mean squares differ by more than ToneTolerance anywhere.
func moves(before, now []float64) bool {
	if before == nil {
		return true
	}
	for i := range now {
		if math.Abs(10*math.Log10(now[i]/before[i])) > ToneTolerance {
			return true
		}
	}
	return false
}
