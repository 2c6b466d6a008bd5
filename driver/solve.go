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
	p := c.parts(omega)
	s := state{omega: omega, coil: p.coil, load: c.front.at(omega)}
	own := p.own + s.load.impedance
	inflow := p.source / (own + p.box) // U + U_v
	s.driver = inflow
	if c.rear.present {
		mutual := c.rearMutual(omega)
		det := own*(p.box+p.vent) + p.box*p.vent - 2*p.box*mutual - mutual*mutual
		inflow = p.source * (p.vent - mutual) / det
		s.driver = p.source * (p.box + p.vent) / det
		s.rear = -p.source * (p.box + mutual) / det
	}
	s.box = -p.box * inflow
	s.front = s.load.transfer * s.driver
	s.net = inflow*p.box/p.volume + (s.load.transfer-1)*s.driver
	s.current = p.current(c, s.driver)
	s.terminals = s.current * complex(c.setup.Wiring.row().inParallel(c.count), 0)
	return s
}

// parts are the elements of one box's network at one frequency, acoustic, for
// 1 V at the terminals.
type parts struct {
	volts  complex128 // across one driver
	coil   complex128 // voice coil of one driver, Ω
	own    complex128 // motor, mass and suspension of all drivers, without the front load
	source complex128 // p_g, the blocked pressure
	volume complex128 // box volume with absorption
	box    complex128 // volume and leak in parallel
	vent   complex128 // vent or passive radiator with its radiation resistance
}

func (c *Circuit) parts(omega float64) parts {
	p := parts{coil: complex(c.re, 0), volts: complex(1/c.setup.Wiring.row().inSeries(c.count), 0)}
	if c.le > 0 {
		p.coil += inductorImpedance(c.le, c.exponent, omega)
	}
	bl, sd := complex(c.bl, 0), complex(c.sd, 0)
	mechanical := complex(c.resistance, omega*c.mass-c.stiffness/omega)
	p.own = (mechanical + bl*bl/p.coil) / (complex(c.count, 0) * sd * sd)
	p.source = bl * p.volts / (p.coil * sd)
	p.volume = complex(c.box.absorption, -1/(omega*c.box.compliance))
	p.box = 1 / (1/p.volume + complex(c.box.leakAdmit, 0))
	if c.rear.present {
		p.vent = complex(c.rear.resistance+c.rearRadiation(omega), omega*c.rear.mass-c.rear.stiffness/omega)
	}
	return p
}

// current returns the current through one driver for the volume velocity of
// all cones.
func (p *parts) current(c *Circuit, driver complex128) complex128 {
	return (p.volts - complex(c.bl/(c.count*c.sd), 0)*driver) / p.coil
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

// Behind is what moves the cones of a box from behind at one frequency, acoustic. With the
// volume velocity U of one cone, the sum ΣU over the box and the mean pressure p of the
// outside air on the cone, Source·volts = Own·U + Box·ΣU + p.
type Behind struct {
	Source complex128 // blocked pressure for each volt at the terminals, Pa/V
	Own    complex128 // motor, suspension and mass of one driver without the air in front of it, Pa·s/m³
	Box    complex128 // box with its vent or radiator, whose own radiation is left out, Pa·s/m³
}

// Behind returns what stands behind the cones at f, Hz. The mass of a driver, which by
// convention holds the air of both its sides (R. H. Small, JAES 20, 1972), loses that of a
// piston's front in a wall, since who asks has the air outside on his own.
func (c *Circuit) Behind(f float64) Behind {
	omega := 2 * math.Pi * f
	p := c.parts(omega)
	piston := PistonOfArea(c.sd)
	front := complex(0, omega/c.air.SoundSpeed*piston.EndCorrection()*c.air.Impedance()/c.sd)
	b := Behind{Source: p.source, Own: p.own*complex(c.count, 0) - front, Box: p.box}
	if c.rear.present {
		b.Box = p.box * p.vent / (p.box + p.vent)
	}
	return b
}

// FrontShare returns what the cones, or the mouths in front of them, are of all that the box sends
// out at f, Hz: 1 where it has no vent, radiator or leak.
func (c *Circuit) FrontShare(f float64) complex128 {
	s := c.solve(2 * math.Pi * f)
	return s.front / s.net
}
