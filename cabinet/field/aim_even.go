package field

import (
	"context"
	"math"

	"gapline/internal/numeric"
)

// Even is what evenness over the seats means to the search, beside the spread of the
// A-weighted level. The zero value asks for nothing more.
type Even struct {
	// Octaves is what each dB of the mean spread of the bands from From Hz up costs, in
	// dB of spread; 0: the bands by themselves do not count.
	Octaves float64
	From    float64
	// Fall is how far the level may fall from the seat nearest to the stack to the
	// farthest, evenly over log distance, dB; spreads count against that slope.
	Fall float64
	// Zone is where sound is not wanted. Each dB of its loudest place above ZoneMost,
	// against the mean level of the seats and A-weighted, costs ZoneWeight dB (0: 0.5).
	Zone                 []Vec
	ZoneMost, ZoneWeight float64
}

// zoneWeight is the default of Even.ZoneWeight.
const zoneWeight = 0.5

// SlopeOver returns what seats are wanted to have over the farthest one, dB: a fall of so
// much from the nearest to the farthest seen from a place, evenly over log distance.
func SlopeOver(seats []Vec, from Vec, fall float64) []float64 {
	out := make([]float64, len(seats))
	near, far := math.Inf(1), math.Inf(-1)
	for _, p := range seats {
		r := p.Sub(from).Norm()
		near, far = math.Min(near, r), math.Max(far, r)
	}
	if !(far > near) || fall == 0 {
		return out
	}
	for i, p := range seats {
		out[i] = fall * math.Log(far/p.Sub(from).Norm()) / math.Log(far/near)
	}
	return out
}

// spreadAbout is the largest less the smallest of levels against a slope, dB.
func spreadAbout(levels, slope []float64) float64 {
	low, high := math.Inf(1), math.Inf(-1)
	for i, l := range levels {
		d := l - slope[i]
		if math.IsNaN(d) {
			return numeric.Absent
		}
		low, high = math.Min(low, d), math.Max(high, d)
	}
	return high - low
}

// BandSpreads returns the spread of each band over the seats of an audience against a
// slope, dB.
func (a *Audience) BandSpreads(slope []float64) []float64 {
	out := make([]float64, len(a.Bands))
	for b := range out {
		out[b] = spreadAbout(a.Level[b], slope)
	}
	return out
}

// SpreadAbout returns the spread of the A-weighted level against a slope, dB.
func (a *Audience) SpreadAbout(slope []float64) float64 { return spreadAbout(a.AWeighted, slope) }

// MeanSpread returns the mean spread of the bands from a frequency up, against a slope,
// dB; NaN where no band lies there.
func (a *Audience) MeanSpread(slope []float64, from float64) float64 {
	return meanSpread(a.Bands, a.Level, slope, from)
}

func meanSpread(bands []Band, levels [][]float64, slope []float64, from float64) float64 {
	sum, n := 0.0, 0
	for b, row := range levels {
		if bands[b].Mid >= from {
			sum, n = sum+spreadAbout(row, slope), n+1
		}
	}
	return sum / float64(n)
}

// atSeats are the levels of one candidate at the seats: [seat] A-weighted and
// [band][seat] by themselves.
type atSeats struct {
	weighted []float64
	bands    [][]float64
}

// ZoneLevel returns the loudest place of the zone against the mean level of the seats,
// A-weighted, over the tones of s, dB; NaN: there is no zone.
func (e *Engine) ZoneLevel(ctx context.Context, v Even, s AudienceSpec, seats []float64) (float64, error) {
	var at []Vec
	for _, p := range v.Zone {
		if e.checkPoint(p) == nil {
			at = append(at, p)
		}
	}
	if len(at) == 0 {
		return numeric.Absent, nil
	}
	if err := s.fill(); err != nil {
		return numeric.Absent, err
	}
	m, err := e.bandMeans(ctx, s, points(at))
	if err != nil {
		return numeric.Absent, err
	}
	loud := math.Inf(-1)
	for i := range at {
		total := 0.0
		for b := range m.weighted {
			total += m.weighted[b][i] / float64(len(s.Bands))
		}
		loud = math.Max(loud, e.levelOfSquare(total))
	}
	return loud - mean(seats), nil
}

func mean(xs []float64) float64 {
	sum := 0.0
	for _, x := range xs {
		sum += x / float64(len(xs))
	}
	return sum
}

// zone is the loudest place of the zone against the mean level of the seats, dB; NaN:
// there is no zone.
func (h *aimer) zone(e *Engine, w *worker, seats []float64) float64 {
	if len(h.spec.Even.Zone) == 0 {
		return numeric.Absent
	}
	loud := math.Inf(-1)
	for _, p := range h.spec.Even.Zone {
		if e.checkPoint(p) == nil {
			e.sumAt(w, place{at: p})
			loud = math.Max(loud, e.levelOfSquare(h.loudness(w)))
		}
	}
	return loud - mean(seats)
}

// evenness adds to a score what evenness by band and a quiet zone cost.
func (h *aimer) evenness(e *Engine, w *worker, s *score, levels atSeats, slope []float64) {
	v := &h.spec.Even
	s.octaves, s.zone = meanSpread(h.spec.Audience.Bands, levels.bands, slope, v.From), h.zone(e, w, levels.weighted)
	if v.Octaves > 0 && !math.IsNaN(s.octaves) {
		s.cost += v.Octaves * s.octaves
	}
	if s.zone > v.ZoneMost {
		weight := v.ZoneWeight
		if weight == 0 {
			weight = zoneWeight
		}
		s.cost += weight * (s.zone - v.ZoneMost)
	}
}

// loudnessOf returns the A-weighted mean square of what the worker has summed, and in bands
// the plain mean square of each band.
func (h *aimer) loudnessOf(w *worker, bands []float64) float64 {
	n, each, total := len(h.tones), h.spec.Audience.Tones, 0.0
	clear(bands)
	for j := range n {
		var p complex128
		for d := range h.power {
			p += h.power[d][j] * complex(w.re[d*n+j], w.im[d*n+j])
		}
		p2 := square(p)
		total += p2 * h.weight[j]
		bands[j/each] += p2 / float64(each)
	}
	return total
}
