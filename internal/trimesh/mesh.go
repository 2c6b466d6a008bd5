// Package trimesh holds surfaces of flat triangles in space: what the wave level
// solves on, and what is written to files for other programs.
package trimesh

import "math"

// Vec is a point or a direction, m: x forward, y to the left, z up.
type Vec [3]float64

// Mesh is a surface of flat triangles. Its normals point into the air.
type Mesh struct {
	Vertices []Vec
	// Triangles are indices of Vertices, counter-clockwise as seen from the air.
	Triangles [][3]int32
	// Group of each triangle: an index of Groups.
	Group []int32
	// Groups are what the triangles belong to, in a fixed order.
	Groups []string
}

// Area is the area of triangle t in m².
func (m *Mesh) Area(t int) float64 {
	n := m.cross(t)
	return math.Sqrt(n[0]*n[0]+n[1]*n[1]+n[2]*n[2]) / 2
}

// Normal is the unit normal of triangle t, into the air.
func (m *Mesh) Normal(t int) Vec {
	n := m.cross(t)
	l := math.Sqrt(n[0]*n[0] + n[1]*n[1] + n[2]*n[2])
	return Vec{n[0] / l, n[1] / l, n[2] / l}
}

func (m *Mesh) cross(t int) Vec {
	a, b, c := m.Vertices[m.Triangles[t][0]], m.Vertices[m.Triangles[t][1]], m.Vertices[m.Triangles[t][2]]
	u := Vec{b[0] - a[0], b[1] - a[1], b[2] - a[2]}
	v := Vec{c[0] - a[0], c[1] - a[1], c[2] - a[2]}
	return Vec{u[1]*v[2] - u[2]*v[1], u[2]*v[0] - u[0]*v[2], u[0]*v[1] - u[1]*v[0]}
}
