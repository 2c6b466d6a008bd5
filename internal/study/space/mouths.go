package space

import (
	"context"
	"fmt"

	"gapline/cabinet/design"
)

// Curve is the gap along a one-axis grid for one number of mouths.
type Curve struct {
	Label    string
	Gap      []float64 // octaves; NaN where the design cannot exist
	Fits     []bool    // whether it can be built; nil where nothing has to fit
	Unlinked bool
}

// mostMouths is the largest number of mouths that MouthCurves looks at.
const mostMouths = 3

// MouthCurves returns the gap along the grid for the bare cones and for each
// number of mouths, evenly spaced and without a chamber; the design's own
// number is taken as the design has it. With links, the design as given is
// repeated without them.
func (g *Grid) MouthCurves(ctx context.Context) ([]Curve, error) {
	var curves []Curve
	add := func(label string, unlinked bool, after func(*design.Design)) error {
		h := *g
		h.After, h.Unlinked = after, unlinked
		gap, fits, err := h.Gaps(ctx)
		if unlinked {
			fits = nil
		}
		curves = append(curves, Curve{label, gap, fits, unlinked})
		return err
	}
	base := g.Base
	for _, c := range mouthCases(base, g.Axes[0].Key.Table()) {
		if err := add(c.label, false, c.after); err != nil {
			return nil, err
		}
	}
	if g.Linked() {
		if err := add("if nothing follows", true, nil); err != nil {
			return nil, err
		}
	}
	return curves, nil
}

type mouthCase struct {
	label string
	after func(*design.Design) // nil: as designed
}

// mouthCases chooses the curves. A mid band takes the insert out of the gap,
// and a lever of the insert itself leaves only the design as given to draw.
func mouthCases(d *design.Design, table string) []mouthCase {
	switch {
	case d.HasMid():
		return []mouthCase{{"with mids, as designed", nil}, {"without mids", func(d *design.Design) {
			d.Mid = design.New().Mid
		}}}
	case table == "insert":
		return []mouthCase{{"as designed", nil}, {"bare cones", bareCones}}
	}
	cases := []mouthCase{{"bare cones", bareCones}}
	if !d.HasInsert() {
		cases[0] = mouthCase{"bare cones, as designed", nil}
	}
	for n := 2; n <= max(mostMouths, d.Insert.Mouths); n++ {
		if n == d.Insert.Mouths {
			cases = append(cases, mouthCase{fmt.Sprintf("%d mouths, as designed", n), nil})
			continue
		}
		cases = append(cases, mouthCase{fmt.Sprintf("%d mouths", n), func(d *design.Design) {
			d.Insert = design.Insert{Mouths: n}
		}})
	}
	return cases
}

func bareCones(d *design.Design) { d.Insert = design.New().Insert }
