package pattern

import (
	"fmt"
	"math"
	"math/cmplx"
	"slices"
	"sync"

	"gapline/cabinet/field"
	"gapline/internal/numeric"
)

// Pattern is what one box radiates in each direction.
type Pattern struct {
	Frequency []float64 // Hz, ascending
	Rings     int       // of the grid, see Directions
	// Pressure is p·r over the directions of the grid, [frequency][direction], rms: in Pa·m
	// where the level is known, otherwise of any scale.
	Pressure [][]complex128
	// Smooth says that the grid holds all detail, so that trigonometric interpolation is
	// exact; what was measured at steps is taken as it is.
	Smooth bool

	once sync.Once
	fine grid
}

// most are bounds of a pattern that is read: of its frequencies and of its rings.
const mostFrequencies, mostRings = 2000, 360

// Validate checks a pattern that was read.
func (p *Pattern) Validate() error {
	n := len(p.Frequency)
	switch {
	case n == 0 || n > mostFrequencies:
		return fmt.Errorf("%d frequencies: 1 to %d are needed", n, mostFrequencies)
	case p.Rings < 2 || p.Rings > mostRings:
		return fmt.Errorf("%d rings: 2 to %d are needed", p.Rings, mostRings)
	case len(p.Pressure) != n:
		return fmt.Errorf("%d frequencies and pressures at %d", n, len(p.Pressure))
	}
	for i, f := range p.Frequency {
		if !(f > 0) || math.IsInf(f, 0) || i > 0 && f <= p.Frequency[i-1] {
			return fmt.Errorf("frequency %v: above 0 and ascending ones are needed", f)
		}
		if len(p.Pressure[i]) != (p.Rings+1)*2*p.Rings {
			return fmt.Errorf("%d pressures at %v Hz: %d are needed", len(p.Pressure[i]), f, (p.Rings+1)*2*p.Rings)
		}
		for _, x := range p.Pressure[i] {
			if cmplx.IsNaN(x) || cmplx.IsInf(x) {
				return fmt.Errorf("a pressure at %v Hz is not a number", f)
			}
		}
		if p.Pressure[i][0] == 0 {
			return fmt.Errorf("nothing is radiated ahead at %v Hz", f)
		}
	}
	return nil
}

// Axis is the pressure ahead at each frequency.
func (p *Pattern) Axis() []complex128 {
	out := make([]complex128, len(p.Pressure))
	for i, row := range p.Pressure {
		out[i] = row[0]
	}
	return out
}

// OnAxis is the pattern of which the pressure ahead is 1 at all frequencies.
func (p *Pattern) OnAxis() *Pattern {
	out := &Pattern{Frequency: p.Frequency, Rings: p.Rings, Smooth: p.Smooth}
	for _, row := range p.Pressure {
		scaled := make([]complex128, len(row))
		for i, x := range row {
			scaled[i] = x / row[0]
		}
		out.Pressure = append(out.Pressure, scaled)
	}
	return out
}

// From is the pattern with its phases counted from a place v away from where they counted
// from, m, in air of sound speed c, m/s.
func (p *Pattern) From(v field.Vec, c float64) *Pattern {
	out := &Pattern{Frequency: p.Frequency, Rings: p.Rings, Smooth: p.Smooth}
	directions := Directions(p.Rings)
	for i, row := range p.Pressure {
		k := 2 * math.Pi * p.Frequency[i] / c
		turned := make([]complex128, len(row))
		for j, x := range row {
			turned[j] = x * cmplx.Rect(1, -k*directions[j].Dot(v))
		}
		out.Pressure = append(out.Pressure, turned)
	}
	return out
}

// FadeOctaves is how far beyond its range a pattern still has a share of the sound.
const FadeOctaves = 1

// Share is how much of the sound of hz Hz comes by the pattern: all of it within its range,
// and falling evenly over the octave (in log frequency) beyond each end to nothing.
func (p *Pattern) Share(hz float64) float64 {
	beyond := math.Max(math.Log2(p.Frequency[0]/hz), math.Log2(hz/p.Frequency[len(p.Frequency)-1]))
	return math.Min(1, math.Max(0, 1-beyond/FadeOctaves))
}

// grid is a pattern on the grid that is interpolated on, frequencies side by side.
type grid struct {
	rings, spokes int
	re, im        []float32 // [ring][spoke][frequency]
}

// Of the grid that cubics serve on: the step in which the phase of the highest detail turns by
// half a radian leaves an error of 3/128·0.5⁴ = 0.0015 of the largest pressure, 0.013 dB.
const orderPerRing = 2 * math.Pi

