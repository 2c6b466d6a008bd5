package field

import (
	"context"
	"math"
)

// SettleSpec asks how many tones stand for bands at some places.
type SettleSpec struct {
	Bands    []Band
	At       []Vec   // places, m; in the far field directions
	Far      bool    // true far field
	From, To int     // tones in each band to start with, and at most
	Depth    float64 // how far below the loudest place of its band a level counts, dB
}

// SettledTones doubles the tones of every band until no level that counts moves by
// more than ToneTolerance, and returns how many those are; settled is false where they
// still move at the most.
func (e *Engine) SettledTones(ctx context.Context, s SettleSpec) (tones int, settled bool, err error) {
	at := make([]place, len(s.At))
	for i, v := range s.At {
		at[i] = place{at: v, far: s.Far}
	}
	var before [][]float64
	for tones = s.From; ; tones *= 2 {
		now := make([][]float64, len(s.Bands))
		// Band by band: all tones of all bands at once would not fit.
		for b := range s.Bands {
			p, err := e.pressures(ctx, at, s.Bands[b].Tones(tones))
			if err != nil {
				return 0, false, err
			}
			now[b] = make([]float64, len(at))
			for _, row := range p {
				for k, q := range row {
					now[b][k] += square(q) / float64(tones)
				}
			}
		}
		if before != nil && !movesWithin(before, now, s.Depth) {
			return tones, true, nil
		}
		if 2*tones > s.To {
			return tones, false, nil
		}
		before = now
	}
}

// movesWithin reports whether a mean square within depth of the largest of its row
// differs by more than ToneTolerance.
func movesWithin(before, now [][]float64, depth float64) bool {
	for b := range now {
		top := 0.0
		for _, x := range now[b] {
			top = math.Max(top, x)
		}
		least := top * math.Pow(10, -depth/10)
		for k, x := range now[b] {
			if x >= least && math.Abs(10*math.Log10(x/before[b][k])) > ToneTolerance {
				return true
			}
		}
	}
	return false
}
