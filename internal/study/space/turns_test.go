package space

import (
	"fmt"
	"math"
	"testing"

	"gapline/cabinet/sizing"
	"gapline/internal/quantity"
)

// By rule the gap is log2 of K over width and coverage, over the woofers' limit: with an
// overlap of 0.01 octaves at the nominal width, 2 % less of it opens the gap by
// log2(1/0.98) - 0.01 = 0.0191 octaves, and 2 % more only widens the overlap.
func TestTurns(t *testing.T) {
	nominal, _ := spreadOf(t, "", 20, `"horn.mouth_width" = "2 %"`)
	s := sizing.Size(nominal.Base)
	gap := s.Level(sizing.ByRule).Gap
	width := nominal.Base.Horn.MouthWidth.Value() * math.Exp2(gap+0.01) // the gap falls as the width grows
	d, err := NewTolerance(load(t, fmt.Sprintf(box, "", 20, `"horn.mouth_width" = "2 %"`)))
	if err != nil {
		t.Fatal(err)
	}
	d.List[0].Key.SetNumber(d.Base, width)
	r, err := d.Run(t.Context(), func(int) {})
	if err != nil {
		t.Fatal(err)
	}
	var by []Turn
	for _, x := range d.Turns(r) {
		if x.Level == sizing.ByRule {
			by = append(by, x)
		}
	}
	if len(by) != 1 || !by[0].Opens || math.Abs(by[0].At/width-0.98) > 1e-9 {
		t.Fatalf("turns by rule %+v, want one that opens the gap at 98 %% of %s", by, quantity.Format(width, quantity.Length, quantity.Metric))
	}
	if want := math.Log2(1/0.98) - 0.01; math.Abs(by[0].Gap-want) > 1e-9 { // both are closed forms
		t.Errorf("the gap there is %g, want %g", by[0].Gap, want)
	}
}
