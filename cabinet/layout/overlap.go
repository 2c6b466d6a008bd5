package layout

// overlap reports whether two solids share room. It looks for the origin in the
// difference of both by growing simplices (Gilbert, Johnson & Keerthi, IEEE J. Robotics
// Automat. 4, 1988, in the form that only answers yes or no).
func overlap(a, b *Solid) bool {
	s := simplex{}
	d := Vec{X: 1}
	s.push(difference(a, b, d))
	d = s.p[0].Scale(-1)
	for range mostSteps {
		if d == (Vec{}) {
			return true
		}
		p := difference(a, b, d)
		if p.Dot(d) <= 0 {
			return false // everything lies on one side of a plane through the origin
		}
		s.push(p)
		var inside bool
		if d, inside = s.reduce(); inside {
			return true
		}
	}
	return false
}

// mostSteps ends the search where rounding keeps it from ending: such bodies only touch.
const mostSteps = 200

func difference(a, b *Solid, d Vec) Vec { return a.support(d).Sub(b.support(d.Scale(-1))) }

// simplex is up to four points of the difference, the newest first.
type simplex struct {
	p [4]Vec
	n int
}

func (s *simplex) push(p Vec) {
	copy(s.p[1:], s.p[:3])
	s.p[0] = p
	s.n++
}

func (s *simplex) set(points ...Vec) { s.n = copy(s.p[:], points) }

// reduce keeps the part of the simplex nearest to the origin and returns the direction from
// it to the origin; inside means that the simplex holds the origin.
func (s *simplex) reduce() (d Vec, inside bool) {
	switch s.n {
	case 2:
		return s.line(), false
	case 3:
		return s.triangle(), false
	}
	return s.tetrahedron()
}

func (s *simplex) line() Vec {
	a, b := s.p[0], s.p[1]
	ab, ao := b.Sub(a), a.Scale(-1)
	if ab.Dot(ao) > 0 {
		return across(ab, ao)
	}
	s.set(a)
	return ao
}

// across is the part of v square to u; with v along u any direction square to u.
func across(u, v Vec) Vec {
	d := u.Cross(v).Cross(u)
	if d.Norm() > 1e-14*u.Dot(u)*v.Norm() {
		return d
	}
	for _, e := range []Vec{{X: 1}, {Y: 1}, {Z: 1}} {
		if c := u.Cross(e); c.Norm() > 0.3*u.Norm() {
			return c
		}
	}
	return Vec{}
}

func (s *simplex) triangle() Vec {
	a, b, c := s.p[0], s.p[1], s.p[2]
	ab, ac, ao := b.Sub(a), c.Sub(a), a.Scale(-1)
	n := ab.Cross(ac)
	if n.Cross(ac).Dot(ao) > 0 {
		if ac.Dot(ao) > 0 {
			s.set(a, c)
			return across(ac, ao)
		}
		s.set(a, b)
		return s.line()
	}
	if ab.Cross(n).Dot(ao) > 0 {
		s.set(a, b)
		return s.line()
	}
	if n.Dot(ao) > 0 {
		return n
	}
	s.set(a, c, b)
	return n.Scale(-1)
}

func (s *simplex) tetrahedron() (Vec, bool) {
	a, b, c, d := s.p[0], s.p[1], s.p[2], s.p[3]
	ab, ac, ad, ao := b.Sub(a), c.Sub(a), d.Sub(a), a.Scale(-1)
	switch {
	case ab.Cross(ac).Dot(ao) > 0:
		s.set(a, b, c)
	case ac.Cross(ad).Dot(ao) > 0:
		s.set(a, c, d)
	case ad.Cross(ab).Dot(ao) > 0:
		s.set(a, d, b)
	default:
		return Vec{}, true
	}
	return s.triangle(), false
}
