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
	Level    [][]float64 // [frequency][iz·len(X) + ix]; NaN inside a box
	Absorbed bool
}

// sideCells is about the number of cells of a side view.
const sideCells = 60_000

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
	return f
}

// Side computes a side view.
func (s *Study) Side(ctx context.Context, sp Spectrum, f Frame) (*Side, error) {
	e, err := s.engine("side view", true, 0)
	if err != nil {
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
	out := &Side{Spectrum: sp, X: m.X, Z: m.Z, Level: m.Level, Absorbed: s.Absorbs(true)}
	out.bury(s.Seating())
	return out, nil
}

// bury leaves out what lies under the floor of the seats or under the ground.
func (m *Side) bury(seating []field.Seating) {
	for ix, x := range m.X {
		floor := math.Inf(-1)
		for _, g := range seating {
			if x >= g.Start && x <= g.End {
				t := (x - g.Start) / math.Max(g.End-g.Start, 1e-9)
				floor = math.Max(floor, g.StartFloor+t*(g.EndFloor-g.StartFloor))
			}
		}
		for iz, z := range m.Z {
			if z < floor-1e-9 {
				for i := range m.Level {
					m.Level[i][iz*len(m.X)+ix] = numeric.Absent
				}
			}
		}
	}
}
