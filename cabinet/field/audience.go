package field

import (
	"context"
	"fmt"
	"math"

	"gapline/internal/numeric"
)

// Seating is one straight stretch of seats in front of the stack, in the plane
// Y = 0.
type Seating struct {
	Start, End           float64 // distance from the upper front edge of the top box, m
	StartFloor, EndFloor float64 // floor above ground at each end, m
	Ear                  float64 // ears above the floor, m
}

// AudienceSpec asks for levels at the seats.
type AudienceSpec struct {
	Seating []Seating
	Step    float64 // between seats along the floor plan, m; 0: 1 m
	Bands   []Band  // nil: octaves from 63 Hz to 8 kHz
	Tones   int     // tones averaged in each band; 0: doubled until they suffice, see ToneTolerance
}

// maxSeats bounds an audience.
const maxSeats = 100_000

// Audience is what arrives at the seats, first stretch first, each from its
// start to its end.
type Audience struct {
	Seat  []Vec  // ears, m
	Bands []Band // as asked
	Tones []int  // averaged in each band
	// Settled is false where a level still moves by more than ToneTolerance at
	// MostTones.
	Settled bool
	// Level of each band at each seat: the energy mean over the tones of the
	// band, [band][seat], see Engine.Level.
	Level [][]float64
	// AWeighted is the A-weighted level of pink noise in the bands, each seat: its
	// total power is that of the tones, in equal parts for each band.
	AWeighted []float64
	Spread    float64 // largest less smallest AWeighted, dB
	Deviation float64 // standard deviation of AWeighted, dB
	Front     float64 // AWeighted at the first seat
	Back      float64 // AWeighted at the last seat
	Nearest   int     // index of the seat nearest to a mouth
	// Exposure at the nearest seat; nil when levels are relative.
	Exposure *Exposure
}

// fill sets the defaults and checks the request.
func (s *AudienceSpec) fill() error {
	if len(s.Seating) == 0 {
		return fmt.Errorf("no seating: need at least one stretch of seats")
	}
	if s.Step == 0 {
		s.Step = 1
	}
	if s.Bands == nil {
		s.Bands, _ = Bands(1, 63, 8000)
	}
	if !(s.Step > 0) || s.Tones < 0 || s.Tones > 1000 || len(s.Bands) == 0 {
		return fmt.Errorf("seats every %v m, %d bands of %d tones: need more than 0 of each", s.Step, len(s.Bands), s.Tones)
	}
	for i, g := range s.Seating {
		if err := g.validate(s.Step); err != nil {
			return fmt.Errorf("seating %d: %w", i+1, err)
		}
	}
	return nil
}

func (g Seating) validate(step float64) error {
	for _, x := range []float64{g.Start, g.End, g.StartFloor, g.EndFloor, g.Ear} {
		if math.IsNaN(x) || math.IsInf(x, 0) {
			return fmt.Errorf("%v is not a length", x)
		}
	}
	switch {
	case g.Start <= 0:
		return fmt.Errorf("starts at %v m, behind the front of the stack: need a distance above 0", g.Start)
	case g.End < g.Start:
		return fmt.Errorf("ends at %v m before it starts at %v m", g.End, g.Start)
	case g.Ear < 0:
		return fmt.Errorf("ears %v m above the floor: need 0 or more", g.Ear)
	case (g.End-g.Start)/step > maxSeats:
		return fmt.Errorf("more than %d seats: take a wider step", maxSeats)
	}
	return nil
}

// Seats returns the ears of one stretch: both ends and evenly between them, no
// farther apart than step, m.
func (g Seating) Seats(step float64) []Vec {
	n := int(math.Ceil((g.End-g.Start)/step-1e-9)) + 1
	out := make([]Vec, n)
	for i := range out {
		t := 0.0
		if n > 1 {
			t = float64(i) / float64(n-1)
		}
		out[i] = Vec{X: g.Start + t*(g.End-g.Start), Z: g.StartFloor + t*(g.EndFloor-g.StartFloor) + g.Ear}
	}
	return out
}

// Audience computes the levels at the seats. The stack needs a height.
func (e *Engine) Audience(ctx context.Context, s AudienceSpec) (*Audience, error) {
	if err := s.fill(); err != nil {
		return nil, err
	}
	if math.IsNaN(e.stack.TopHeight) {
		return nil, fmt.Errorf("seats need a stack with a height: give the height of its top")
	}
	var seat []Vec
	for i, g := range s.Seating {
		for _, p := range g.Seats(s.Step) {
			if err := e.checkPoint(p); err != nil {
				return nil, fmt.Errorf("seating %d: %w", i+1, err)
			}
			seat = append(seat, p)
		}
	}
	m, err := e.bandMeans(ctx, s, points(seat))
	if err != nil {
		return nil, err
	}
	out := &Audience{Seat: seat, Bands: s.Bands, Tones: m.tones, Settled: m.settled, AWeighted: make([]float64, len(seat)),
		Level: make([][]float64, len(s.Bands))}
	for b := range out.Level {
		out.Level[b] = make([]float64, len(seat))
		for i := range seat {
			out.Level[b][i] = e.levelOfSquare(m.plain[b][i])
		}
	}
	for i := range seat {
		total := 0.0
		for b := range m.weighted {
			total += m.weighted[b][i] / float64(len(s.Bands))
		}
		out.AWeighted[i] = e.levelOfSquare(total)
	}
	out.summarise(e)
	return out, nil
}

// summarise fills in what is said of the seats together.
func (a *Audience) summarise(e *Engine) {
	a.Spread, a.Deviation = spreadOf(a.AWeighted)
	a.Front, a.Back = a.AWeighted[0], a.AWeighted[len(a.AWeighted)-1]
	nearest := math.Inf(1)
	for i, p := range a.Seat {
		for _, m := range e.sources {
			if d := p.Sub(m.middle).Norm(); d < nearest {
				nearest, a.Nearest = d, i
			}
		}
	}
	if e.Absolute() {
		x := ExposureAt(a.AWeighted[a.Nearest])
		a.Exposure = &x
	}
}

// spreadOf returns largest less smallest, and the standard deviation.
func spreadOf(levels []float64) (spread, deviation float64) {
	low, high, sum := math.Inf(1), math.Inf(-1), 0.0
	for _, l := range levels {
		low, high, sum = min(low, l), max(high, l), sum+l
	}
	mean := sum / float64(len(levels))
	square := 0.0
	for _, l := range levels {
		square += (l - mean) * (l - mean)
	}
	if math.IsNaN(mean) {
		return numeric.Absent, numeric.Absent
	}
	return high - low, math.Sqrt(square / float64(len(levels)))
}
