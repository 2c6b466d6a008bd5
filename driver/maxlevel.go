package driver

import (
	"math"

	"gapline/internal/numeric"
)

// Limit names what stops the box from playing louder.
type Limit int

// The limits of level.
const (
	NoLimit           Limit = iota // nothing given that limits
	ExcursionLimit                 // the cone reaches Xmax
	PowerLimit                     // the voice coil reaches its rated power
	RadiatorExcursion              // the passive radiator reaches its own Xmax
)

// String returns the limit in words.
func (l Limit) String() string {
	switch l {
	case ExcursionLimit:
		return "excursion"
	case PowerLimit:
		return "power"
	case RadiatorExcursion:
		return "passive radiator"
	}
	return "none"
}

// MaxPoint is the largest level at one frequency. Levels in dB re 20 µPa at 1 m
// in half space; NaN where the driver's data set no such limit.
type MaxPoint struct {
	Frequency float64 // Hz
	Excursion float64 // level at which a cone or passive radiator reaches its Xmax: the lower of Cone and Radiator
	Cone      float64 // level at which a cone reaches its Xmax
	Radiator  float64 // level at which a passive radiator reaches its own
	Power     float64 // level at rated power into Re
	Level     float64 // the lower of the two
	Limit     Limit   // what sets it
	Volts     float64 // terminal voltage at that level, V
	VentSpeed float64 // air speed in the vent at that level, peak, m/s
	Mouth     float64 // air speed in the insert's mouths at that level, peak, m/s
}

// PowerCompressionNote states what the maximum level leaves out.
const PowerCompressionNote = "power compression is not modelled: a hot voice coil lowers the power-limited level, often by 2 to 6 dB in long use"

// MaxLevel returns the largest level at each frequency of f in Hz: the voltage
// at which peak excursion reaches Xmax, or at which the rated power goes into
// Re, whichever comes first. Small-signal parameters hold throughout; see
// PowerCompressionNote.
func (c *Circuit) MaxLevel(f []float64) []MaxPoint {
	out := make([]MaxPoint, len(f))
	for i, x := range f {
		out[i] = c.maxAt(x)
	}
	return out
}

func (c *Circuit) maxAt(f float64) MaxPoint {
	unit := c.At(f, 1)
	power := c.powerVoltage()
	cone := c.setup.Driver.Xmax.Value() / unit.Excursion
	radiator := c.enclosure.Radiator.Xmax.Value() / unit.Radiator
	m := MaxPoint{Frequency: f, Volts: numeric.Absent, Excursion: numeric.Absent}
	travel, which := least(cone, radiator, ExcursionLimit, RadiatorExcursion)
	m.Volts, m.Limit = least(travel, power, which, PowerLimit)
	if numeric.Given(travel) {
		m.Excursion = unit.Level() + numeric.DB(travel)
	}
	m.Cone, m.Radiator = unit.Level()+numeric.DB(cone), unit.Level()+numeric.DB(radiator)
	m.Power = unit.Level() + numeric.DB(power)
	m.Level = unit.Level() + numeric.DB(m.Volts)
	m.VentSpeed, m.Mouth = unit.VentSpeed*m.Volts, unit.MouthSpeed*m.Volts
	return m
}

// least returns the lower of two voltages and its limit; NaN means no limit.
func least(a, b float64, la, lb Limit) (float64, Limit) {
	switch {
	case !numeric.Given(a) && !numeric.Given(b):
		return numeric.Absent, NoLimit
	case !numeric.Given(b) || a <= b:
		return a, la
	}
	return b, lb
}

// powerVoltage returns the terminal voltage at which every driver takes its
// rated power into Re; NaN without a rating.
func (c *Circuit) powerVoltage() float64 {
	return c.VoltageFor(c.count * c.setup.Driver.Power.Value())
}

// Crossing is a frequency at which one limit gives way to another.
type Crossing struct {
	Frequency float64 // Hz
	Below     Limit   // what limits just below it
	Above     Limit   // and just above
}

// Crossings returns the frequencies in [lo, hi] (Hz) at which the limit
// changes, ascending, found on a scan of 48 points per octave and refined.
func (c *Circuit) Crossings(lo, hi float64) []Crossing {
	var out []Crossing
	step := math.Ln2 / scanSteps
	x, limit := math.Log(lo), c.maxAt(lo).Limit
	for top := math.Log(hi); x < top; {
		next := math.Min(x+step, top)
		above := c.maxAt(math.Exp(next)).Limit
		if above != limit {
			out = append(out, Crossing{Frequency: c.refineCrossing(x, next, limit), Below: limit, Above: above})
		}
		x, limit = next, above
	}
	return out
}

// refineCrossing bisects the interval of log frequency in which the limit stops
// being below.
func (c *Circuit) refineCrossing(lo, hi float64, below Limit) float64 {
	for hi-lo > 1e-12 {
		mid := (lo + hi) / 2
		if c.maxAt(math.Exp(mid)).Limit == below {
			lo = mid
		} else {
			hi = mid
		}
	}
	return math.Exp((lo + hi) / 2)
}

// SweptVolume returns the volume that all cones of the box displace, one way,
// in m³; NaN without Xmax.
func (c *Circuit) SweptVolume() float64 { return c.count * c.setup.Driver.SweptVolume() }
