package outside

import (
	"context"
	"math"
	"math/bits"
	"math/cmplx"

	"gapline/cabinet/layout"
	"gapline/internal/bem3"
	"gapline/internal/trimesh"
)

// Look says what is kept of one of the frequencies for pictures.
type Look struct {
	Frequency float64 // Hz; 0: nothing is
	Skin      bool    // the pressure on the surface
	Slice     Slice   // the pressure in a plane through the air
}

// Slice is a plane through the middle of a box or stack.
type Slice uint8

// The planes.
const (
	NoSlice      Slice = iota
	UprightSlice       // y = 0: columns forward, rows up
	LevelSlice         // at the height of the middle: columns to the right as seen from behind, rows forward
)

// place is the point of a column and a row, of a level plane at a height in m.
func (s Slice) place(column, row, height float64) layout.Vec {
	if s == LevelSlice {
		return layout.Vec{X: row, Y: -column, Z: height}
	}
	return layout.Vec{X: column, Z: row}
}

// of is the column and row of a point.
func (s Slice) of(v trimesh.Vec) [2]float64 {
	if s == LevelSlice {
		return [2]float64{-v[1], v[0]}
	}
	return [2]float64{v[0], v[2]}
}

// normal is the axis that the plane stands across.
func (s Slice) normal() int {
	if s == LevelSlice {
		return 2
	}
	return 1
}

// Skin is the pressure on the whole surface.
type Skin struct {
	Vertices  []trimesh.Vec // m
	Triangles [][3]int32
	Pressure  []complex128    // at the vertices, Pa rms
	Edges     [][]trimesh.Vec // of the body and of what moves, as connected lines
}

// Field is the pressure in a plane.
type Field struct {
	Columns, Rows []float64      // m, ascending
	Pressure      [][]complex128 // [row][column], Pa rms; NaN inside the solid
	Bodies        [][][2]float64 // closed lines round the solid (columns, rows), holes the other way round
}

// finer is in how many pieces each side of an element is cut, so that flat triangles show the
// quadratic pressure on a third of a wavelength; creased is the angle from which an edge shows.
const (
	finer   = 4
	creased = 25 * math.Pi / 180
)

// skin reads the pressure off the surface.
func (j *job) skin(s *bem3.Solution, weights []complex128) *Skin {
	fields := make([][]complex128, len(weights))
	for i := range fields {
		fields[i] = s.Pressure(i)
	}
	nodes := combine(fields, weights)
	whole := j.surface.Unfold()
	out := &Skin{Edges: whole.Creases(creased)}
	n := len(j.surface.Triangles)
	for t, corners := range whole.Triangles {
		list := s.TriangleNodes(t % n)
		if bits.OnesCount(uint(t/n))%2 == 1 { // an image, whose corners run the other way round
			list[1], list[2], list[4], list[5] = list[2], list[1], list[5], list[4]
		}
		var p [6]complex128
		for i, node := range list {
			p[i] = nodes[node]
		}
		out.add(whole.Vertices[corners[0]], whole.Vertices[corners[1]], whole.Vertices[corners[2]], &p)
	}
	return out
}

// add cuts an element, p the pressure at its corners and then in the middle of the sides
// opposite to them.
func (s *Skin) add(a, b, c trimesh.Vec, p *[6]complex128) {
	first := int32(len(s.Vertices))
	row := func(i int) int32 { return first + int32(i*(2*finer+3-i)/2) } // first vertex of a row
	for i := range finer + 1 {
		for k := range finer + 1 - i {
			v, w := float64(k)/finer, float64(i)/finer
			u := 1 - v - w
			var at trimesh.Vec
			for x := range at {
				at[x] = u*a[x] + v*b[x] + w*c[x]
			}
			s.Vertices = append(s.Vertices, at)
			s.Pressure = append(s.Pressure, complex(u*(2*u-1), 0)*p[0]+complex(v*(2*v-1), 0)*p[1]+complex(w*(2*w-1), 0)*p[2]+
				complex(4*v*w, 0)*p[3]+complex(4*w*u, 0)*p[4]+complex(4*u*v, 0)*p[5])
			if k < finer-i {
				s.Triangles = append(s.Triangles, [3]int32{row(i) + int32(k), row(i) + int32(k) + 1, row(i+1) + int32(k)})
			}
			if k < finer-i-1 {
				s.Triangles = append(s.Triangles, [3]int32{row(i) + int32(k) + 1, row(i+1) + int32(k) + 1, row(i+1) + int32(k)})
			}
		}
	}
}

// How finely a plane is sampled: points per wavelength, steps along its longer side at least,
// and points at most.
const (
	pointsPerWave = 9
	leastSteps    = 250
	mostPoints    = 60e3
)

