package section

import (
	"math"
	"slices"
	"testing"

	"gapline/internal/optional"
	"gapline/waveguide/wave"
)

// What stands anywhere goes into the section as it is; faults name the places.
func TestPlanOfAnyFront(t *testing.T) {
	d := box()
	d.Section.EdgeRadius = optional.Of(0.01)
	cut := func(f Front, driven Driven) (wave.Plan, []Fault) { return Plan(&d, f, driven) }
	turned := Opening{Y: -0.1875, Width: 0.125, SetbackLeft: 0.05, SetbackRight: 0.02}
	front := Front{HornAt: 0.13, Openings: []Opening{turned}}
	p, faults := cut(front, ByWoofers)
	want := wave.Opening{Left: -0.125, Right: -0.25, SetbackLeft: 0.05, SetbackRight: 0.02, Velocity: 1}
	if len(faults) > 0 || p.HornAt != 0.13 || len(p.Openings) != 1 || p.Openings[0] != want || p.Drive != 0 || p.Symmetric() {
		t.Errorf("%+v, faults %v: want the horn at 130 mm and %+v", p, faults, want)
	}
	// The set-back cone shapes the box also when it rests; a flush one is front.
	want.Velocity = 0
	if p, _ = cut(front, ByHorn); len(p.Openings) != 1 || p.Openings[0] != want {
		t.Errorf("at rest: %+v, want %+v", p.Openings, want)
	}
	front.Openings[0].SetbackLeft, front.Openings[0].SetbackRight = 0, 0
	if p, _ = cut(front, ByHorn); p.Openings != nil {
		t.Errorf("flush and at rest: %+v, want none", p.Openings)
	}
	for _, c := range []struct {
		front  Front
		want   Reason
		values []float64
	}{
		{Front{HornAt: 0.13, Openings: []Opening{{Y: -0.05, Width: 0.2}}}, OpeningOff, []float64{-0.15, 0.05, -0.3, -0.035}},
		{Front{HornAt: -0.13, Openings: []Opening{{Y: 0.25, Width: 0.2}}}, OpeningOff, []float64{0.15, 0.35, 0.035, 0.3}},
		{Front{HornAt: 0.13, Openings: []Opening{{Y: 0.25, Width: 0.02}}}, OpeningWide, []float64{0.02, 0.005}},
		{Front{HornAt: -0.14, Openings: []Opening{{Y: 0.15, Width: 0.1}}}, HornOff, []float64{0.33, 0.14, 0.305, 0.3}},
		{Front{}, OpeningLacks, nil},
	} {
		_, faults := cut(c.front, ByWoofers)
		near := func(a, b float64) bool { return math.Abs(a-b) < 1e-9 }
		if len(faults) != 1 || faults[0].Of != c.want || !slices.EqualFunc(faults[0].Values, c.values, near) {
			t.Errorf("%+v: %+v, want reason %d with %v", c.front, faults, c.want, c.values)
		}
	}
}
