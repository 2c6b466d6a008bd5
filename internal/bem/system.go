package bem

import (
	"errors"
	"fmt"
	"math"
)

// ErrTooLarge says that a frequency needs more memory than allowed.
var ErrTooLarge = errors.New("problem is too large")

// system is a problem meshed for one frequency: the unknowns are the pressure
// at every node and, at the nodes of joints, the normal derivative divided by
// k as the joint's first side sees it.
type system struct {
	*prepared
	f, k  float64
	omega float64
	opts  Options
	mesh  *mesh
	views []view // one per domain
	size  int    // number of unknowns
}

// view is a domain's part of the mesh.
type view struct {
	domain int
	medium medium
	pieces []piece
	sides  []sideRange
	src    sources
	p      []int        // unknown that is the pressure at each node
	q      []int        // unknown for q, or -1 on walls
	slope  []complex128 // q = slope × (that unknown, or p on walls) + given
	given  []complex128
	row    []int // equation collocated at each node
}

// sideRange says which nodes of a view belong to an edge.
type sideRange struct {
	name        string
	first, last int
}

// Unknowns returns the number of unknowns at frequency f and the bytes that
// solving takes, without solving.
func (p *Problem) Unknowns(f float64, opts Options) (unknowns int, bytes int64, err error) {
	pp, err := p.prepare()
	if err != nil {
		return 0, 0, err
	}
	o := opts.withDefaults()
	if err := pp.checkFrequency(f, o); err != nil {
		return 0, 0, err
	}
	n := pp.count(f, o)
	return n, memory(n), nil
}

// memory is the matrix and what the solver needs beside it, for n unknowns.
func memory(n int) int64 { return 16*int64(n)*int64(n) + 3000*int64(n) }

// count returns the number of unknowns without making the mesh.
func (pp *prepared) count(f float64, o Options) int {
	total := 0
	for i := range pp.sides {
		// Each joint has two sides in the list and two unknowns a node.
		total += o.Order * (len(pp.elements(&pp.sides[i], f, o)) - 1)
	}
	return total
}

// elementSize is the longest element allowed at frequency f, m.
func (pp *prepared) elementSize(f float64, o Options) float64 {
	return float64(o.Order) * pp.SoundSpeed / f / o.NodesPerWave
}

// maxSmallest bounds how many elements checkFrequency will count one by one.
const maxSmallest = 1e7

// checkFrequency refuses frequencies that make no sense or need too much
// memory, naming the amount.
func (pp *prepared) checkFrequency(f float64, o Options) error {
	if !(f > 0) || math.IsInf(f, 0) {
		return fmt.Errorf("frequency %g Hz must be a positive number", f)
	}
	if o.Order < 2 || o.Order > 8 {
		return fmt.Errorf("%d nodes per element: must be 2 to 8", o.Order)
	}
	if !(o.NodesPerWave >= 2) {
		return fmt.Errorf("%g nodes per wavelength: must be at least 2", o.NodesPerWave)
	}
	length := 0.0
	for _, s := range pp.sides {
		length += newLengths(s.edge.Curve).total()
	}
	nodes := length / pp.elementSize(f, o) * float64(o.Order) * math.Exp2(float64(o.Halvings))
	bytes := 16 * nodes * nodes
	if nodes < maxSmallest {
		n := pp.count(f, o)
		nodes, bytes = float64(n), float64(memory(n))
	}
	if bytes > float64(o.MaxMemory) {
		return fmt.Errorf("%w: %g Hz needs %.0f unknowns and %.3g GB, more than the %.3g GB allowed",
			ErrTooLarge, f, nodes, bytes/1e9, float64(o.MaxMemory)/1e9)
	}
	return nil
}

