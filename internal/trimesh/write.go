package trimesh

import (
	"bufio"
	"encoding/binary"
	"fmt"
	"io"
	"math"
	"strconv"
)

// perMetre is the millimetres of a metre: files are in mm, as panel drawings are (common
// practice, no source; neither format states a unit).
const perMetre = 1000

// stlHeader is the length of the text that a binary STL file begins with.
const stlHeader = 80

// STL writes the surface as binary STL (3D Systems, StereoLithography Interface
// Specification, 1989): mm in single precision, little-endian, each triangle with its
// normal, counter-clockwise seen from the air. Groups are lost. The title is cut where it
// is longer than the header, and must not begin with "solid", which marks a text file.
func (m *Mesh) STL(w io.Writer, title string) error {
	out := bufio.NewWriter(w)
	var header [stlHeader]byte
	copy(header[:], title)
	out.Write(header[:]) // a writer's first error is Flush's
	var b [50]byte       // the last two bytes stay 0
	binary.LittleEndian.PutUint32(b[:], uint32(len(m.Triangles)))
	out.Write(b[:4])
	for t, c := range m.Triangles {
		list := [4]Vec{m.Normal(t), m.scaled(c[0]), m.scaled(c[1]), m.scaled(c[2])}
		for i, v := range list {
			for j, x := range v {
				binary.LittleEndian.PutUint32(b[12*i+4*j:], math.Float32bits(float32(x)))
			}
		}
		out.Write(b[:])
	}
	return out.Flush()
}

// scaled is a vertex in mm; −0 is 0.
func (m *Mesh) scaled(c int32) Vec {
	v := m.Vertices[c]
	for i := range v {
		v[i] = v[i]*perMetre + 0
	}
	return v
}

// OBJ writes the surface as Wavefront OBJ text: the vertices in mm to the nanometre, then
// the triangles of each group under its name, which must hold no spaces. Lines of the
// title must not hold line breaks.
func (m *Mesh) OBJ(w io.Writer, title string) error {
	out := bufio.NewWriter(w)
	fmt.Fprintf(out, "# %s\n# lengths in mm, x forward, y to the left, z up\n", title)
	var line []byte
	for c := range m.Vertices {
		line = append(line[:0], 'v')
		for _, x := range m.scaled(int32(c)) {
			line = strconv.AppendFloat(append(line, ' '), math.Round(x*1e6)/1e6+0, 'f', 6, 64)
		}
		out.Write(append(line, '\n'))
	}
	for g, name := range m.Groups {
		first := true
		for t, c := range m.Triangles {
			if m.Group[t] != int32(g) {
				continue
			}
			if first {
				fmt.Fprintf(out, "g %s\n", name)
				first = false
			}
			line = append(line[:0], 'f')
			for _, v := range c {
				line = strconv.AppendInt(append(line, ' '), int64(v)+1, 10)
			}
			out.Write(append(line, '\n'))
		}
	}
	return out.Flush()
}
