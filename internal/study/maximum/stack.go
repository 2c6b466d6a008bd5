package maximum

import (
	"context"
	"math"

	"gapline/cabinet/field"
	"gapline/internal/exposure"
	"gapline/internal/numeric"
	"gapline/internal/programme"
)

// Stack is the largest levels of a stack against frequency: in the far field on its axis,
// referred to 1 m, dB re 20 µPa.
type Stack struct {
	Sum   []float64   // through the crossover
	Bands [][]float64 // each band by itself, without the crossover
}

// shade is by how much the box that is driven most gets more than the design's drive; a
// stack cannot be raised further than this box can.
func shade(gains []float64) float64 {
	if len(gains) == 0 {
		return 1
	}
	most := math.Inf(-1)
	for _, g := range gains {
		most = math.Max(most, g)
	}
	return numeric.FromDB(most)
}

// Stack works out the largest levels of a stack of such boxes, which e sums, from those
// of one box.
func (o *Box) Stack(ctx context.Context, e *field.Engine, l *Levels) (*Stack, error) {
	hz := l.Hz
	spec := field.PolarSpec{Angle: []float64{0}, Frequency: hz, Distance: math.Inf(1), Axis: numeric.Absent}
	parts, err := e.PolarParts(ctx, spec)
	if err != nil {
		return nil, err
	}
	alone, err := o.engine.PolarParts(ctx, spec)
	if err != nil {
		return nil, err
	}
	most := numeric.DB(shade(e.Stack().Shading))
	out := &Stack{Sum: make([]float64, len(hz))}
	for range parts {
		out.Bands = append(out.Bands, make([]float64, len(hz)))
	}
	for k := range hz {
		sum := complex(0, 0)
		for i := range parts {
			sum += parts[i][k][0]
			// What the stack adds to one box is the same whatever the crossover does.
			out.Bands[i][k] = l.Bands[i].Level[k] + e.Level(parts[i][k][0]) - o.engine.Level(alone[i][k][0]) - most
		}
		out.Sum[k] = e.Level(sum) + numeric.DB(l.Scale[k]) - most
	}
	return out, nil
}

// Seats is the largest level of programme at the seats, dB re 20 µPa.
type Seats struct {
	Seat      []field.Vec
	Octave    []field.Band
	Level     [][]float64 // [octave][seat]
	A, C      []float64   // weighted, [seat]
	Tones     int         // in each third octave of the octave that took most
	Settled   bool        // no level moved by more than SeatTolerance when the tones were doubled for the last time
	Loudest   int         // seat of the highest A-weighted level
	Harmless  float64     // by how much all may be louder before a driver is harmed: air is heard, dB
	Peak      float64     // C-weighted, at the loudest seat with the harmless raise: level and crest, dB
	Exposures []Exposure  // at the loudest seat, with the harmless raise
}

// Exposure is how long the loudest seat takes to a daily dose.
type Exposure struct {
	Of   exposure.Daily
	Time float64 // s
	Over bool    // its peak is beyond that of the dose
}

// SeatTolerance is the most in dB that an octave's level may move at any seat when the
// tones of each third octave are doubled for the last time; fewest and most tones.
const (
	SeatTolerance         = 0.02
	fewestTones           = 8
	mostTones             = 256
	mostPressures float64 = 4e7 // that are summed at most, so that wide halls end in time
)

// Seats works out the levels of a programme signal at the seats of a stack that e sums.
// Each third octave is the energy mean over tones; those of an octave that still moves get
// twice as many.
func (o *Box) Seats(ctx context.Context, e *field.Engine, at field.AudienceSpec, p *Programme) (*Seats, error) {
	thirds := p.Spectrum.Thirds()
	raise := numeric.DB(p.Scale) - numeric.DB(shade(e.Stack().Shading))
	level := make([][]float64, len(thirds)) // at the design's drive, [third octave][seat]
	open := make([]int, len(thirds))
	for i := range open {
		open[i] = i
	}
	var out *Seats
	for at.Tones = fewestTones; len(open) > 0; at.Tones *= 2 {
		at.Bands = at.Bands[:0]
		for _, i := range open {
			at.Bands = append(at.Bands, field.Band{Low: thirds[i].Low, Mid: thirds[i].Mid, High: thirds[i].High})
		}
		a, err := e.Audience(ctx, at)
		if err != nil {
			return nil, err
		}
		for k, i := range open {
			level[i] = a.Level[k]
		}
		next := seatsOf(a.Seat, level, thirds, raise)
		next.Tones = at.Tones
		open = moving(open, out, next, thirds)
		out = next
		if at.Tones >= mostTones || 2*float64(at.Tones*len(open)*len(a.Seat)*len(e.Stack().Boxes)) > mostPressures {
			break
		}
	}
	out.Settled = len(open) == 0
	out.expose(p)
	return out, nil
}

