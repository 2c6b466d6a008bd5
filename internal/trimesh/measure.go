package trimesh

import (
	"fmt"
	"math"
)

// Volume is what the surface encloses, m³, by the divergence theorem. Of a part on the
// positive side of mirror planes through the origin it is that part's, for the planes cut
// off nothing of the sum.
func (m *Mesh) Volume() float64 {
	sum := 0.0
	for _, t := range m.Triangles {
		a, b, c := m.Vertices[t[0]], m.Vertices[t[1]], m.Vertices[t[2]]
		sum += a[0]*(b[1]*c[2]-b[2]*c[1]) + a[1]*(b[2]*c[0]-b[0]*c[2]) + a[2]*(b[0]*c[1]-b[1]*c[0])
	}
	return sum / 6
}

// Closed returns an error unless every edge belongs to two triangles that run along it in
// opposite directions. An edge of one triangle alone may lie in a plane where coordinate
// axis is 0, for each axis in planes.
func (m *Mesh) Closed(planes ...int) error {
	count := make(map[[2]int32]int, 3*len(m.Triangles))
	for _, t := range m.Triangles {
		for i := range t {
			count[[2]int32{t[i], t[(i+1)%3]}]++
		}
	}
	for t, c := range m.Triangles {
		for i := range c {
			a, b := c[i], c[(i+1)%3]
			switch back := count[[2]int32{b, a}]; {
			case count[[2]int32{a, b}] != 1 || back > 1:
				return fmt.Errorf("triangle %d: %d triangles run along its edge %d, and %d against it", t, count[[2]int32{a, b}], i, back)
			case back == 0 && !m.inPlane(a, b, planes):
				return fmt.Errorf("triangle %d: its edge %d from %v to %v is open", t, i, m.Vertices[a], m.Vertices[b])
			}
		}
	}
	return nil
}

func (m *Mesh) inPlane(a, b int32, planes []int) bool {
	for _, p := range planes {
		if m.Vertices[a][p] == 0 && m.Vertices[b][p] == 0 {
			return true
		}
	}
	return false
}

// LeastAngle is the smallest angle of triangle t, rad.
func (m *Mesh) LeastAngle(t int) float64 {
	area := m.Area(t)
	var l [3]float64 // of the edges opposite the corners
	for i := range l {
		a, b := m.Vertices[m.Triangles[t][(i+1)%3]], m.Vertices[m.Triangles[t][(i+2)%3]]
		l[i] = math.Sqrt((b[0]-a[0])*(b[0]-a[0]) + (b[1]-a[1])*(b[1]-a[1]) + (b[2]-a[2])*(b[2]-a[2]))
	}
	least := math.Inf(1)
	for i := range l {
		b, c := l[(i+1)%3], l[(i+2)%3]
		least = math.Min(least, math.Atan2(2*area, (b*b+c*c-l[i]*l[i])/2))
	}
	return least
}

// LongestEdge is that of triangle t, m.
func (m *Mesh) LongestEdge(t int) float64 {
	long := 0.0
	for i := range 3 {
		a, b := m.Vertices[m.Triangles[t][i]], m.Vertices[m.Triangles[t][(i+1)%3]]
		long = math.Max(long, math.Sqrt((b[0]-a[0])*(b[0]-a[0])+(b[1]-a[1])*(b[1]-a[1])+(b[2]-a[2])*(b[2]-a[2])))
	}
	return long
}
