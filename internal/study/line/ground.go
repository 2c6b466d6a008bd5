package line

import (
	"math"
	"slices"

	"gapline/cabinet/field"
	"gapline/internal/numeric"
)

// Ground is the section of the hall in the plane of the axis: the ground under the
// stack, the floors of the seats joined by straight lines, level behind the last row;
// and the floors that hang over others.
type Ground struct {
	X, Z      []float64 // corners of the ground from the front of the seats to the last row, m
	Balconies []field.Seating
}

// Ground returns the section; nil for a stack without height.
func (s *Study) Ground() *Ground {
	if !numeric.Given(s.Model.Stack.TopHeight) {
		return nil
	}
	return groundOf(s.Seating())
}

func groundOf(seating []field.Seating) *Ground {
	out := &Ground{}
	// The lowest floors carry the section: a floor over another one is a balcony.
	byHeight := slices.Clone(seating)
	slices.SortStableFunc(byHeight, func(a, b field.Seating) int {
		switch x, y := a.StartFloor+a.EndFloor, b.StartFloor+b.EndFloor; {
		case x < y:
			return -1
		case x > y:
			return 1
		}
		return 0
	})
	var floors []field.Seating
	for _, g := range byHeight {
		over := slices.ContainsFunc(floors, func(f field.Seating) bool { return g.Start < f.End-joint && f.Start < g.End-joint })
		if over {
			out.Balconies = append(out.Balconies, g)
		} else {
			floors = append(floors, g)
		}
	}
	slices.SortFunc(floors, func(a, b field.Seating) int {
		if a.Start < b.Start {
			return -1
		}
		return 1
	})
	for i, g := range floors {
		if i == 0 && g.StartFloor != 0 {
			out.X, out.Z = append(out.X, g.Start), append(out.Z, 0) // the ground under the stack ends at a step
		}
		out.X, out.Z = append(out.X, g.Start, g.End), append(out.Z, g.StartFloor, g.EndFloor)
	}
	return out
}

// joint is how far stretches of seats may overlap and still be neighbours, m.
const joint = 1e-6

// At returns the height of the ground, m; at a step the higher side.
func (g *Ground) At(x float64) float64 {
	if len(g.X) == 0 || x < g.X[0] {
		return 0
	}
	last := len(g.X) - 1
	if x > g.X[last] {
		return g.Z[last]
	}
	high := math.Inf(-1)
	for i := 1; i <= last; i++ {
		if x < g.X[i-1] || x > g.X[i] {
			continue
		}
		if span := g.X[i] - g.X[i-1]; span > 0 {
			high = math.Max(high, g.Z[i-1]+(x-g.X[i-1])/span*(g.Z[i]-g.Z[i-1]))
		} else {
			high = math.Max(high, math.Max(g.Z[i-1], g.Z[i]))
		}
	}
	if len(g.X) == 1 || math.IsInf(high, -1) {
		return g.Z[0]
	}
	return high
}