// discretise meshes every side and lays out unknowns and equations.
func (pp *prepared) discretise(f float64, o Options, r *rule) *system {
	s := &system{prepared: pp, f: f, opts: o, omega: 2 * math.Pi * f, mesh: &mesh{rule: r}}
	s.k = s.omega / pp.SoundSpeed
	ranges := make([][2]int, len(pp.sides))
	for i, sd := range pp.sides {
		if sd.second {
			ranges[i] = ranges[pp.joints[sd.joint][0]]
			continue
		}
		ranges[i][0], ranges[i][1] = s.mesh.addCurve(sd.edge.Curve, pp.elements(&sd, f, o))
	}
	nodes := len(s.mesh.x)
	s.size = nodes
	offset := make([]int, len(pp.joints)) // unknown of a joint's q = node + offset
	for j, sides := range pp.joints {
		e := ranges[sides[0]]
		first := s.mesh.elements[e[0]].first
		offset[j] = s.size - first
		s.size += (e[1] - e[0]) * r.p
	}
	s.views = make([]view, len(pp.Domains))
	for d := range s.views {
		s.views[d] = view{domain: d, medium: s.newMedium(d)}
	}
	for i, sd := range pp.sides {
		v := &s.views[sd.domain]
		first := len(v.p)
		for e := ranges[i][0]; e < ranges[i][1]; e++ {
			s.addPiece(v, &sd, &s.mesh.elements[e], offset)
		}
		v.sides = append(v.sides, sideRange{sd.edge.Name, first, len(v.p)})
	}
	return s
}

// coupling is ηk. Any value makes the solution unique. The customary 1 gives
// the best condition but lets in most of the error of the hypersingular
// integral on discontinuous elements: on a rigid cylinder at ka = 10 with 8
// nodes per wavelength the largest error is 0.44 % at 1, 0.21 % at 0.25 and
// 0.09 % at 0.1, at inside resonances as elsewhere. A quarter still absorbs 64 %
// of the power of an inside mode at each reflection.
const coupling = 0.25

// newMedium sets the combined equation's factor η in exterior domains, no more
// than the size of the geometry at low frequency, so that the static part does
// not drown the rest.
func (s *system) newMedium(d int) medium {
	m := medium{k: s.k}
	if s.Domains[d].Exterior {
		m.eta = coupling / math.Max(s.k, 1/s.extent)
	}
	return m
}

// addPiece appends one element to a domain's view.
func (s *system) addPiece(v *view, sd *side, e *element, offset []int) {
	pc := piece{element: e, sign: sd.sign, first: len(v.p)}
	for i := range s.mesh.rule.p {
		node := e.first + i
		x, n := s.mesh.x[node], s.mesh.n[node].Scale(sd.sign)
		v.src.x, v.src.y = append(v.src.x, x.X), append(v.src.y, x.Y)
		v.src.nx, v.src.ny = append(v.src.nx, n.X), append(v.src.ny, n.Y)
		v.src.w = append(v.src.w, s.mesh.w[node])
		v.p = append(v.p, node)
		q, slope, given, row := -1, complex128(0), complex128(0), node
		if sd.joint >= 0 {
			q, slope = node+offset[sd.joint], complex(s.k, 0)
			if sd.second {
				row = q
				slope *= complex(-s.thicknessRatio(sd.joint), 0)
			}
		} else {
			slope, given = s.wall(sd.edge.Wall, x, n)
		}
		pc.full = pc.full || slope != 0 || given != 0
		v.q, v.row = append(v.q, q), append(v.row, row)
		v.slope, v.given = append(v.slope, slope), append(v.given, given)
	}
	v.pieces = append(v.pieces, pc)
}

// wall returns the factor and the given part of q = slope·p + given.
func (s *system) wall(w Wall, x, n Point) (slope, given complex128) {
	if w.Velocity != nil {
		given = complex(0, s.omega*s.Density) * w.Velocity(s.f, x, n)
	}
	if w.Admittance != nil {
		slope = complex(0, -s.k) * w.Admittance(s.f)
	}
	return slope, given
}

// domain returns the index of the named domain.
func (s *system) domain(name string) (int, error) {
	for i := range s.Domains {
		if s.Domains[i].Name == name {
			return i, nil
		}
	}
	return 0, fmt.Errorf("there is no domain %q", name)
}

// thicknessRatio returns the layer thickness of a joint's first side over that
// of its second.
func (s *system) thicknessRatio(joint int) float64 {
	t := [2]float64{}
	for i, sd := range s.joints[joint] {
		t[i] = s.Domains[s.sides[sd].domain].Thickness
		if t[i] == 0 {
			t[i] = 1
		}
	}
	return t[0] / t[1]
}
