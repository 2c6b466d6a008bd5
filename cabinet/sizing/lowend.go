package sizing

import (
	"math"

	"gapline/driver"
	"gapline/internal/air"
	"gapline/internal/numeric"
	"gapline/internal/optional"
)

// boxInput is one box as far as its low end depends on it.
type boxInput struct {
	woofer    driver.Parameters
	count     int     // woofers in the box
	columns   int     // of them side by side
	spacing   float64 // between those above each other, m
	lateral   float64 // between those side by side, m
	wiring    driver.Wiring
	enclosure driver.Enclosure
	air       air.Air
}

// wooferInput is what a completed driver depends on.
type wooferInput struct {
	given driver.Parameters
	air   air.Air
}

// woofer is a completed driver; ok is false where too little is given, or what
// cannot be.
type woofer struct {
	driver.Complete
	ok bool
}

// leastGiven is how many parameters a driver model has: fewer never suffice.
const leastGiven = 6

// completeWoofer is the stage of the driver's set.
func completeWoofer(in wooferInput) woofer {
	given, p := 0, &in.given
	for _, x := range [...]float64{p.Fs.Value(), p.Qes.Value(), p.Qms.Value(), p.Qts.Value(), p.Vas.Value(), p.Re.Value(), p.Sd.Value(), p.Bl.Value(), p.Mms.Value(), p.Cms.Value(), p.Rms.Value(), p.EffectiveDiameter.Value(), p.Size.Value()} {
		if numeric.Given(x) {
			given++
		}
	}
	if given < leastGiven {
		return woofer{}
	}
	complete, err := p.Derive(in.air)
	return woofer{complete, err == nil}
}

// levelInput is what the maximum level depends on.
type levelInput struct {
	boxInput
	at float64 // Hz
}

// level is a maximum level and what limits it.
type level struct {
	level float64 // dB at 1 m in half space
	limit driver.Limit
}

// lowEnd sizes the low end of boxes.
type lowEnd struct {
	woofer  remembered[wooferInput, woofer]
	cutoff  remembered[boxInput, float64]
	loudest remembered[levelInput, level]
}

// size puts the low end of a box into s, which holds the frequency at which the
// level is wanted, NaN for F3. What cannot be worked out stays as it is.
func (z *lowEnd) size(s *BoxSizing, in boxInput) {
	if !in.enclosure.Volume.Given() {
		return
	}
	s.F3 = *z.cutoff.of(in.withoutLimits(), z.halfPower)
	s.LevelAt = numeric.Or(s.LevelAt, s.F3)
	if numeric.Given(s.LevelAt) {
		m := z.loudest.of(levelInput{in, s.LevelAt}, z.maxLevel)
		s.MaxLevel, s.Limit = m.level, m.limit
	}
}

// withoutLimits is the box without what its response does not depend on when
// inductance is left out: the driver's coil and what it bears.
func (in boxInput) withoutLimits() boxInput {
	in.woofer = withoutLimits(in.woofer)
	return in
}

// withoutLimits leaves out what no other parameter of a driver follows from.
func withoutLimits(p driver.Parameters) driver.Parameters {
	var none optional.Float
	p.Le, p.LeExponent, p.Xmax, p.Power = none, none, none, none
	return p
}

// setup is the box as package driver takes it; ok is false where the driver is not
// complete.
func (z *lowEnd) setup(in *boxInput) (s driver.Setup, ok bool) {
	w := z.woofer.of(wooferInput{withoutLimits(in.woofer), in.air}, completeWoofer)
	s = driver.Setup{Driver: w.Complete, Count: in.count, Columns: in.columns, Spacing: in.spacing, Lateral: in.lateral,
		Wiring: in.wiring, Enclosure: in.enclosure}
	p := &in.woofer
	s.Driver.Le, s.Driver.LeExponent, s.Driver.Xmax, s.Driver.Power = p.Le, p.LeExponent, p.Xmax, p.Power
	return s, w.ok
}

// maxLevel is the stage of the maximum level.
func (z *lowEnd) maxLevel(in levelInput) level {
	if setup, ok := z.setup(&in.boxInput); ok {
		if c, err := driver.NewCircuit(setup); err == nil {
			m := c.MaxLevel([]float64{in.at})[0]
			return level{m.Level, m.Limit}
		}
	}
	return level{level: numeric.Absent}
}

// halfPower is the stage of the half-power frequency in Hz.
func (z *lowEnd) halfPower(in boxInput) float64 {
	setup, ok := z.setup(&in)
	if !ok {
		return numeric.Absent
	}
	return halfPower(setup)
}

// Steps of the search for the half-power frequency. Dips of such a network are
// broader than a step, but may only just reach the limit.
const (
	cutoffSteps = 8    // per octave
	cutoffLow   = 1e-2 // of the lowest resonance
)

// halfPower returns the highest frequency in Hz at which the box is half its
// passband power, without inductance: driver.Summary.F3, found faster.
func halfPower(s driver.Setup) float64 {
	s.Driver.Le = optional.Float{}
	c, err := driver.NewCircuit(s)
	if err != nil {
		return numeric.Absent
	}
	passband := c.PassbandPressure(1)
	excess := func(x float64) float64 {
		p := c.At(math.Exp(x), 1).Pressure
		return numeric.DB(math.Hypot(real(p), imag(p))/passband) - driver.HalfPower
	}
	lowest := s.Driver.Fs.Value()
	highest := lowest * math.Sqrt(1+c.Alpha())
	if t := c.Enclosure().Tuning.Value(); numeric.Given(t) {
		lowest, highest = math.Min(lowest, t), math.Max(highest, t)
	}
	top, bottom := math.Log(4*highest), math.Log(cutoffLow*lowest)
	for excess(top) < 0 {
		top += math.Ln2
	}
	return math.Exp(highestZero(excess, top, bottom, math.Ln2/cutoffSteps))
}

// highestZero steps down from top, where f is positive, and returns the highest
// zero of f above bottom; NaN when there is none. A minimum between two steps is
// looked at closely, so that a dip that only just reaches zero counts.
func highestZero(f func(float64) float64, top, bottom, step float64) float64 {
	above, here := math.Inf(1), f(top)
	for x := top; x > bottom; x -= step {
		low, below := x-step, f(x-step)
		if below > 0 && here < above && here < below {
			if m := numeric.Minimum(f, low, x+step, 1e-6); f(m) < 0 {
				low, below, x = m, f(m), x+step
			}
		}
		if below < 0 {
			root, err := numeric.Root(f, low, x, 1e-12)
			if err != nil {
				return numeric.Absent
			}
			return root
		}
		above, here = here, below
	}
	return numeric.Absent
}
