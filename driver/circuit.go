package driver

import (
	"fmt"
	"math"

	"gapline/internal/air"
)

// Loading is how the air in front of the cone enters the circuit.
type Loading int

const (
	// MassOnly is Small's convention: the air's mass is part of Mms, and the
	// radiation resistance is neglected. The alignment tables rest on it.
	MassOnly Loading = iota
	// FullRadiation takes the exact radiation impedance, less the low-frequency
	// mass of one side that Mms already holds.
	FullRadiation
)

// Setup is one box: drivers, enclosure and front. The zero values of Count,
// Wiring and Loading mean one driver, parallel, MassOnly.
type Setup struct {
	Driver    Complete
	Count     int     // equal drivers in the box, one common volume
	Columns   int     // how many of them stand side by side; 0 counts as 1
	Wiring    Wiring  // of the drivers
	Spacing   float64 // between centres of those above each other in m; NaN or 0 = DefaultSpacing diameters
	Lateral   float64 // between centres of those side by side in m; NaN or 0 = DefaultSpacing diameters
	Enclosure Enclosure
	Insert    *Insert // front chamber with mouths, or nil
	Loading   Loading
}

// DefaultSpacing is the distance between drivers of one box in effective
// diameters when none is given: frames touch.
const DefaultSpacing = 1.2

// Circuit is the acoustic network of one box, ready to be evaluated at any
// frequency. It is safe for concurrent use.
type Circuit struct {
	air       air.Air
	enclosure Enclosure
	setup     Setup
	count     float64

	re, le, exponent, bl        float64 // one driver, electrical
	mass, stiffness, resistance float64 // one driver, mechanical
	sd                          float64 // one driver, m²

	box   boxBranch
	rear  rearBranch
	front frontLoad
}

// NewCircuit checks the setup and prepares the network.
//
// The driver enters by fs, Qes, Qms, Vas, Sd and Re; where given values
// contradict each other slightly, Mms, Cms, Rms and Bl follow from these six,
// so that the circuit has exactly this resonance, these Q and this volume.
func NewCircuit(s Setup) (*Circuit, error) {
	if s.Count < 0 {
		return nil, fmt.Errorf("number of drivers per box = %d: must not be negative", s.Count)
	}
	if err := s.Driver.usable(); err != nil {
		return nil, err
	}
	s.Count = max(s.Count, 1)
	enclosure, err := s.Enclosure.Resolve(s.Driver.Air)
	if err != nil {
		return nil, err
	}
	c := &Circuit{air: s.Driver.Air, enclosure: enclosure, setup: s, count: float64(s.Count)}
	c.setDriver(s.Driver)
	c.setBox()
	c.front, err = newFrontLoad(c)
	if err != nil {
		return nil, err
	}
	return c, nil
}

// usable returns an error when a value that the circuit needs is missing.
func (c Complete) usable() error {
	for _, v := range []float64{c.Fs.Value(), c.Qes.Value(), c.Qms.Value(), c.Vas.Value(), c.Sd.Value(), c.Re.Value(), c.Air.SoundSpeed, c.Air.Density} {
		if !(v > 0) {
			return fmt.Errorf("the driver's parameters are not complete: derive them first")
		}
	}
	return nil
}

func (c *Circuit) setDriver(d Complete) {
	bulk := c.air.Density * c.air.SoundSpeed * c.air.SoundSpeed
	w := 2 * math.Pi * d.Fs.Value()
	c.re, c.sd = d.Re.Value(), d.Sd.Value()
	c.le, c.exponent = 0, 1
	if d.Le.Given() {
		c.le = d.Le.Value()
	}
	if d.LeExponent.Given() {
		c.exponent = d.LeExponent.Value()
	}
	c.stiffness = bulk * d.Sd.Value() * d.Sd.Value() / d.Vas.Value()
	c.mass = c.stiffness / (w * w)
	c.resistance = w * c.mass / d.Qms.Value()
	c.bl = math.Sqrt(w * c.mass * d.Re.Value() / d.Qes.Value())
}

// boxBranch is the box volume and its leak, acoustic.
type boxBranch struct {
	compliance  float64 // Cab, m³/Pa
	absorption  float64 // Rab in series with Cab, Pa·s/m³
	leakAdmit   float64 // 1/Ral, m³/(Pa·s)
	lossAngular float64 // ω at which the loss Q values hold, rad/s
}

// rearBranch is the vent or passive radiator, acoustic, all units together.
type rearBranch struct {
	present    bool
	mass       float64 // Map, kg/m⁴
	stiffness  float64 // 1/Cap, Pa/m³; 0 for a vent
	resistance float64 // Pa·s/m³
	area       float64 // m², all units; NaN = unknown
	distance   float64 // to the driver, m; NaN = mutual radiation left out
}

func (c *Circuit) setBox() {
	e := &c.enclosure
	cab := e.compliance(c.air)
	kind := e.Kind.rearLoad()
	w := kind.lossAngular(c)
	c.box = boxBranch{compliance: cab, lossAngular: w}
	c.box.absorption = inverseQ(e.AbsorptionQ.Value()) / (w * cab)
	c.box.leakAdmit = inverseQ(e.LeakQ.Value()) * w * cab
	c.rear = kind.rear(e, w, cab, inverseQ(e.VentQ.Value())/(w*cab))
}

// Enclosure returns the enclosure with everything resolved: vent length, tuning,
// radiator mass.
func (c *Circuit) Enclosure() Enclosure { return c.enclosure }

// Alpha returns the compliance ratio Cas/Cab = n·Vas/Vb of all n drivers.
func (c *Circuit) Alpha() float64 {
	return float64(c.setup.Count) * c.setup.Driver.Vas.Value() / c.enclosure.Volume.Value()
}

// NominalResistance returns Re of the box's terminals in Ω.
func (c *Circuit) NominalResistance() float64 {
	return c.setup.Wiring.row().resistance(c.re, c.count)
}

// VoltageFor returns the voltage in V at the box's terminals that puts the
// given power in W into NominalResistance.
func (c *Circuit) VoltageFor(power float64) float64 {
	return math.Sqrt(power * c.NominalResistance())
}

// PassbandPressure returns the rms pressure in Pa at 1 m in half space to which
// the response tends above all resonances, for the given terminal voltage,
// without inductance, insert or directivity.
func (c *Circuit) PassbandPressure(volts float64) float64 {
	e := volts / c.setup.Wiring.row().inSeries(c.count)
	return c.air.Density * c.count * c.sd * c.bl * e / (2 * math.Pi * c.re * c.mass)
}
