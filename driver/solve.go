package driver

import "math"

// state holds the network's solution at one frequency for 1 V at the terminals.
// Pressures in Pa and volume velocities in m³/s, rms.
type state struct {
	omega     float64
	coil      complex128 // voice-coil impedance of one driver, Ω
	current   complex128 // through one driver, A
	driver    complex128 // volume velocity of all cones, outward
	front     complex128 // volume velocity into the outside air in front
	rear      complex128 // of the vent or radiator, outward
	box       complex128 // pressure in the box
	net       complex128 // of all outward flow together, leak included
	terminals complex128 // current at the terminals, A
	load      frontState
}

// solve evaluates the network. With U the cones' volume velocity, Zb the box
// (volume, absorption and leak in parallel), Zv the vent or radiator and Zm its
// mutual radiation with the cones, mesh analysis gives
//
//	U   =  p_g (Zb + Zv)/D
//	U_v = −p_g (Zb + Zm)/D
//	D   = (Z_driver + Z_front)(Zb + Zv) + Zb·Zv − 2 Zb·Zm − Zm²
//
// The inflow U + U_v is formed as p_g (Zv − Zm)/D, without the cancellation of
// cone against vent at low frequency, and nothing divides by Zb + Zv, which is
// zero at the tuning of a lossless box.
func (c *Circuit) solve(omega float64) state {
	s := state{omega: omega}
	s.coil = complex(c.re, 0)
	if c.le > 0 {
		s.coil += inductorImpedance(c.le, c.exponent, omega)
	}
	volts := complex(1, 0)
	if c.setup.Wiring == Series {
		volts = complex(1/c.count, 0)
	}
	bl, sd, n := complex(c.bl, 0), complex(c.sd, 0), complex(c.count, 0)
	mechanical := complex(c.resistance, omega*c.mass-c.stiffness/omega)
	s.load = c.front.at(omega)
	own := (mechanical+bl*bl/s.coil)/(n*sd*sd) + s.load.impedance
	source := bl * volts / (s.coil * sd)

	volume := complex(c.box.absorption, -1/(omega*c.box.compliance))
	box := 1 / (1/volume + complex(c.box.leakAdmit, 0))
	inflow := source / (own + box) // U + U_v
	s.driver = inflow
	if c.rear.present {
		vent := complex(c.rear.resistance+c.rearRadiation(omega), omega*c.rear.mass-c.rear.stiffness/omega)
		mutual := c.rearMutual(omega)
		det := own*(box+vent) + box*vent - 2*box*mutual - mutual*mutual
		inflow = source * (vent - mutual) / det
		s.driver = source * (box + vent) / det
		s.rear = -source * (box + mutual) / det
	}
	s.box = -box * inflow
	s.front = s.load.transfer * s.driver
	s.net = inflow*box/volume + (s.load.transfer-1)*s.driver
	s.current = (volts - bl*s.driver/(n*sd)) / s.coil
	s.terminals = s.current
	if c.setup.Wiring == Parallel {
		s.terminals *= n
	}
	return s
}

// rearRadiation returns the radiation resistance of the vent or radiator, a
// small source in a wall: ρω²/(2πc).
func (c *Circuit) rearRadiation(omega float64) float64 {
	if c.setup.Loading != FullRadiation {
		return 0
	}
	return c.air.Density * omega * omega / (2 * math.Pi * c.air.SoundSpeed)
}

// rearMutual returns the mutual radiation impedance of vent and cones, two
// small sources in a wall: jωρ e^{−jkd}/(2πd).
func (c *Circuit) rearMutual(omega float64) complex128 {
	d := c.rear.distance
	if c.setup.Loading != FullRadiation || !c.rear.present || !(d > 0) || c.setup.Insert != nil {
		return 0
	}
	return pointMutual(c.air.Density, omega, omega/c.air.SoundSpeed, d)
}

// pointMutual returns jωρ e^{−jkd}/(2πd), Pa·s/m³.
func pointMutual(density, omega, k, d float64) complex128 {
	sin, cos := math.Sincos(k * d)
	scale := omega * density / (2 * math.Pi * d)
	return complex(scale*sin, scale*cos)
}
