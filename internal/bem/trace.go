package bem

import (
	"fmt"
	"math/cmplx"
)

// Trace is the field along the edges of one name, at the nodes.
type Trace struct {
	At, Normal []Point      // normals point out of the fluid
	Weight     []float64    // length that each node stands for, m
	Pressure   []complex128 // Pa
	Velocity   []complex128 // normal velocity into the fluid, m/s
}

// Trace returns the field along the edges called name of a domain, in the
// order of its outlines.
func (s *Solution) Trace(domain, name string) (*Trace, error) {
	d, err := s.system.domain(domain)
	if err != nil {
		return nil, err
	}
	v := &s.system.views[d]
	t := &Trace{}
	toVelocity := 1 / complex(0, s.system.omega*s.system.Density)
	for _, r := range v.sides {
		if r.name != name {
			continue
		}
		for i := r.first; i < r.last; i++ {
			t.At = append(t.At, v.src.at(i))
			t.Normal = append(t.Normal, v.src.normal(i))
			t.Weight = append(t.Weight, v.src.w[i])
			t.Pressure = append(t.Pressure, s.p[d][i])
			t.Velocity = append(t.Velocity, s.q[d][i]*toVelocity)
		}
	}
	if len(t.At) == 0 {
		return nil, fmt.Errorf("domain %q has no edge %q", domain, name)
	}
	return t, nil
}

// Length returns the length of the edges, m.
func (t *Trace) Length() float64 {
	sum := 0.0
	for _, w := range t.Weight {
		sum += w
	}
	return sum
}

// MeanPressure returns the pressure averaged along the edges, Pa.
func (t *Trace) MeanPressure() complex128 {
	sum := complex128(0)
	for i, p := range t.Pressure {
		sum += p * complex(t.Weight[i], 0)
	}
	return sum / complex(t.Length(), 0)
}

// Flow returns the volume flow into the fluid per metre of height, m²/s.
func (t *Trace) Flow() complex128 {
	sum := complex128(0)
	for i, v := range t.Velocity {
		sum += v * complex(t.Weight[i], 0)
	}
	return sum
}

// Power returns the mean power given to the fluid per metre of height, W/m,
// with pressure and velocity as peak values: ½ ∫ Re(p v*) dl.
func (t *Trace) Power() float64 {
	sum := 0.0
	for i, p := range t.Pressure {
		sum += real(p*cmplx.Conj(t.Velocity[i])) * t.Weight[i] / 2
	}
	return sum
}

// Along returns n points evenly spaced along the edges called name of a domain,
// the first and the last half a step from the ends, and the pressure there,
// from the elements' own polynomials.
func (s *Solution) Along(domain, name string, n int) ([]Point, []complex128, error) {
	tr, err := s.Trace(domain, name)
	if err != nil {
		return nil, nil, err
	}
	d, _ := s.system.domain(domain)
	v := &s.system.views[d]
	points, pressure := make([]Point, 0, n), make([]complex128, 0, n)
	basis := make([]float64, s.system.mesh.rule.p)
	step, passed := tr.Length()/float64(n), 0.0
	for _, i := range v.piecesOf(name) {
		e := &v.pieces[i]
		for len(points) < n {
			at := (float64(len(points))+0.5)*step - passed
			if at > e.length {
				break
			}
			t := 2*at/e.length - 1
			x, _, _ := e.at(t)
			s.system.mesh.rule.basis(t, basis)
			sum := complex128(0)
			for j, b := range basis {
				sum += s.p[d][e.first+j] * complex(b, 0)
			}
			points, pressure = append(points, x), append(pressure, sum)
		}
		passed += e.length
	}
	return points, pressure, nil
}

// piecesOf lists the pieces of the edges called name, in the order and
// direction of their curves.
func (v *view) piecesOf(name string) []int {
	var list []int
	for _, r := range v.sides {
		if r.name != name {
			continue
		}
		for i := range v.pieces {
			if f := v.pieces[i].first; f >= r.first && f < r.last {
				list = append(list, i)
			}
		}
	}
	return list
}
