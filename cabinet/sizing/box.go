package sizing

import (
	"math"

	"gapline/cabinet/design"
	"gapline/driver"
	"gapline/internal/air"
	"gapline/internal/numeric"
)

// BoxSizing is what one box does at the low end and what it takes, SI. The
// circuit is the alignment tables' one: air load as mass only, no insert.
type BoxSizing struct {
	F3          float64 // half power, without voice-coil inductance, Hz
	LevelAt     float64 // frequency of MaxLevel: targets.level_at, targets.lowest or F3, Hz
	MaxLevel    float64 // dB at 1 m in half space
	Limit       driver.Limit
	SweptVolume float64 // of all woofers, one way, m³
	Drivers     float64 // woofers, mids and the compression driver; NaN without any word of a woofer
	LineDrivers float64 // in the whole line; NaN without line.boxes
	Crossovers  float64 // crossover points of one box
	Cost        float64 // of one box; NaN when the price of a part is missing
	LineCost    float64 // of the whole line
}

// sizeBox works out the low end of one box. What the design does not give
// enough for is NaN.
func (z *Sizer) sizeBox(d *design.Design, a air.Air) BoxSizing {
	s := BoxSizing{
		F3: numeric.Absent, LevelAt: d.LevelAt(), MaxLevel: numeric.Absent,
		SweptVolume: float64(d.WoofersPerBox()) * d.Woofer.PistonArea() * d.Woofer.Xmax,
		Drivers:     numeric.Absent, Crossovers: numeric.Absent, Cost: d.CostPerBox(),
		LineDrivers: numeric.Absent, LineCost: numeric.Absent,
	}
	if d.HasWoofer() {
		s.Drivers, s.Crossovers = float64(d.DriversPerBox()), float64(d.Crossovers())
	}
	if n := float64(d.Line.Boxes); n > 0 {
		s.LineDrivers, s.LineCost = n*s.Drivers, n*s.Cost
	}
	if !numeric.Given(d.Enclosure.Volume) {
		return s
	}
	complete, ok := z.completeWoofer(d, a)
	if !ok {
		return s
	}
	setup := d.DriverSetup(complete, a)
	c, err := driver.NewCircuit(setup)
	if err != nil {
		return s
	}
	s.F3 = halfPower(setup)
	s.LevelAt = numeric.Or(s.LevelAt, s.F3)
	if numeric.Given(s.LevelAt) {
		m := c.MaxLevel([]float64{s.LevelAt})[0]
		s.MaxLevel, s.Limit = m.Level, m.Limit
	}
	return s
}

// wooferCache remembers the last completed driver, which neighbours in a sweep
// mostly share.
type wooferCache struct {
	key      [wooferFields]uint64
	air      air.Air
	complete driver.Complete
	ok, used bool
}

const wooferFields = 13

// leastGiven is how many parameters a driver model has: fewer never suffice.
const leastGiven = 6

// completeWoofer derives the driver's set unless it is the last one again.
func (z *Sizer) completeWoofer(d *design.Design, a air.Air) (driver.Complete, bool) {
	p := d.Woofer.Parameters
	related := [wooferFields]float64{p.Fs, p.Qes, p.Qms, p.Qts, p.Vas, p.Re, p.Sd, p.Bl, p.Mms, p.Cms, p.Rms, p.EffectiveDiameter, p.Size}
	key := [wooferFields]uint64{}
	given := 0
	for i, x := range related {
		key[i] = math.Float64bits(x)
		if numeric.Given(x) {
			given++
		}
	}
	if given < leastGiven {
		return driver.Complete{}, false
	}
	w := &z.woofer
	if !w.used || w.key != key || w.air != a {
		*w = wooferCache{key: key, air: a, used: true}
		complete, err := p.Derive(a)
		w.complete, w.ok = complete, err == nil
	}
	// What stands alone may differ from the remembered driver's.
	c := w.complete
	c.Le, c.LeExponent, c.Xmax, c.Power = p.Le, p.LeExponent, p.Xmax, p.Power
	return c, w.ok
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
	s.Driver.Le = numeric.Absent
	c, err := driver.NewCircuit(s)
	if err != nil {
		return numeric.Absent
	}
	passband := c.PassbandPressure(1)
	excess := func(x float64) float64 {
		p := c.At(math.Exp(x), 1).Pressure
		return numeric.DB(math.Hypot(real(p), imag(p))/passband) - driver.HalfPower
	}
	lowest := s.Driver.Fs
	highest := lowest * math.Sqrt(1+c.Alpha())
	if t := c.Enclosure().Tuning; numeric.Given(t) {
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
