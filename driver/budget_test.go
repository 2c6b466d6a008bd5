package driver

import (
	"math"
	"math/cmplx"
)

// PowerBudget says where the electrical power goes, W. All but Electrical are
// losses or radiation; they add up to it.
type PowerBudget struct {
	Electrical float64 // taken from the amplifier
	Coil       float64 // heat in the voice coil, lossy inductance included
	Suspension float64 // Rms
	Absorption float64 // QA
	Leak       float64 // QL
	Vent       float64 // QP, or the passive radiator's suspension
	Front      float64 // radiated by cones or mouths
	Rear       float64 // radiated by vent or passive radiator
}

// Sum returns all sinks together.
func (b PowerBudget) Sum() float64 {
	return b.Coil + b.Suspension + b.Absorption + b.Leak + b.Vent + b.Front + b.Rear
}

// Power returns the power budget at frequency f in Hz and the given terminal
// voltage in V. Radiation is zero with MassOnly and no insert.
func (c *Circuit) Power(f, volts float64) PowerBudget {
	s := c.solve(2 * math.Pi * f)
	square := func(z complex128) float64 { a := cmplx.Abs(z) * volts; return a * a }
	dot := func(p, u complex128) float64 { return real(p*cmplx.Conj(u)) * volts * volts }
	velocity := s.driver / complex(c.count*c.sd, 0)
	intoVolume := -s.box / complex(c.box.absorption, -1/(s.omega*c.box.compliance))
	mutual := c.rearMutual(s.omega)

	b := PowerBudget{
		Electrical: real(s.terminals) * volts * volts,
		Coil:       c.count * real(s.coil) * square(s.current),
		Suspension: c.count * c.resistance * square(velocity),
		Absorption: c.box.absorption * square(intoVolume),
		Leak:       c.box.leakAdmit * square(s.box),
		Vent:       c.rear.resistance * square(s.rear),
	}
	b.Front = dot(s.load.impedance*s.driver+mutual*s.rear, s.driver)
	b.Rear = dot(mutual*s.driver, s.rear) + c.rearRadiation(s.omega)*square(s.rear)
	return b
}