// moving returns those of the third octaves whose octave has moved, or is there for the
// first time.
func moving(open []int, before, now *Seats, thirds []programme.Third) []int {
	if before == nil {
		return open
	}
	var out []int
	first := thirds[0].Octave()
	for _, i := range open {
		octave := thirds[i].Octave() - first
		for j, l := range now.Level[octave] {
			if math.Abs(l-before.Level[octave][j]) > SeatTolerance {
				out = append(out, i)
				break
			}
		}
	}
	return out
}

// seatsOf adds up octaves and weighted levels from third octaves at the design's drive.
func seatsOf(seat []field.Vec, level [][]float64, thirds []programme.Third, raise float64) *Seats {
	out := &Seats{Seat: seat, A: make([]float64, len(seat)), C: make([]float64, len(seat))}
	first := thirds[0].Octave()
	last := thirds[len(thirds)-1].Octave()
	power := make([][]float64, last-first+1)
	for n := range power {
		mid := 1000 * math.Pow(10, 0.3*float64(first+n))
		out.Octave = append(out.Octave, field.Band{Low: mid / math.Pow(10, 0.15), Mid: mid, High: mid * math.Pow(10, 0.15)})
		power[n] = make([]float64, len(seat))
	}
	weightedA, weightedC := make([]float64, len(seat)), make([]float64, len(seat))
	for i, t := range thirds {
		wa, wc := math.Pow(10, programme.AWeighting(t.Mid)/10), math.Pow(10, programme.CWeighting(t.Mid)/10)
		for j := range seat {
			p := t.Share * math.Pow(10, (level[i][j]+raise)/10)
			power[t.Octave()-first][j] += p
			weightedA[j] += p * wa
			weightedC[j] += p * wc
		}
	}
	for _, row := range power {
		out.Level = append(out.Level, decibels(row))
	}
	out.A, out.C = decibels(weightedA), decibels(weightedC)
	for j := range out.A {
		if out.A[j] > out.A[out.Loudest] {
			out.Loudest = j
		}
	}
	return out
}

func decibels(power []float64) []float64 {
	out := make([]float64, len(power))
	for i, p := range power {
		out[i] = 10 * math.Log10(p)
	}
	return out
}

// VenueMargin is the venue limit less the level at the loudest seat, dB.
func (s *Seats) VenueMargin() float64 { return exposure.Venue - s.LoudestLevel() }

// expose sets the loudest seat against the guidance. What only makes air heard does not
// hold the level back.
func (s *Seats) expose(p *Programme) {
	s.Harmless = numeric.DB(p.Harmless / p.Scale)
	level := s.A[s.Loudest] + s.Harmless
	s.Peak = s.C[s.Loudest] + s.Harmless + p.Crest.DB()
	for _, d := range []exposure.Daily{exposure.NIOSH, exposure.EULower, exposure.EUUpper, exposure.EULimit} {
		s.Exposures = append(s.Exposures, Exposure{Of: d, Time: d.Time(level), Over: s.Peak > d.Peak})
	}
}

// LoudestLevel returns the A-weighted level at the loudest seat with the harmless raise, dB.
func (s *Seats) LoudestLevel() float64 { return s.LevelAt(s.Loudest) }

// LevelAt returns the same at seat i.
func (s *Seats) LevelAt(i int) float64 { return s.A[i] + s.Harmless }