// fill makes the fine grid on first use.
func (p *Pattern) fill() {
	p.once.Do(func() {
		times := 1
		if p.Smooth {
			times = int(math.Ceil(orderPerRing * p.detail() / float64(p.Rings)))
			times = min(max(times, 1), 6)
		}
		g := &p.fine
		g.rings, g.spokes = times*p.Rings, 2*times*p.Rings
		n := len(p.Frequency)
		g.re, g.im = make([]float32, (g.rings+1)*g.spokes*n), make([]float32, (g.rings+1)*g.spokes*n)
		for f, row := range p.Pressure {
			for i, x := range finer(row, p.Rings, times) {
				g.re[i*n+f], g.im[i*n+f] = float32(real(x)), float32(imag(x))
			}
		}
	})
}

// detail is the highest degree that matters: what RingsFor takes beyond it falls off.
func (p *Pattern) detail() float64 { return math.Max(6, float64(p.Rings)-10) }

// lagrange are the weights of four points about a place s of the way from the second to the
// third (cubic Lagrange interpolation).
func lagrange(s float64) [4]float64 {
	return [4]float64{-s * (s - 1) * (s - 2) / 6, (s + 1) * (s - 1) * (s - 2) / 2, -(s + 1) * s * (s - 2) / 2, (s + 1) * s * (s - 1) / 6}
}

// at interpolates in a direction at all frequencies of the pattern.
func (g *grid) at(u field.Vec, n int, re, im []float64) {
	clear(re)
	clear(im)
	off := math.Atan2(math.Hypot(u.Y, u.Z), u.X) / math.Pi * float64(g.rings)
	around := math.Atan2(u.Z, u.Y) / (2 * math.Pi) * float64(g.spokes)
	if around < 0 {
		around += float64(g.spokes)
	}
	i, j := min(int(off), g.rings-1), int(around)
	wi, wj := lagrange(off-float64(i)), lagrange(around-float64(j))
	for a, weight := range wi {
		ring, turn := i+a-1, 0
		if ring < 0 || ring > g.rings { // over a pole: on the other side of the axis
			turn = g.spokes / 2
			if ring = -ring; ring < 0 {
				ring += 2 * g.rings
			}
		}
		for b, w := range wj {
			w *= weight
			spoke := (j + b - 1 + turn + g.spokes) % g.spokes
			at := (ring*g.spokes + spoke) * n
			for f, x := range g.re[at : at+n] {
				re[f] += w * float64(x)
				im[f] += w * float64(g.im[at+f])
			}
		}
	}
}

// between is where a frequency lies among those of a pattern.
type between struct {
	low   int     // the pattern's frequency below it
	share float64 // of the way to the next, over frequency
	turn  float64 // of the phase at the end of the range, outside it: a delay held
}

// Sampler returns what the pattern is in a direction at frequencies hz in Hz, ascending, as real
// and imaginary parts. It serves one goroutine. Outside the pattern's range the level at its
// end is held, and the phase as a delay.
func (p *Pattern) Sampler(hz []float64) func(direction field.Vec, re, im []float64) {
	p.fill()
	n := len(p.Frequency)
	places := make([]between, len(hz))
	for i, f := range hz {
		places[i] = p.between(f)
	}
	re, im := make([]float64, n), make([]float64, n)
	level, phase := make([]float64, n), make([]float64, n)
	return func(u field.Vec, outRe, outIm []float64) {
		p.fine.at(u, n, re, im)
		for f := range n {
			level[f] = math.Log(math.Max(re[f]*re[f]+im[f]*im[f], 1e-60)) / 2
			phase[f] = math.Atan2(im[f], re[f])
			if f > 0 {
				phase[f] = phase[f-1] + math.Remainder(phase[f]-phase[f-1], 2*math.Pi)
			}
		}
		for i, b := range places {
			l, ph := level[b.low], phase[b.low]
			switch {
			case b.turn != 0:
				ph *= b.turn
			case b.share > 0:
				l += b.share * (level[b.low+1] - l)
				ph += b.share * (phase[b.low+1] - ph)
			}
			sin, cos := math.Sincos(ph)
			size := math.Exp(l)
			outRe[i], outIm[i] = size*cos, size*sin
		}
	}
}

func (p *Pattern) between(f float64) between {
	n := len(p.Frequency)
	switch {
	case f < p.Frequency[0]:
		return between{low: 0, turn: f / p.Frequency[0]}
	case f >= p.Frequency[n-1]:
		return between{low: n - 1, turn: f / p.Frequency[n-1]}
	}
	i, found := slices.BinarySearch(p.Frequency, f)
	if !found {
		i--
	}
	return between{low: i, share: (f - p.Frequency[i]) / (p.Frequency[i+1] - p.Frequency[i])}
}

// At is the pressure in a direction at hz Hz.
func (p *Pattern) At(direction field.Vec, hz float64) complex128 {
	var re, im [1]float64
	p.Sampler([]float64{hz})(direction, re[:], im[:])
	return complex(re[0], im[0])
}

// Level is the level in a direction at hz Hz against that ahead, dB.
func (p *Pattern) Level(direction field.Vec, hz float64) float64 {
	return numeric.DB(cmplx.Abs(p.At(direction, hz)) / cmplx.Abs(p.At(field.Vec{X: 1}, hz)))
}
