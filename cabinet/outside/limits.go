package outside

import (
	"math"
	"math/cmplx"

	"gapline/internal/numeric"
)

// Limit is a frequency that was read off a run, Hz. Without a finding it is NaN.
type Limit struct{ Hz, From, To float64 }

var noLimit = Limit{numeric.Absent, numeric.Absent, numeric.Absent}

// series is a quantity against ascending frequencies, Hz.
type series struct{ f, y []float64 }

// first returns the lowest frequency at which the series rises past a level, between points
// linear over log f; NaN where it does not, or starts above.
func (s series) first(level float64) float64 {
	for i := 1; i < len(s.f); i++ {
		if s.rises(i, level) {
			return s.crossing(i, level)
		}
	}
	return numeric.Absent
}

// rises reports whether the series passes a level upward just before point i.
func (s series) rises(i int, level float64) bool { return s.y[i-1] < level && s.y[i] >= level }

// crossing is where it does, Hz.
func (s series) crossing(i int, level float64) float64 {
	a, b := s.y[i-1], s.y[i]
	return s.f[i-1] * math.Pow(s.f[i]/s.f[i-1], (level-a)/(b-a))
}

// every leaves each second point from the given one on, and the last.
func (s series) every(from int) series {
	var out series
	last := len(s.f) - 1
	for i := from; i <= last; i++ {
		if (i-from)%2 == 0 || i == last {
			out.f, out.y = append(out.f, s.f[i]), append(out.y, s.y[i])
		}
	}
	return out
}

// limitOf reads a limit off a run by a function of which points are used, and its range by
// reading every second one.
func limitOf(read func(every func(series) series) float64) Limit {
	at := read(func(s series) series { return s })
	if !numeric.Given(at) {
		return noLimit
	}
	off := 1.0
	for start := range 2 {
		if x := read(func(s series) series { return s.every(start) }); numeric.Given(x) {
			off = math.Max(off, math.Max(x/at, at/x))
		}
	}
	return Limit{at, at / off, at * off}
}

// rising is where a series rises past a level.
func rising(s series, level float64) Limit {
	return limitOf(func(every func(series) series) float64 { return every(s).first(level) })
}

// ChamberLag is by how much the summed flow of the mouths lags that of the cones, rad,
// counted on without jumps; nil without an insert.
func (r *Result) ChamberLag() []float64 {
	passed := make([]complex128, len(r.Out))
	for i, u := range r.Out {
		passed[i] = u / r.Cones[i]
	}
	return lags(passed)
}

// Passed is the volume flow through each mouth over that of the cones together, [frequency][mouth], in
// the order of Parts: shared out as the slopes of the pressure are, which are known to some per
// cent, and together the flow that leaves the chambers. nil without an insert.
func (r *Result) Passed() [][]complex128 {
	var out [][]complex128
	for i, mouths := range r.Mouths {
		sum := complex128(0)
		for _, u := range mouths {
			sum += u
		}
		row := make([]complex128, len(mouths))
		for m, u := range mouths {
			row[m] = u / sum * r.Out[i] / r.Cones[i]
		}
		out = append(out, row)
	}
	return out
}

// lags are the phases by which ratios lag, rad, counted on without jumps.
func lags(ratios []complex128) []float64 {
	var out []float64
	last := 0.0
	for _, x := range ratios {
		lag := -cmplx.Phase(x)
		lag += 2 * math.Pi * math.Round((last-lag)/(2*math.Pi))
		out, last = append(out, lag), lag
	}
	return out
}

// Chamber is the chamber's corner: the lowest frequency at which the summed flow of the mouths
// lags the cones' by 90 degrees, as of the lumped circuit.
func (r *Result) Chamber() Limit {
	if len(r.Out) < len(r.Frequency) {
		return noLimit
	}
	return rising(series{r.Frequency, r.ChamberLag()}, math.Pi/2)
}

// LumpedChamber is the corner with a lumped chamber, of one pressure, and a lumped inner half of
// each mouth, its end as in a wide wall, behind the air outside as it was solved: what is left
// of the corner's difference to the lumped one is the outside's. Flow through mouths of area S
// before a chamber of volume V and an inner half of effective length l (L. L. Beranek,
// Acoustics, 1954, ch. 5):
//
//	U/U₀ = 1/(1 + jωC(Z + jωρl/S)),  C = V/(ρc²),
//
// with Z the pressure in the middle of the plate over U.
func (r *Result) LumpedChamber() Limit {
	if len(r.Out) < len(r.Frequency) {
		return noLimit
	}
	passed := make([]complex128, len(r.Out))
	compliance := r.room.volume / (r.air.Density * r.air.SoundSpeed * r.air.SoundSpeed)
	for i, f := range r.Frequency {
		omega := 2 * math.Pi * f
		z := r.Pressed[i]/r.Out[i] + complex(0, omega*r.air.Density*r.room.inner/r.room.area)
		passed[i] = 1 / (1 + complex(0, omega*compliance)*z)
	}
	return rising(series{r.Frequency, lags(passed)}, math.Pi/2)
}

