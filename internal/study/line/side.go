package line

import (
	"context"
	"math"

	"gapline/cabinet/field"
	"gapline/internal/numeric"
)

// Side is the level over a vertical plane through the stack.
type Side struct {
	Spectrum
	X, Z     []float64
	Level    [][]float64 // [frequency][iz·len(X) + ix]; NaN inside a box and in the ground
	Whole    [][]float64 // the same with levels from nearby in place of NaN, for what is drawn under boxes and ground
	Absorbed bool
	Ground   *Ground // nil: a stack without height
}

// sideCells is about the number of cells of a side view.
const sideCells = 60_000

// groundShown is what part of a side view's height lies in the lowest ground.
const groundShown = 16

// Frame is the part of the plane that a side view shows, m.
type Frame struct{ FromX, ToX, FromZ, ToZ float64 }

// Frame returns what a side view shows unless the user says otherwise: the stack,
// the seats and some air over both.
func (s *Study) Frame() Frame {
	f := Frame{FromX: -2, ToX: 30, FromZ: math.Inf(1), ToZ: math.Inf(-1)}
	for _, o := range s.Outlines() {
		for _, p := range o.Corner {
			f.FromX = math.Min(f.FromX, p.X-1)
			f.FromZ, f.ToZ = math.Min(f.FromZ, p.Z), math.Max(f.ToZ, p.Z)
		}
	}
	if math.IsNaN(s.Model.Stack.TopHeight) {
		f.FromZ, f.ToZ = f.FromZ-6, f.ToZ+6
		return f
	}
	f.FromZ = math.Min(f.FromZ, 0)
	a := &s.Design.Audience
	if a.Given() {
		f.ToX = 0
	}
	for _, g := range s.Seating() {
		f.ToX = math.Max(f.ToX, g.End+3)
		f.FromZ = math.Min(f.FromZ, math.Min(g.StartFloor, g.EndFloor))
		f.ToZ = math.Max(f.ToZ, math.Max(g.StartFloor, g.EndFloor)+g.Ear)
	}
	f.ToZ += math.Max(2, (f.ToX-f.FromX)/12)
	f.FromZ -= (f.ToZ - f.FromZ) / groundShown
	return f
}

// Side computes a side view.
func (s *Study) Side(ctx context.Context, sp Spectrum, f Frame) (*Side, error) {
	e, err := s.engine("side view", true, 0)
	if err != nil {
		return nil, err
	}
	if sp, err = s.settleFrame(ctx, e, sp, f); err != nil {
		return nil, err
	}
	wide, high := f.ToX-f.FromX, f.ToZ-f.FromZ
	nx := int(math.Sqrt(sideCells*wide/high)) + 2
	nz := max(sideCells/nx, 2)
	m, err := e.SideMap(ctx, field.MapSpec{FromX: f.FromX, ToX: f.ToX, FromZ: f.FromZ, ToZ: f.ToZ, NX: nx, NZ: nz,
		Frequency: sp.tones(), TonesPerBand: sp.perBand()})
	if err != nil {
		return nil, err
	}
	out := &Side{Spectrum: sp, X: m.X, Z: m.Z, Level: m.Level, Absorbed: s.Absorbs(true), Ground: s.Ground()}
	for _, level := range m.Level {
		out.Whole = append(out.Whole, filled(level, len(m.X)))
	}
	out.bury()
	return out, nil
}

// bury leaves out what lies in the ground.
func (m *Side) bury() {
	if m.Ground == nil {
		return
	}
	const skin = 1e-9
	for ix, x := range m.X {
		floor := m.Ground.At(x)
		for iz, z := range m.Z {
			if z < floor-skin {
				for i := range m.Level {
					m.Level[i][iz*len(m.X)+ix] = numeric.Absent
				}
			}
		}
	}
}

// filled gives every cell without a level the mean of the nearest that have one, ring
// by ring.
func filled(level []float64, columns int) []float64 {
	out := append([]float64(nil), level...)
	rows := len(out) / columns
	var open []int
	for k, l := range out {
		if math.IsNaN(l) {
			open = append(open, k)
		}
	}
	for len(open) > 0 && len(open) < len(out) {
		var left, done []int
		var values []float64
		for _, k := range open {
			sum, n := 0.0, 0
			ix, iz := k%columns, k/columns
			for _, d := range [4][2]int{{-1, 0}, {1, 0}, {0, -1}, {0, 1}} {
				x, z := ix+d[0], iz+d[1]
				if x < 0 || x >= columns || z < 0 || z >= rows {
					continue
				}
				if l := out[z*columns+x]; !math.IsNaN(l) {
					sum, n = sum+l, n+1
				}
			}
			if n == 0 {
				left = append(left, k)
				continue
			}
			done, values = append(done, k), append(values, sum/float64(n))
		}
		for i, k := range done {
			out[k] = values[i]
		}
		open = left
	}
	return out
}
