package trimesh

import (
	"math"
	"testing"
)

// tetrahedron has the corners 0, x, y and z.
func tetrahedron() *Mesh {
	return &Mesh{
		Vertices:  []Vec{{0, 0, 0}, {1, 0, 0}, {0, 2, 0}, {0, 0, 3}},
		Triangles: [][3]int32{{0, 2, 1}, {0, 1, 3}, {0, 3, 2}, {1, 2, 3}},
		Group:     []int32{0, 0, 0, 1}, Groups: []string{"wall", "slope"},
	}
}

func TestMeasures(t *testing.T) {
	m := tetrahedron()
	if v := m.Volume(); math.Abs(v-1) > 1e-15 {
		t.Errorf("volume %g, want 1", v)
	}
	if a := m.LeastAngle(0); math.Abs(a-math.Atan2(1, 2)) > 1e-15 {
		t.Errorf("least angle %g", a)
	}
	if l := m.LongestEdge(3); math.Abs(l-math.Sqrt(13)) > 1e-15 {
		t.Errorf("longest edge %g", l)
	}
}

// A tetrahedron is closed; without its face in x = 0 it is closed but on that plane; with a
// face turned over it is not.
func TestClosed(t *testing.T) {
	m := tetrahedron()
	if err := m.Closed(); err != nil {
		t.Error(err)
	}
	m.Triangles[0] = [3]int32{0, 1, 2}
	if m.Closed() == nil {
		t.Error("turned over: closed")
	}
	m = tetrahedron()
	m.Triangles = append(m.Triangles[:2:2], m.Triangles[3])
	if m.Closed() == nil || m.Closed(1) == nil {
		t.Error("without a face: closed")
	}
	if err := m.Closed(0); err != nil {
		t.Error(err)
	}
	if v := m.Volume(); math.Abs(v-1) > 1e-15 {
		t.Errorf("part on one side of a plane: %g, want 1", v)
	}
}