// Apart is by how much the flows of two mouths of one column differ in phase at the most, rad;
// nil without an insert.
func (r *Result) Apart() []float64 {
	var out []float64
	columns := r.columns()
	for _, mouths := range r.Mouths {
		most := 0.0
		for _, c := range columns {
			for _, a := range c {
				for _, b := range c {
					most = math.Max(most, math.Abs(cmplx.Phase(mouths[a]/mouths[b])))
				}
			}
		}
		out = append(out, most)
	}
	return out
}

// Parted is the lowest frequency at which two mouths of one column differ by 90 degrees.
func (r *Result) Parted() Limit {
	if len(r.Mouths) < len(r.Frequency) {
		return noLimit
	}
	return rising(series{r.Frequency, r.Apart()}, math.Pi/2)
}

// lobeSteps is how finely lobes are looked for between two frequencies of a run.
const lobeSteps = 32

// Lobe is the lowest frequency at which a lobe of an endless straight stack of such boxes, the
// given pitch in m apart, passes a level in dB against the direction ahead. Lobes stand where
// boxes add up, sin θ = m·λ/pitch, as high as the middle box radiates there (L. E. Kinsler et
// al., Fundamentals of Acoustics, 4th ed. 2000, sec. 7.9, product theorem). Between the
// frequencies of the run levels are linear over log f. It is NaN where none does up to the
// end of the run, and where the middle box was not driven by itself.
func (r *Result) Lobe(pitch, level float64) Limit { return r.lobeOf(r.Element, pitch, level) }

// MouthsLobe is the limit of the same stack with the flow over the mouths as it was solved, but
// all mouths in a wide flat baffle: what is left of the limit's difference to that of even
// flow once cabinet and neighbours are out of it. It is NaN without an insert.
func (r *Result) MouthsLobe(pitch, level float64) Limit { return r.lobeOf(r.Baffled, pitch, level) }

// lobeOf takes the patterns of one box, [frequency][angle].
func (r *Result) lobeOf(patterns [][]complex128, pitch, level float64) Limit {
	if len(patterns) < len(r.Frequency) || len(r.Frequency) < 2 || !(pitch > 0) {
		return noLimit
	}
	index := series{r.Frequency, make([]float64, len(r.Frequency))}
	for i := range index.y {
		index.y[i] = float64(i)
	}
	levels := r.Levels(patterns)
	return limitOf(func(every func(series) series) float64 {
		of := every(index)
		var fine series
		for i := 1; i < len(of.f); i++ {
			a, b := levels[int(of.y[i-1])], levels[int(of.y[i])]
			for k := range lobeSteps {
				share := float64(k) / lobeSteps
				f := of.f[i-1] * math.Pow(of.f[i]/of.f[i-1], share)
				fine.f, fine.y = append(fine.f, f), append(fine.y, r.worstLobe(f, pitch, a, b, share))
			}
		}
		return fine.first(level)
	})
}

// noLobe is the level where there is no lobe, dB.
const noLobe = -200

// worstLobe is the highest lobe at f, Hz, between two patterns in dB.
func (r *Result) worstLobe(f, pitch float64, a, b []float64, share float64) float64 {
	worst := float64(noLobe)
	for m := 1.0; ; m++ {
		sin := m * r.air.SoundSpeed / (f * pitch)
		if sin > 1 {
			return worst
		}
		for _, side := range []float64{1, -1} {
			at := 180 + side*math.Asin(sin)*180/math.Pi
			worst = math.Max(worst, (1-share)*between(a, at)+share*between(b, at))
		}
	}
}

// between reads a pattern at a fraction of its steps.
func between(y []float64, at float64) float64 {
	i := min(int(at), len(y)-2)
	share := at - float64(i)
	return y[i] + share*(y[i+1]-y[i])
}

// held is for how many octaves a width must stay within the coverage, as in the plane
// section.
const held = 0.5

// Control is the lowest frequency from which the level width of what is driven stays within a
// coverage in rad for half an octave or to the end of the run.
func (r *Result) Control(coverage float64) Limit {
	narrow := make([]float64, len(r.Frequency)) // how far under the coverage
	for i, w := range r.Widths(r.Horizontal) {
		narrow[i] = coverage - w
		if math.IsNaN(w) {
			narrow[i] = coverage - 2*math.Pi
		}
	}
	return limitOf(func(every func(series) series) float64 {
		s := every(series{r.Frequency, narrow})
		for i := 1; i < len(s.f); i++ {
			if s.rises(i, 0) && s.stays(i) {
				return s.crossing(i, 0)
			}
		}
		return numeric.Absent
	})
}

// stays reports whether the series is not below zero from point i on for long enough.
func (s series) stays(i int) bool {
	for j := i; j < len(s.f) && math.Log2(s.f[j]/s.f[i]) <= held; j++ {
		if s.y[j] < 0 {
			return false
		}
	}
	return true
}
