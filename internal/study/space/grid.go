package space

import (
	"context"
	"fmt"

	"gapline/cabinet/sizing"
	"gapline/internal/numeric"
	"gapline/internal/schema"
)

// Grid is the set of designs that a base design and one or more axes span. The
// last axis varies fastest.
type Grid struct {
	Space
	Axes []Axis
}

// NewGrid prepares a grid. A varied key no longer follows another.
func NewGrid(base *schema.Project, axes []Axis) (*Grid, error) {
	n := 1
	var keys []*schema.Key
	for i, a := range axes {
		if a.Len() == 0 {
			return nil, fmt.Errorf("%s has no values", a.Key.Path)
		}
		for _, b := range axes[:i] {
			if a.Key == b.Key {
				return nil, fmt.Errorf("%s is varied twice", a.Key.Path)
			}
		}
		if n *= a.Len(); n > MaxDesigns {
			return nil, fmt.Errorf("the grid has more than %d designs", MaxDesigns)
		}
		keys = append(keys, a.Key)
	}
	return &Grid{Space: New(&base.Design, base.Links, keys), Axes: axes}, nil
}

// Len returns the number of designs.
func (g *Grid) Len() int {
	n := 1
	for i := range g.Axes {
		n *= g.Axes[i].Len()
	}
	return n
}

// At returns the values of design i, one for each axis.
func (g *Grid) At(i int) []schema.Value {
	out := make([]schema.Value, len(g.Axes))
	g.Values(i, out)
	return out
}

// Values puts the values of design i into out, one for each axis.
func (g *Grid) Values(i int, out []schema.Value) {
	for j := len(g.Axes) - 1; j >= 0; j-- {
		n := g.Axes[j].Len()
		out[j] = g.Axes[j].At(i % n)
		i /= n
	}
}

// Gaps returns the gap as given of every design, NaN where it cannot exist, and whether it
// can be built.
func (g *Grid) Gaps(ctx context.Context) (gaps []float64, fits []bool, err error) {
	type one struct {
		gap  float64
		fits bool
	}
	err = Each(ctx, &g.Space, g.Values, 0, g.Len(), func(p *Point) one {
		if p.Err != nil {
			return one{gap: numeric.Absent}
		}
		return one{sizing.GapOf(&p.Design), p.Fits()}
	}, func(x one) error {
		gaps, fits = append(gaps, x.gap), append(fits, x.fits)
		return nil
	})
	return gaps, fits, err
}
