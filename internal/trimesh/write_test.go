package trimesh

import (
	"bytes"
	"encoding/binary"
	"errors"
	"math"
	"testing"
)

// The file of a tetrahedron, byte by byte where it matters: its header, the count, the
// first triangle with its normal.
func TestSTL(t *testing.T) {
	var b bytes.Buffer
	if err := tetrahedron().STL(&b, "a tetrahedron"); err != nil {
		t.Fatal(err)
	}
	if b.Len() != 80+4+4*50 || binary.LittleEndian.Uint32(b.Bytes()[80:]) != 4 || !bytes.HasPrefix(b.Bytes(), []byte("a tetrahedron\x00")) {
		t.Fatalf("%d bytes: %q", b.Len(), b.Bytes()[:84])
	}
	want := []float32{0, 0, -1, 0, 0, 0, 0, 2000, 0, 1000, 0, 0}
	for i, w := range want {
		bits := binary.LittleEndian.Uint32(b.Bytes()[84+4*i:])
		if got := math.Float32frombits(bits); got != w || bits == 1<<31 {
			t.Errorf("number %d: %g, want %g", i, got, w)
		}
	}
}

func TestOBJ(t *testing.T) {
	var b bytes.Buffer
	m := tetrahedron()
	m.Vertices[1][1] = math.Copysign(1e-13, -1)
	m.Groups = append(m.Groups, "empty")
	if err := m.OBJ(&b, "a tetrahedron"); err != nil {
		t.Fatal(err)
	}
	want := `# a tetrahedron
# lengths in mm, x forward, y to the left, z up
v 0.000000 0.000000 0.000000
v 1000.000000 0.000000 0.000000
v 0.000000 2000.000000 0.000000
v 0.000000 0.000000 3000.000000
g wall
f 1 3 2
f 1 2 4
f 1 4 3
g slope
f 2 3 4
`
	if b.String() != want {
		t.Errorf("got\n%s", b.String())
	}
}

type full struct{}

func (full) Write([]byte) (int, error) { return 0, errors.New("full") }

func TestErrorsOfTheWriter(t *testing.T) {
	m := tetrahedron()
	if m.STL(full{}, "") == nil || m.OBJ(full{}, "") == nil {
		t.Error("a full disk is no error")
	}
}
