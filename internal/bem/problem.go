package bem

import "math"

// Problem is a set of domains that share one medium.
type Problem struct {
	SoundSpeed float64 // c, m/s
	Density    float64 // ρ, kg/m³
	Mirror     Mirror
	Domains    []Domain
}

// Mirror names the rigid planes of symmetry. With X set all geometry lies at
// x >= 0 and is repeated at x <= 0; likewise Y.
type Mirror struct{ X, Y bool }

// Domain is a connected region of air.
type Domain struct {
	Name string
	// Exterior says that the domain is everything outside its outlines.
	Exterior bool
	// Thickness is the height of the layer that the domain describes, in any
	// unit; flow across a joint is velocity times thickness. 0 means 1.
	Thickness float64
	// Outlines are chains of edges, each beginning where the one before ends.
	// A chain is closed, or runs from mirror plane to mirror plane. Direction
	// does not matter.
	Outlines [][]Edge
	Sources  []LineSource
}

// Edge is a smooth piece of an outline.
type Edge struct {
	Name  string // for results and messages; may be shared by several edges
	Curve Curve
	Flip  bool // the outline runs along the curve from t = 1 to t = 0
	Wall  Wall
	// Join, when not empty, makes the edge a joint: exactly one other edge, in
	// another domain, has the same Join and the same curve. Wall is then unused.
	Join string
}

// Wall is the condition on an edge. The zero value is a rigid wall.
type Wall struct {
	// Velocity is the normal velocity into the fluid that the wall would have
	// without sound pressure on it, m/s, at frequency f, a point of the wall
	// and the normal there, which points out of the fluid. nil means none.
	Velocity func(f float64, at, normal Point) complex128
	// Admittance is 1/ζ = ρc/Z at frequency f. nil means rigid.
	Admittance func(f float64) complex128
}

// Uniform returns a wall that moves with velocity v, m/s, all over.
func Uniform(v complex128) Wall {
	return Wall{Velocity: func(float64, Point, Point) complex128 { return v }}
}

// Matched returns a wall of impedance ρc, which swallows a plane wave that
// meets it squarely.
func Matched() Wall {
	return Wall{Admittance: func(float64) complex128 { return 1 }}
}

// LineSource is a line perpendicular to the plane that gives off Flow, m²/s. One
// on a mirror plane coincides with its image and gives off Flow on either side
// of the plane.
type LineSource struct {
	At   Point
	Flow complex128
}

// Field returns the pressure of the source and its gradient at x in free
// space, p = ωρQ H0⁽²⁾(kr)/4 (P. M. Morse, K. U. Ingard, Theoretical
// Acoustics, 1968, eq. 7.3.15).
func (s LineSource) Field(f, soundSpeed, density float64, x Point) (p complex128, gradient [2]complex128) {
	omega := 2 * math.Pi * f
	k := omega / soundSpeed
	d := x.Sub(s.At)
	r := d.Norm()
	amplitude := s.Flow * complex(omega*density/4, 0)
	p = amplitude * complex(math.J0(k*r), -math.Y0(k*r))
	slope := amplitude * complex(-k*math.J1(k*r)/r, k*math.Y1(k*r)/r)
	return p, [2]complex128{slope * complex(d.X, 0), slope * complex(d.Y, 0)}
}

// images returns x and its mirror images, with the normal n mirrored likewise.
func (m Mirror) images(x, n Point) [][2]Point {
	list := [][2]Point{{x, n}}
	if m.X {
		list = append(list, [2]Point{{-x.X, x.Y}, {-n.X, n.Y}})
	}
	if m.Y {
		for _, v := range list {
			list = append(list, [2]Point{{v[0].X, -v[0].Y}, {v[1].X, -v[1].Y}})
		}
	}
	return list
}
