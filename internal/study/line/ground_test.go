package line

import (
	"testing"

	"gapline/cabinet/field"
	"gapline/internal/reftable"
)

// The section by hand: ground, a step of half a metre, a rake, an aisle, a rake, level
// behind; a balcony over the rear rows is no ground.
func TestGround(t *testing.T) {
	g := groundOf([]field.Seating{
		{Start: 5, End: 15, StartFloor: 0.5, EndFloor: 1.5},
		{Start: 14, End: 24, StartFloor: 6, EndFloor: 9},
		{Start: 17, End: 27, StartFloor: 2, EndFloor: 4},
	})
	for x, want := range map[float64]float64{-3: 0, 4.9: 0, 5: 0.5, 10: 1, 15: 1.5, 16: 1.75, 17: 2, 22: 3, 27: 4, 40: 4} {
		reftable.Within(t, "ground", g.At(x), want, 1e-12)
	}
	if len(g.Balconies) != 1 || g.Balconies[0].Start != 14 {
		t.Errorf("balconies %+v", g.Balconies)
	}
	if z := groundOf(nil).At(7); z != 0 {
		t.Errorf("ground without seats at %g m", z)
	}
}

// Nothing is computed in the ground, and everything above it is; what pictures are
// coloured by goes on below it, so that the ground's own edge shows.
func TestSideViewOverTheGround(t *testing.T) {
	s := bentHorns()
	f := Frame{FromX: 4, ToX: 44, FromZ: -0.5, ToZ: 8}
	side, err := s.Side(ctx, at(500), f)
	if err != nil {
		t.Fatal(err)
	}
	g := s.Ground()
	for iz, z := range side.Z {
		for ix, x := range side.X {
			k := iz*len(side.X) + ix
			if under := z < g.At(x)-1e-9; under != (side.Level[0][k] != side.Level[0][k]) {
				t.Fatalf("level %g at %g m, %g m, ground at %g m", side.Level[0][k], x, z, g.At(x))
			}
			if l := side.Whole[0][k]; l != l {
				t.Fatalf("no colour at %g m, %g m", x, z)
			}
		}
	}
}
