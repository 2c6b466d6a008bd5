package listen

import (
	"context"
	"math"
	"math/cmplx"
	"slices"

	"gapline/internal/air"
	"gapline/internal/signal"

	"gonum.org/v1/gonum/interp"
)

// The band that is heard, Hz, and the frequencies at which its ends have faded. A sample
// rate under fullRate takes the upper two in proportion.
const (
	Lowest, Highest = 20.0, 20e3
	silentBelow     = 10.0
	silentAbove     = 22e3
	fullRate        = 44100.0
)

// Lead is the silence before the sound of the middle of the stack, s: room for mouths that
// are nearer and for the ringing of the band's lower end.
const Lead = 0.15

// Top returns the upper end of the band at a sample rate, Hz.
func Top(rate int) float64 { return Highest * math.Min(1, float64(rate)/fullRate) }

// edge is the weight of the band's ends.
func edge(f, top float64) float64 {
	bottom := silentBelow
	end := top * silentAbove / Highest
	switch {
	case f <= bottom || f >= end:
		return 0
	case f < Lowest:
		return (1 - math.Cos(math.Pi*math.Log(f/bottom)/math.Log(Lowest/bottom))) / 2
	case f > top:
		return (1 + math.Cos(math.Pi*(f-top)/(end-top))) / 2
	}
	return 1
}

// Length of an impulse response: at least shortest, doubled until its last tenth lies
// settled under its peak, or mostDoublings times.
const (
	shortest      = 1.3  // s
	settled       = 1e-4 // −80 dB
	mostDoublings = 3
)

// impulse returns the impulse response at a sample rate, in units of pressure. The caller
// owns it.
func (p *Place) impulse(ctx context.Context, rate int) ([]float64, error) {
	if p.keptRate != rate {
		x, err := p.respond(ctx, rate)
		if err != nil {
			return nil, err
		}
		p.kept, p.keptRate = x, rate
	}
	return slices.Clone(p.kept), nil
}

func (p *Place) respond(ctx context.Context, rate int) ([]float64, error) {
	units, err := p.units(ctx, rate)
	if err != nil {
		return nil, err
	}
	n := signal.Length(int(shortest * float64(rate)))
	for doubled := 0; ; doubled++ {
		h := p.spectrum(units, rate, n)
		x := signal.Samples(h)
		if doubled == mostDoublings || peak(x[n-n/10:]) <= settled*peak(x) {
			return x, nil
		}
		n *= 2
	}
}

func peak(x []float64) float64 {
	most := 0.0
	for _, v := range x {
		most = math.Max(most, math.Abs(v))
	}
	return most
}

// unit is the sum of one drive's mouths without the way from their middle, as a smooth
// function of frequency.
type unit struct{ re, im interp.NotAKnotCubic }

// finer is how many times finer the grid of the sums is than their length in time needs.
// The largest phase of a mouth moves by π/8 from one frequency to the next, and a cubic
// spline misses it by (π/8)⁴/384, 6·10⁻⁵.
const finer = 8

// widest is the widest grid of the sums, Hz.
const widest = 50

// units computes the sums of all drives up to the end of the band.
func (p *Place) units(ctx context.Context, rate int) ([]unit, error) {
	c := p.SoundSpeed()
	step := math.Min(widest, 1/(finer*2*p.engine.Reach(p.At)/c))
	var hz []float64
	end := Top(rate)*silentAbove/Highest + 3*step
	for f := silentBelow / 2; f < end; f += step {
		hz = append(hz, f)
	}
	sums, err := p.engine.Units(ctx, p.At, hz)
	if err != nil {
		return nil, err
	}
	out := make([]unit, len(sums))
	re, im := make([]float64, len(hz)), make([]float64, len(hz))
	for d, s := range sums {
		for i, f := range hz {
			z := s[i] * p.flight(f)
			re[i], im[i] = real(z), imag(z)
		}
		// Frequencies rise, so that fitting cannot fail.
		if err := out[d].re.Fit(hz, re); err != nil {
			panic("listen: " + err.Error())
		}
		if err := out[d].im.Fit(hz, im); err != nil {
			panic("listen: " + err.Error())
		}
	}
	return out, nil
}

// flight takes the way from the middle of the stack out of a pressure.
func (p *Place) flight(hz float64) complex128 {
	return cmplx.Exp(complex(0, 2*math.Pi*hz*p.Distance/p.SoundSpeed()))
}

// spectrum puts the sums, their filters, the phase of the air and the ends of the band
// together, at the n/2 + 1 frequencies of n samples.
func (p *Place) spectrum(units []unit, rate, n int) []complex128 {
	out := make([]complex128, n/2+1)
	top := Top(rate)
	var hz []float64
	var at []int
	for k := range out {
		f := float64(k) * float64(rate) / float64(n)
		if edge(f, top) > 0 {
			hz, at = append(hz, f), append(at, k)
		}
	}
	strength := p.engine.Strengths(hz)
	air := p.airPhase(rate, n)
	for i, f := range hz {
		var sum complex128
		for d := range units {
			sum += strength[d][i] * complex(units[d].re.Predict(f), units[d].im.Predict(f))
		}
		out[at[i]] = sum * complex(edge(f, top), 0) * cmplx.Exp(complex(0, air[at[i]]-2*math.Pi*f*Lead))
	}
	return out
}

// airPhase is the phase that goes with what the air takes, rad.
func (p *Place) airPhase(rate, n int) []float64 {
	if !p.Absorbs(true) {
		return make([]float64, n/2+1)
	}
	logs := make([]float64, n/2+1)
	for k := range logs {
		db := air.Absorption(p.Design.Air, float64(k)*float64(rate)/float64(n)) * p.Distance
		logs[k] = -db / (20 * math.Log10E)
	}
	return signal.MinimumPhase(logs)
}

// Levels returns the predicted level at the place at frequencies in Hz, dB: the sum of
// line, computed at each frequency.
func (p *Place) Levels(ctx context.Context, hz []float64) ([]float64, error) {
	sums, err := p.engine.Units(ctx, p.At, hz)
	if err != nil {
		return nil, err
	}
	strength := p.engine.Strengths(hz)
	out := make([]float64, len(hz))
	for i := range hz {
		var z complex128
		for d := range sums {
			z += strength[d][i] * sums[d][i]
		}
		out[i] = p.engine.Level(z)
	}
	return out, nil
}
