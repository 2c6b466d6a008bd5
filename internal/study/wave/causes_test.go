package wave

import (
	"math"
	"slices"
	"testing"

	"gapline/cabinet/outside"
	"gapline/internal/designfile"
	"gapline/internal/numeric"
)

func front(t *testing.T, name string, o FrontOptions) *Front {
	t.Helper()
	file, err := designfile.LoadStarter(name, nil)
	if err != nil {
		t.Fatal(err)
	}
	st, err := RunFront(t.Context(), &file.Design, o)
	if err != nil {
		t.Fatal(err)
	}
	return st
}

// The way from one model to the next ends at one box alone, which beside others is the same as
// by itself; what the insert lifts is read off the same limits.
func TestCausesOfOneAndThreeBoxes(t *testing.T) {
	f := []float64{200, 250}
	one, three := front(t, "hatch-insert", FrontOptions{Boxes: 1, Frequencies: f}), front(t, "hatch-insert", FrontOptions{Boxes: 3, Frequencies: f})
	if one.Alone != nil || !slices.Equal(one.With.Vertical[1], three.Alone.Vertical[1]) {
		t.Error("one box alone is not the same beside others")
	}
	same := func(a, b outside.Limit) bool { return a == b || !numeric.Given(a.Hz) && !numeric.Given(b.Hz) }
	models := func(list []Told) (out []Model) {
		for _, s := range list {
			out = append(out, s.Model)
		}
		return out
	}
	for what, c := range map[string]struct {
		got  []Told
		want []Model
		last outside.Limit
	}{
		"lobe of one":      {one.LobeTold(), []Model{FlowInBaffle, BoxAlone}, one.With.Lobe(0.272, -12)},
		"lobe of three":    {three.LobeTold(), []Model{FlowInBaffle, AmongNeighbours, BoxAlone}, one.With.Lobe(0.272, -12)},
		"chamber of one":   {one.ChamberTold(), []Model{LumpedChamber, BoxAlone}, one.With.Chamber()},
		"chamber of three": {three.ChamberTold(), []Model{LumpedChamber, AmongNeighbours, BoxAlone}, one.With.Chamber()},
	} {
		if !slices.Equal(models(c.got), c.want) || !same(c.got[len(c.got)-1].Limit, c.last) {
			t.Errorf("%s: %+v, want %v ending at %+v", what, c.got, c.want, c.last)
		}
	}
	if bare, with, octaves, ok := one.InsertLifts(); ok { // lobes come at c/p = 1275 Hz, above this run
		t.Errorf("lifted from %g to %g, %g octaves", bare, with, octaves)
	}
	if one.ControlTold() != nil || three.ControlTold() != nil {
		t.Error("woofers hold the horn's coverage")
	}
}

// The flow through mouths half a pitch apart that are alike has no lobe at c/p, whatever the
// box: they come back by what is uneven within them alone. So in a wide baffle too, and at c/p
// or above (L. E. Kinsler et al., Fundamentals of Acoustics, 4th ed. 2000, sec. 7.9).
func TestUnevenFlowAloneBringsLobes(t *testing.T) {
	st := front(t, "hatch-insert", FrontOptions{Frequencies: []float64{1250, 1600}})
	d := st.Design
	first := st.Sizing.Air.SoundSpeed / d.Pitch()
	told := st.LobeTold()[0]
	if told.Model != FlowInBaffle || !(told.Limit.Hz >= first) || !(told.Limit.Hz < 2*first) {
		t.Errorf("lobes in a baffle from %+v, want between %g and %g", told.Limit, first, 2*first)
	}
	bare, with, octaves, ok := st.InsertLifts()
	if want := math.Log2(with / bare); !ok || math.Abs(octaves-want) > 1e-12 || !(bare >= first*0.99) {
		t.Errorf("lifted from %g to %g, %g octaves, want %g", bare, with, octaves, want)
	}
}
