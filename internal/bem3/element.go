package bem3

// element is a flat triangle with a quadratic pressure.
type element struct {
	corner [3]Vec
	normal Vec // into the air
	area   float64
	length float64 // of the longest side
	centre Vec
	radius float64 // from the centre to the farthest corner
	// curl of λ_m on the surface, n × ∇λ_m: the side opposite to corner m, turned
	// round, over twice the area.
	curl  [3]Vec
	nodes [points]int32
}

// newElement returns the element with the given corners, nodes left out.
func newElement(a, b, c Vec) element {
	e := element{corner: [3]Vec{a, b, c}}
	e.measure()
	return e
}

// measure sets what follows from the corners.
func (e *element) measure() {
	n := cross(sub(e.corner[1], e.corner[0]), sub(e.corner[2], e.corner[0]))
	twice := norm(n)
	e.area, e.normal = twice/2, scaled(n, 1/twice)
	e.centre = e.at(bary{1. / 3, 1. / 3, 1. / 3})
	for m := range 3 {
		side := sub(e.corner[(m+2)%3], e.corner[(m+1)%3])
		e.length = max(e.length, norm(side))
		e.radius = max(e.radius, norm(sub(e.corner[m], e.centre)))
		e.curl[m] = scaled(side, -1/twice)
	}
}

// at returns the point with barycentric coordinates b.
func (e *element) at(b bary) Vec {
	var x Vec
	for m, c := range e.corner {
		for i := range x {
			x[i] += b[m] * c[i]
		}
	}
	return x
}

// image is a reflection at none, one, two or three planes: x → sign·x + shift,
// coordinate by coordinate.
type image struct {
	sign, shift Vec
	det         float64 // product of the signs
}

func (im image) point(x Vec) Vec {
	for i := range x {
		x[i] = im.sign[i]*x[i] + im.shift[i]
	}
	return x
}

func (im image) direction(d Vec) Vec {
	for i := range d {
		d[i] *= im.sign[i]
	}
	return d
}

// reflected returns the image of e. Corners and nodes keep their order, so the
// normal is the image of the normal, not what the order of the corners says, and
// the curl n × ∇λ carries the determinant of the reflection.
func (e *element) reflected(im image) element {
	r := *e
	for m := range r.corner {
		r.corner[m] = im.point(e.corner[m])
		r.curl[m] = scaled(im.direction(e.curl[m]), im.det)
	}
	r.centre = im.point(e.centre)
	r.normal = im.direction(e.normal)
	return r
}

// gap returns how far the surroundings of a and b, spheres about their centres,
// are apart, in lengths of the longer one; negative when they overlap.
func gap(a, b *element) float64 {
	d := norm(sub(a.centre, b.centre))
	return (d - a.radius - b.radius) / max(a.length, b.length)
}
