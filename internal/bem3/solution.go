package bem3

// Solution is the field at one frequency, of every drive.
type Solution struct {
	Frequency float64 // Hz
	Unknowns  int
	Steps     int     // of the iteration; 0 when solved by factors alone
	Seconds   float64 // that solving took by the clock: not the same from run to run
	system    *system
	p         [][]complex128         // [drive][node]
	q         [][][points]complex128 // normal derivative, [drive][driven element][point]
}

// Nodes returns where the surface pressure is given: the corners of the
// triangles and the midpoints of their sides.
func (s *Solution) Nodes() []Vec { return s.system.nodes }

// TriangleNodes returns the nodes of triangle t of the mesh: its corners in
// their order, then the midpoints of the sides opposite to them.
func (s *Solution) TriangleNodes(t int) [points]int32 {
	return s.system.elements[s.system.position[t]].nodes
}

// Pressure returns the pressure of a drive at the nodes, Pa.
func (s *Solution) Pressure(drive int) []complex128 { return s.p[drive] }

// Force returns the sum over the triangles of weight times the integral of a
// drive's pressure, N for weights without a unit. With the normal velocities of
// drive i per unit of its own velocity as weights, the force of drive j's unit
// velocity is the radiation impedance Z_ij, N·s/m.
func (s *Solution) Force(drive int, weights []float64) complex128 {
	sum := complex128(0)
	for t, w := range weights {
		if w != 0 {
			sum += complex(w, 0) * s.integral(drive, t)
		}
	}
	return sum
}

// Mean returns the mean pressure of a drive, Pa, weighted with the volume
// velocities that the given normal velocities of the triangles make: Force over
// the sum of weight times area. It is NaN where nothing moves.
func (s *Solution) Mean(drive int, weights []float64) complex128 {
	flow := 0.0
	for t, w := range weights {
		flow += w * s.system.elements[s.system.position[t]].area
	}
	return s.Force(drive, weights) / complex(flow, 0)
}

// integral returns the integral of the pressure over triangle t, N.
func (s *Solution) integral(drive, t int) complex128 {
	e := &s.system.elements[s.system.position[t]]
	sum := complex128(0)
	for i, node := range e.nodes {
		sum += complex(meanOf[i], 0) * s.p[drive][node]
	}
	return complex(e.area, 0) * sum
}

// Power returns the power that the mesh radiates with a drive, W: half the real
// part of pressure times conjugate velocity. What images radiate is left out.
func (s *Solution) Power(drive int) float64 {
	sum := 0.0
	velocity := complex(0, 1/(s.system.omega*s.system.problem.Density)) // from the slope
	for i, at := range s.system.list {
		e := &s.system.elements[at]
		for a, q := range s.q[drive][i] {
			v := velocity * q
			p := complex128(0)
			for j, node := range e.nodes {
				p += complex(shapeAt[a][j], 0) * s.p[drive][node]
			}
			sum += e.area * ruleWeights[a] * (real(p)*real(v) + imag(p)*imag(v))
		}
	}
	return sum / 2
}
