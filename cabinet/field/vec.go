package field

import "math"

// Vec is a position or direction in m.
type Vec struct{ X, Y, Z float64 }

// Add returns v + w.
func (v Vec) Add(w Vec) Vec { return Vec{v.X + w.X, v.Y + w.Y, v.Z + w.Z} }

// Sub returns v − w.
func (v Vec) Sub(w Vec) Vec { return Vec{v.X - w.X, v.Y - w.Y, v.Z - w.Z} }

// Scale returns s·v.
func (v Vec) Scale(s float64) Vec { return Vec{s * v.X, s * v.Y, s * v.Z} }

// Dot returns the scalar product.
func (v Vec) Dot(w Vec) float64 { return v.X*w.X + v.Y*w.Y + v.Z*w.Z }

// Cross returns the vector product v × w.
func (v Vec) Cross(w Vec) Vec {
	return Vec{v.Y*w.Z - v.Z*w.Y, v.Z*w.X - v.X*w.Z, v.X*w.Y - v.Y*w.X}
}

// Norm returns the length of v.
func (v Vec) Norm() float64 { return math.Sqrt(v.Dot(v)) }

func (v Vec) finite() bool {
	s := v.X + v.Y + v.Z
	return !math.IsNaN(s) && !math.IsInf(s, 0)
}

// frame is an orthonormal set of axes: forward, left and up.
type frame struct{ forward, left, up Vec }

// worldFrame looks along X.
var worldFrame = frame{Vec{X: 1}, Vec{Y: 1}, Vec{Z: 1}}

// down returns the frame turned downwards by angle rad about its own left axis.
func (f frame) down(angle float64) frame {
	s, c := math.Sincos(angle)
	return frame{
		forward: f.forward.Scale(c).Sub(f.up.Scale(s)),
		left:    f.left,
		up:      f.up.Scale(c).Add(f.forward.Scale(s)),
	}
}

// pan returns the frame turned to its left by angle rad about its own up axis.
func (f frame) pan(angle float64) frame {
	s, c := math.Sincos(angle)
	return frame{
		forward: f.forward.Scale(c).Add(f.left.Scale(s)),
		left:    f.left.Scale(c).Sub(f.forward.Scale(s)),
		up:      f.up,
	}
}

// at returns the world vector of local coordinates.
func (f frame) at(v Vec) Vec {
	return f.forward.Scale(v.X).Add(f.left.Scale(v.Y)).Add(f.up.Scale(v.Z))
}

// local returns the coordinates of a world vector in the frame.
func (f frame) local(v Vec) Vec {
	return Vec{v.Dot(f.forward), v.Dot(f.left), v.Dot(f.up)}
}