// How far a plane reaches beyond what is solid, in widths of the cabinet, as the field of the
// plan section does.
const (
	aheadWidths, behindWidths, besideWidths = 1.5, 0.25, 0.5
)

// slice reads the pressure in the air.
func (j *job) slice(ctx context.Context, s *bem3.Solution, weights []complex128) (*Field, error) {
	cut, whole := j.task.Look.Slice, j.surface.Unfold()
	floor := math.Inf(-1) // row of the floor
	height := 0.0         // of the plane
	if cut == LevelSlice {
		height = j.surface.Middle
	} else if j.surface.Floor {
		floor, whole = 0, whole.Reflected()
	}
	low, high := [2]float64{math.Inf(1), math.Inf(1)}, [2]float64{math.Inf(-1), math.Inf(-1)}
	for _, v := range whole.Vertices {
		for i, x := range cut.of(v) {
			low[i], high[i] = math.Min(low[i], x), math.Max(high[i], x)
		}
	}
	width := j.surface.Layout.Width
	forward := 0
	if cut == LevelSlice {
		forward = 1
	}
	low[forward], high[forward] = low[forward]-behindWidths*width, high[forward]+aheadWidths*width
	low[1-forward], high[1-forward] = low[1-forward]-besideWidths*width, high[1-forward]+besideWidths*width

	low[1] = math.Max(low[1], floor)
	across, up := high[0]-low[0], high[1]-low[1]
	step := math.Min(j.air.SoundSpeed/s.Frequency/pointsPerWave, math.Max(across, up)/leastSteps)
	step = math.Max(step, math.Sqrt(across*up/mostPoints))
	f := &Field{Columns: spaced(low[0], high[0], step), Rows: spaced(low[1], high[1], step)}
	for _, line := range whole.Section(cut.normal(), height) {
		var body [][2]float64
		for _, v := range line {
			body = append(body, cut.of(v))
		}
		if body = above(body, floor); body != nil {
			f.Bodies = append(f.Bodies, body)
		}
	}
	return f, f.fill(ctx, j, s, weights)
}

// above is what of a closed line lies above a row; nil: nothing does.
func above(line [][2]float64, row float64) [][2]float64 {
	var out [][2]float64
	over := false
	for i, v := range line {
		w := line[(i+1)%len(line)]
		if v[1] >= row {
			out, over = append(out, v), over || v[1] > row
		}
		if (v[1] > row) != (w[1] > row) && v[1] != row && w[1] != row {
			t := (row - v[1]) / (w[1] - v[1])
			out = append(out, [2]float64{v[0] + t*(w[0]-v[0]), row})
		}
	}
	if !over {
		return nil
	}
	return out
}

// fill computes the pressures: of points that are each other's images once.
func (f *Field) fill(ctx context.Context, j *job, s *bem3.Solution, weights []complex128) error {
	var at []bem3.Vec
	index := map[bem3.Vec]int{}
	of := make([][]int, len(f.Rows)) // point of each row and column; −1: in the solid
	for i, row := range f.Rows {
		for _, column := range f.Columns {
			if f.solid([2]float64{column, row}) {
				of[i] = append(of[i], -1)
				continue
			}
			v := folded(j.surface, j.task.Look.Slice.place(column, row, j.surface.Middle))
			k, known := index[v]
			if !known {
				k = len(at)
				index[v], at = k, append(at, v)
			}
			of[i] = append(of[i], k)
		}
	}
	fields, err := s.At(ctx, at)
	if err != nil {
		return err
	}
	all := combine(fields, weights)
	for _, row := range of {
		out := make([]complex128, len(row))
		for i, k := range row {
			if out[i] = cmplx.NaN(); k >= 0 {
				out[i] = all[k]
			}
		}
		f.Pressure = append(f.Pressure, out)
	}
	return nil
}

// solid reports whether a point lies in one more body than in holes of such.
func (f *Field) solid(at [2]float64) bool {
	in := false
	for _, l := range f.Bodies {
		in = in != Encloses(l, at)
	}
	return in
}

// Encloses reports whether a point lies within a closed line, by the pieces of it that are to
// one side.
func Encloses(l [][2]float64, at [2]float64) bool {
	in := false
	for i, v := range l {
		w := l[(i+1)%len(l)]
		if (v[1] > at[1]) != (w[1] > at[1]) && at[0] < v[0]+(at[1]-v[1])/(w[1]-v[1])*(w[0]-v[0]) {
			in = !in
		}
	}
	return in
}

// spaced are values from a to b, no more than step apart, and alike on both sides of the
// middle, so that mirror images of them are among them.
func spaced(a, b, step float64) []float64 {
	n := max(2, int((b-a)/step)+2)
	out := make([]float64, n)
	for i := range out {
		out[i] = (a*float64(n-1-i) + b*float64(i)) / float64(n-1)
	}
	return out
}
