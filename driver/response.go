package driver

import (
	"math"
	"math/cmplx"

	"gapline/internal/numeric"
)

// Point is what the box does at one frequency and terminal voltage.
type Point struct {
	Frequency   float64    // Hz
	Pressure    complex128 // rms on axis referred to 1 m, half space, without the phase of the distance, Pa
	Impedance   complex128 // at the terminals, Ω
	Excursion   float64    // of each cone, peak, m
	VentSpeed   float64    // of the air in the vent, mean over its area, peak, m/s; NaN without a vent area
	Radiator    float64    // excursion of the passive radiator, peak, m; NaN without one
	MouthSpeed  float64    // of the air in the insert's mouths, peak, m/s; NaN without an insert
	BoxPressure complex128 // in the box, rms, Pa
}

// Level returns the sound pressure level in dB re 20 µPa.
func (p Point) Level() float64 { return Level(cmplx.Abs(p.Pressure)) }

// Phase returns the phase of the pressure in rad, −π to π.
func (p Point) Phase() float64 { return cmplx.Phase(p.Pressure) }

// At returns the response at frequency f in Hz for the given rms voltage in V at
// the terminals. It does not allocate.
func (c *Circuit) At(f, volts float64) Point {
	s := c.solve(2 * math.Pi * f)
	peak := math.Sqrt2 * volts
	p := Point{
		Frequency:   f,
		Pressure:    complex(volts, 0) * c.pressure(s),
		Impedance:   1 / s.terminals,
		Excursion:   peak * cmplx.Abs(s.driver) / (s.omega * c.count * c.sd),
		MouthSpeed:  numeric.Absent,
		BoxPressure: complex(volts, 0) * s.box,
	}
	p.VentSpeed, p.Radiator = c.enclosure.Kind.rearLoad().motion(c.rear, peak*cmplx.Abs(s.rear), s.omega)
	if c.front.insert != nil {
		p.MouthSpeed = peak * cmplx.Abs(s.front) / c.front.insert.area
	}
	return p
}

// pressure returns jωρ·U/(2π·1 m) for the net volume velocity. On the axis of
// pistons in a wall this holds at any frequency; it leaves out directivity only
// off the axis.
func (c *Circuit) pressure(s state) complex128 {
	return complex(0, s.omega*c.air.Density/(2*math.Pi)) * s.net
}

// Sweep evaluates At at every frequency of f. dst may be nil; otherwise it must
// have the length of f, or Sweep panics.
func (c *Circuit) Sweep(dst []Point, f []float64, volts float64) []Point {
	if dst == nil {
		dst = make([]Point, len(f))
	}
	if len(dst) != len(f) {
		panic("driver: Sweep: dst and f differ in length")
	}
	for i, x := range f {
		dst[i] = c.At(x, volts)
	}
	return dst
}

// groupDelayStep is the relative frequency step of the four-point derivative;
// its error is of order step⁴, about 1e-10 of the delay.
const groupDelayStep = 2e-3

// GroupDelay returns −dφ/dω in s of the pressure at frequency f in Hz, by the
// four-point central difference of the phase. Ratios of pressures are taken
// before the phase, so that it never wraps.
func (c *Circuit) GroupDelay(f float64) float64 {
	w := 2 * math.Pi * f
	h := groupDelayStep * w
	difference := func(n float64) float64 {
		a, b := c.pressure(c.solve(w+n*h)), c.pressure(c.solve(w-n*h))
		return cmplx.Phase(a * cmplx.Conj(b))
	}
	return -(8*difference(1) - difference(2)) / (12 * h)
}

// Frequencies returns n frequencies in Hz from lo to hi, evenly spaced on a
// logarithmic axis. n must be at least 2.
func Frequencies(lo, hi float64, n int) []float64 {
	f := make([]float64, n)
	ratio := math.Log(hi / lo)
	for i := range f {
		f[i] = lo * math.Exp(ratio*float64(i)/float64(n-1))
	}
	f[n-1] = hi
	return f
}
