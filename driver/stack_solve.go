package driver

import (
	"math"
	"math/cmplx"
)

// stackWork is the workspace of one sweep.
type stackWork struct {
	stack *Stack
	sys   *system
	// Radiation impedances by the number of boxes between, Pa·s/m³: front on
	// front, front on vent, vent on vent.
	ff, fv, vv []complex128
	front      []complex128 // volume velocity per box into the air in front
	vent       []complex128
}

func newStackWork(k *Stack) *stackWork {
	n := k.boxes
	size := n
	if k.circuit.rear.present {
		size = 2 * n
	}
	return &stackWork{
		stack: k, sys: newSystem(size), ff: make([]complex128, n), fv: make([]complex128, n), vv: make([]complex128, n),
		front: make([]complex128, n), vent: make([]complex128, n),
	}
}

// chamber describes how the front flow F relates to the cones' flow U:
// U = F(1 + jωC·Z_in) + jωC·P, with P the outside pressure on the mouths and
// Z_in the mouths' inner mass. Without an insert C = Z_in = 0.
type chamber struct {
	admittance complex128 // jωC
	inner      complex128 // Z_in
	airMass    complex128 // −jωM₀, the free air load that an insert replaces
}

func (k *Stack) chamber(omega float64) chamber {
	l := k.circuit.front.insert
	if l == nil {
		return chamber{}
	}
	return chamber{complex(0, omega*l.compliance), complex(0, omega*l.inner), complex(0, -omega*l.airMass)}
}

// radiation fills the impedances between boxes.
func (w *stackWork) radiation(omega float64) {
	k, c := w.stack, w.stack.circuit
	wave := omega / c.air.SoundSpeed
	area := c.count * c.sd
	if l := c.front.insert; l != nil {
		area = l.area
		w.ff[0] = l.radiation(wave)
	} else {
		w.ff[0] = c.front.at(omega).impedance
	}
	w.fv[0] = 0
	if d := c.rear.distance; c.rear.present && d > 0 {
		w.fv[0] = pointMutual(c.air.Density, omega, wave, d)
	}
	scale := complex(c.air.Impedance()/area, 0)
	beside := c.rear.distance
	if !(beside > 0) {
		beside = 0
	}
	for m := 1; m < k.boxes; m++ {
		var z complex128
		for _, p := range k.fronts[m] {
			z += complex(p.weight, 0) * p.kernel.Impedance(wave)
		}
		w.ff[m] = scale * z
		d := float64(m) * k.pitch
		w.vv[m] = pointMutual(c.air.Density, omega, wave, d)
		w.fv[m] = pointMutual(c.air.Density, omega, wave, math.Hypot(beside, d))
	}
}

// assemble writes the equations of all boxes for 1 V. With P the outside
// pressure on a box's front, Σ ff·F + Σ fv·V,
//
//	(Z_own + Z_b) U + Z_in·F + P + Z_b·V = p_g
//	Z_b (U + V) + Z_v·V + Σ fv·F + Σ vv·V = 0
func (w *stackWork) assemble(p parts, h chamber) {
	n := w.stack.boxes
	own := p.own + h.airMass + p.box
	through := 1 + h.admittance*h.inner
	w.sys.clear()
	for i := range n {
		w.sys.b[i] = p.source
		w.sys.add(i, i, own*through+h.inner)
		for j := range n {
			m := max(i-j, j-i)
			w.sys.add(i, j, (1+h.admittance*own)*w.ff[m])
			if !w.stack.circuit.rear.present {
				continue
			}
			w.sys.add(i, n+j, (1+h.admittance*own)*w.fv[m])
			w.sys.add(n+i, j, p.box*h.admittance*w.ff[m]+w.fv[m])
			w.sys.add(n+i, n+j, p.box*h.admittance*w.fv[m]+w.vv[m])
		}
		if w.stack.circuit.rear.present {
			w.sys.add(i, n+i, p.box)
			w.sys.add(n+i, i, p.box*through)
			w.sys.add(n+i, n+i, p.box+p.vent)
		}
	}
}

// at solves the stack at one frequency.
func (w *stackWork) at(f, volts float64) (StackPoint, error) {
	c, n := w.stack.circuit, w.stack.boxes
	omega := 2 * math.Pi * f
	p, h := c.parts(omega), w.stack.chamber(omega)
	w.radiation(omega)
	w.assemble(p, h)
	if err := w.sys.solve(); err != nil {
		return StackPoint{}, err
	}
	copy(w.front, w.sys.b[:n])
	if c.rear.present {
		copy(w.vent, w.sys.b[n:])
	}
	out := StackPoint{Frequency: f, Smallest: math.Inf(1)}
	var net complex128
	for i := range n {
		net += w.box(i, p, h, &out)
	}
	power := volts * volts
	out.Radiated *= power
	out.Electrical *= power
	out.Lost *= power
	peak := math.Sqrt2 * volts / (omega * c.count * c.sd)
	out.Largest *= peak
	out.Smallest *= peak
	out.Axis = Level(volts * cmplx.Abs(net) * omega * c.air.Density / (2 * math.Pi))
	out.PowerLevel = powerLevel(out.Radiated, c.air.Impedance())
	return out, nil
}

// box adds box i's powers and excursion for 1 V to out and returns its net
// volume velocity.
func (w *stackWork) box(i int, p parts, h chamber, out *StackPoint) complex128 {
	c := w.stack.circuit
	var front, vent complex128 // outside pressures
	for j := range w.stack.boxes {
		m := max(i-j, j-i)
		front += w.ff[m]*w.front[j] + w.fv[m]*w.vent[j]
		vent += w.fv[m]*w.front[j] + w.vv[m]*w.vent[j]
	}
	cone := w.front[i]*(1+h.admittance*h.inner) + h.admittance*front
	inflow := cone + w.vent[i]
	volume := inflow * p.box / p.volume
	current := p.current(c, cone)

	out.Radiated += real(front*cmplx.Conj(w.front[i])) + real(vent*cmplx.Conj(w.vent[i]))
	if c.rear.present {
		out.Radiated += c.rearRadiation(2*math.Pi*out.Frequency) * square(w.vent[i])
	}
	out.Electrical += c.count * real(p.volts*cmplx.Conj(current))
	out.Lost += c.count*real(p.coil)*square(current) + c.resistance/(c.count*c.sd*c.sd)*square(cone) +
		c.box.absorption*square(volume) + c.box.leakAdmit*square(p.box*inflow) + c.rear.resistance*square(w.vent[i])
	size := cmplx.Abs(cone)
	out.Largest, out.Smallest = math.Max(out.Largest, size), math.Min(out.Smallest, size)
	return volume + w.front[i] - cone
}
