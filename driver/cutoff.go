package driver

import (
	"math"

	"gapline/internal/numeric"
)

// HalfPower is the level of half the power in dB, −10 log₁₀ 2: the f3 of the
// alignment tables.
const HalfPower = -10 * math.Ln2 / math.Ln10

// Summary holds the single figures of a box's low end, of its MassOnly circuit
// without inductance and insert.
type Summary struct {
	F3, F6, F10   float64 // highest frequency at which the level is 3.01, 6 or 10 dB below the passband, Hz
	Passband      float64 // level at 1 V, dB at 1 m in half space
	Qtc, Fc       float64 // closed box: total Q and resonance in Hz, lossless; NaN otherwise
	Peak          float64 // highest level above the passband, dB; 0 when there is no peak
	PeakFrequency float64 // Hz; NaN without a peak
	Alignment     Alignment
}

// Summary returns the figures of the low end.
func (c *Circuit) Summary() Summary {
	p := c.plain()
	s := Summary{
		F3: p.Cutoff(HalfPower), F6: p.Cutoff(-6), F10: p.Cutoff(-10),
		Passband:  Level(p.PassbandPressure(1)),
		Alignment: c.Alignment(),
	}
	s.Fc, s.Qtc = c.enclosure.Kind.rearLoad().resonance(c)
	s.PeakFrequency, s.Peak = p.peak()
	return s
}

// plain returns the circuit that the alignment tables describe.
func (c *Circuit) plain() *Circuit {
	p := *c
	p.le = 0
	p.setup.Loading = MassOnly
	p.setup.Insert = nil
	p.front = frontLoad{circuit: &p, piston: c.front.piston}
	return &p
}

// totalQ is Qts from Qes and Qms, the values that the circuit uses.
func totalQ(d Complete) float64 {
	return d.Qes.Value() * d.Qms.Value() / (d.Qes.Value() + d.Qms.Value())
}

const (
	// scanSteps per octave; a ripple narrower than that cannot occur in a
	// network of this order.
	scanSteps = 48
	// scanTop and scanBottom bound the search in multiples of the highest and
	// lowest resonance.
	scanTop, scanBottom = 100, 0.01
)

// relative returns the level in dB relative to the passband.
func (c *Circuit) relative(f float64) float64 {
	return numeric.DB(c.magnitude(f) / c.PassbandPressure(1))
}

func (c *Circuit) magnitude(f float64) float64 {
	p := c.pressure(c.solve(2 * math.Pi * f))
	return math.Hypot(real(p), imag(p))
}

// span returns the frequencies between which all resonances lie.
func (c *Circuit) span() (lo, hi float64) {
	fs := c.setup.Driver.Fs.Value()
	lo, hi = fs, fs*math.Sqrt(1+c.Alpha())
	if t := c.enclosure.Tuning.Value(); numeric.Given(t) {
		lo, hi = math.Min(lo, t), math.Max(hi, t)
	}
	return lo, hi
}

// Cutoff returns the highest frequency in Hz below which the level falls under
// db (negative, relative to the passband); NaN when none is found. Inductance,
// insert and directivity count when the circuit has them, so that Summary uses
// the plain circuit.
func (c *Circuit) Cutoff(db float64) float64 {
	lo, hi := c.span()
	lo, hi = lo*scanBottom, hi*scanTop
	step := math.Ln2 / scanSteps
	level := func(x float64) float64 { return c.relative(math.Exp(-x)) - db }
	hi = above(hi, func(f float64) bool { return !(level(-math.Log(f)) < 0) })
	x, ok := numeric.FirstCrossing(level, -math.Log(hi), -math.Log(lo), step, 1e-13)
	if !ok {
		return numeric.Absent
	}
	return math.Exp(-x)
}

// scanDoublings bounds how far above its top a search goes on: a driver of Q = Q0 comes to
// its passband near f0/Q0, and the key table allows some Q0 of 1/400.
const scanDoublings = 20

// above returns the lowest of top, 2·top, 4·top and so on where the level is reached; top
// itself where it is at none, as with inductance.
func above(top float64, reached func(f float64) bool) float64 {
	for i := range scanDoublings {
		if f := math.Ldexp(top, i); reached(f) {
			return f
		}
	}
	return top
}

const (
	// peakFloor is the smallest peak that is reported, above rounding.
	peakFloor = 1e-9 // dB
	// peakTop bounds the search for it in multiples of the highest resonance f0.
	// A closed box peaks at f = f0/√(1 − 1/(2Q²)) with Q²/√(Q² − ¼) (Small 1972),
	// which at this distance is peakFloor.
	peakTop = 256
	// fineTop, in the same multiples, is how far ripples of several resonances
	// reach; beyond it farSteps to the octave find what the slow approach to the
	// passband has left.
	fineTop, farSteps = 8, 4
)

// peak returns the highest level above the passband and where it is.
func (c *Circuit) peak() (frequency, db float64) {
	lo, hi := c.span()
	best, at, around := peakFloor, numeric.Absent, 0.0
	step := math.Ln2 / scanSteps
	for x := math.Log(lo / 4); x < math.Log(hi*peakTop); x += step {
		if x >= math.Log(hi*fineTop) {
			step = math.Ln2 / farSteps
		}
		if v := c.relative(math.Exp(x)); v > best {
			best, at, around = v, x, step
		}
	}
	if !numeric.Given(at) {
		return numeric.Absent, 0
	}
	at = numeric.Minimum(func(x float64) float64 { return -c.relative(math.Exp(x)) }, at-around, at+around, 1e-10)
	return math.Exp(at), c.relative(math.Exp(at))
}
