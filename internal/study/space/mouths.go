package space

import (
	"context"
	"fmt"

	"gapline/cabinet/design"
	"gapline/internal/numeric"
	"gapline/internal/optional"
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
// number of mouths; the design's own number is taken as the design has it, the others
// are as of otherMouths. With links, the design as given is repeated without them.
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
	for n := min(2, max(d.Insert.Mouths, 1)); n <= max(mostMouths, d.Insert.Mouths); n++ {
		label := fmt.Sprintf("%d mouths", n)
		if n == 1 {
			label = "1 mouth"
		}
		switch {
		case n == d.Insert.Mouths:
			cases = append(cases, mouthCase{label + ", as designed", nil})
		case n > 1 && CarriesChamber(d):
			cases = append(cases, mouthCase{label, otherMouths(n)})
		case n > 1:
			cases = append(cases, mouthCase{label + ", no chamber", func(d *design.Design) { d.Insert = design.Insert{Mouths: n} }})
		}
	}
	return cases
}

// CarriesChamber reports whether MouthCurves can give other numbers of mouths the
// design's own chamber: its insert has all dimensions that the chamber's corner needs.
func CarriesChamber(d *design.Design) bool {
	return d.HasInsert() && numeric.Given(d.Insert.ChamberCorner(d.WooferColumns(), 1))
}

// otherMouths returns the change to n evenly spaced mouths in front of the same chamber.
// The plate is as thick and opens as much in total: the mouths are as wide, and lower or
// higher in proportion.
func otherMouths(n int) func(*design.Design) {
	return func(d *design.Design) {
		i := &d.Insert
		i.MouthHeight = optional.Of(i.MouthHeight.Value() * float64(i.Mouths) / float64(n))
		i.Mouths, i.Spacing = n, optional.Float{}
	}
}

func bareCones(d *design.Design) { d.Insert = design.New().Insert }
