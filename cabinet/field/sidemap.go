package field

import (
	"context"
	"fmt"

	"gapline/internal/numeric"
)

// maxMapCells bounds a side map: cells times frequencies.
const maxMapCells = 20_000_000

// MapSpec asks for the pressure over a vertical plane Y = const. Corners are
// the middles of the outer cells.
type MapSpec struct {
	FromX, ToX float64 // m
	FromZ, ToZ float64 // m
	Y          float64 // m
	NX, NZ     int     // cells
	Frequency  []float64
	// TonesPerBand > 1 takes Frequency as the tones of bands, TonesPerBand in
	// a row each (Band.Tones), and averages their energy.
	TonesPerBand int
}

// SideMap is a side view of the pressure.
type SideMap struct {
	MapSpec
	X, Z  []float64   // m
	Level [][]float64 // [frequency or band][iz·NX + ix], see Engine.Level; NaN inside a box and below a reflecting ground
}

// SideMap computes a side view, to MapTolerance unless the options say otherwise.
func (e *Engine) SideMap(ctx context.Context, s MapSpec) (*SideMap, error) {
	e = e.within(MapTolerance)
	if err := checkFrequencies(s.Frequency); err != nil {
		return nil, err
	}
	s.TonesPerBand = max(s.TonesPerBand, 1)
	if err := s.validate(); err != nil {
		return nil, err
	}
	out := &SideMap{MapSpec: s, X: grid(s.FromX, s.ToX, s.NX), Z: grid(s.FromZ, s.ToZ, s.NZ)}
	at, cell := e.mapPlaces(out)
	bands := len(s.Frequency) / s.TonesPerBand
	out.Level = make([][]float64, bands)
	for b := range out.Level {
		out.Level[b] = make([]float64, s.NX*s.NZ)
		for i := range out.Level[b] {
			out.Level[b][i] = numeric.Absent
		}
	}
	sorted, index := ascending(s.Frequency)
	sum := e.squareSum(sorted, index, s.TonesPerBand, bands)
	err := e.each(ctx, at, e.plan(sorted), func(i int, re, im []float64) {
		for b, p2 := range sum(re, im) {
			out.Level[b][cell[i]] = e.levelOfSquare(p2)
		}
	})
	if err != nil {
		return nil, err
	}
	return out, nil
}

func (s MapSpec) validate() error {
	switch {
	case s.NX < 1 || s.NZ < 1 || s.NX > 100_000 || s.NZ > 100_000:
		return fmt.Errorf("map of %d × %d cells: need at least 1 × 1", s.NX, s.NZ)
	case s.NX*s.NZ > maxMapCells/len(s.Frequency):
		return fmt.Errorf("map of %d × %d cells at %d frequencies: at most %d values", s.NX, s.NZ, len(s.Frequency), maxMapCells)
	case len(s.Frequency)%s.TonesPerBand != 0:
		return fmt.Errorf("%d frequencies are not whole bands of %d tones", len(s.Frequency), s.TonesPerBand)
	}
	corner := Vec{s.FromX + s.ToX, s.Y, s.FromZ + s.ToZ}
	if !corner.finite() || s.ToX < s.FromX || s.ToZ < s.FromZ {
		return fmt.Errorf("map from (%v, %v) to (%v, %v) m: need finite corners in ascending order", s.FromX, s.FromZ, s.ToX, s.ToZ)
	}
	return nil
}

// grid returns n places evenly from a to b; one place lies in the middle.
func grid(a, b float64, n int) []float64 {
	out := make([]float64, n)
	for i := range out {
		if n == 1 {
			out[i] = (a + b) / 2
		} else {
			out[i] = a + (b-a)*float64(i)/float64(n-1)
		}
	}
	return out
}

// mapPlaces returns the places that have a field, with the cell of each.
func (e *Engine) mapPlaces(m *SideMap) (at []place, cell []int) {
	for iz, z := range m.Z {
		for ix, x := range m.X {
			p := Vec{x, m.Y, z}
			if e.checkPoint(p) == nil {
				at = append(at, place{at: p})
				cell = append(cell, iz*m.NX+ix)
			}
		}
	}
	return at, cell
}

// squareSum returns a function that turns the sums of one place into |p|² by
// band. The function allocates its result.
func (e *Engine) squareSum(sorted []float64, index []int, tones, bands int) func(re, im []float64) []float64 {
	strength := e.strengths(sorted)
	n := len(sorted)
	return func(re, im []float64) []float64 {
		out := make([]float64, bands)
		for j := range n {
			var p complex128
			for d := range strength {
				p += strength[d][j] * complex(re[d*n+j], im[d*n+j])
			}
			out[index[j]/tones] += square(p) / float64(tones)
		}
		return out
	}
}
