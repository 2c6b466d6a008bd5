package space

import (
	"context"
	"fmt"
	"math"
	"sync"

	"gapline/cabinet/design"
	"gapline/cabinet/sizing"
	"gapline/internal/check"
	"gapline/internal/designfile"
	"gapline/internal/parallel"
)

// Grid is the set of designs that a base design and one or more axes span. The
// last axis varies fastest.
type Grid struct {
	Base *designfile.File
	Axes []Axis
	// Unlinked leaves the file's [follow] links out, and with them the check
	// that the parts still fit: it asks what would happen if nothing had to
	// follow.
	Unlinked bool
	// After, if set, changes each design once its values and links are in place.
	After func(*design.Design)

	links []designfile.Link
}

// NewGrid prepares a grid. A varied key no longer follows another.
func NewGrid(base *designfile.File, axes []Axis) (*Grid, error) {
	g := &Grid{Base: base, Axes: axes}
	n := 1
	for i, a := range axes {
		if a.Len() == 0 {
			return nil, fmt.Errorf("%s has no values", a.Key.Path)
		}
		for _, b := range axes[:i] {
			if a.Key == b.Key {
				return nil, fmt.Errorf("%s is varied twice", a.Key.Path)
			}
		}
		if n *= a.Len(); n > maxAxis {
			return nil, fmt.Errorf("the grid has more than %d designs", maxAxis)
		}
	}
	g.links = g.actingLinks()
	return g, nil
}

// actingLinks returns the links whose source moves along the grid, because it
// is varied or follows a key that moves. The others hold by themselves.
func (g *Grid) actingLinks() []designfile.Link {
	var acting []designfile.Link
	moving := map[string]bool{}
	for _, a := range g.Axes {
		moving[a.Key.Path] = true
	}
	moves := func(path string) bool {
		switch path { // one moves the other
		case "cabinet.pitch":
			return moving[path] || moving["cabinet.height"] || moving["cabinet.gap"]
		case "cabinet.height":
			return moving[path] || moving["cabinet.pitch"]
		}
		return moving[path]
	}
	for _, l := range g.Base.Links {
		if !g.varies(l.Target) && moves(l.Source.Path) {
			moving[l.Target.Path] = true
			acting = append(acting, l)
		}
	}
	return acting
}

func (g *Grid) varies(k *designfile.Key) bool {
	for _, a := range g.Axes {
		if a.Key == k {
			return true
		}
	}
	return false
}

// Linked reports whether any link acts on the grid.
func (g *Grid) Linked() bool { return len(g.links) > 0 }

// Len returns the number of designs.
func (g *Grid) Len() int {
	n := 1
	for i := range g.Axes {
		n *= g.Axes[i].Len()
	}
	return n
}

// At returns the values of design i, one for each axis.
func (g *Grid) At(i int) []designfile.Value {
	out := make([]designfile.Value, len(g.Axes))
	for j := len(g.Axes) - 1; j >= 0; j-- {
		n := g.Axes[j].Len()
		out[j] = g.Axes[j].At(i % n)
		i /= n
	}
	return out
}

// Design builds design i. The error says why it cannot exist.
func (g *Grid) Design(i int) (design.Design, error) {
	d := g.Base.Design
	for j := len(g.Axes) - 1; j >= 0; j-- {
		n := g.Axes[j].Len()
		v := g.Axes[j].At(i % n)
		if err := v.Check(); err != nil {
			return d, fmt.Errorf("%s %w", v.Key.Path, err)
		}
		v.Apply(&d)
		i /= n
	}
	if err := g.follow(&d); err != nil {
		return d, err
	}
	if g.After != nil {
		g.After(&d)
	}
	if g.Unlinked {
		return d, nil
	}
	if problems := check.Design(&d); len(problems) > 0 {
		return d, fmt.Errorf("%s", problems[0].Text)
	}
	return d, nil
}

// follow applies the links.
func (g *Grid) follow(d *design.Design) error {
	if g.Unlinked {
		return nil
	}
	for j := range g.links {
		l := &g.links[j]
		l.Apply(d)
		if err := l.Target.Accepts(l.Target.Number(d)); err != nil {
			return fmt.Errorf("%s %w", l.Target.Path, err)
		}
	}
	return nil
}

// Row is one design of a grid, sized.
type Row struct {
	Index  int
	Sizing sizing.Sizing
	Err    error // why the design cannot exist; Sizing is then empty
}

// chunk is how many designs one task sizes: enough to outweigh the hand-over,
// few enough to keep memory flat.
const chunk = 512

// Gaps returns the gap as given of every design, NaN where it cannot exist.
func (g *Grid) Gaps(ctx context.Context) ([]float64, error) {
	out := make([]float64, 0, g.Len())
	err := parallel.Ordered(ctx, g.Len(), chunk, func(lo, hi int) []float64 {
		gaps := make([]float64, hi-lo)
		for i := range gaps {
			gaps[i] = math.NaN()
			if d, err := g.Design(lo + i); err == nil {
				gaps[i] = sizing.GapOf(&d)
			}
		}
		return gaps
	}, func(gaps []float64) error {
		out = append(out, gaps...)
		return nil
	})
	return out, err
}

// Each sizes every design on all cores and calls emit for each in order. It
// stops at the first error of emit or when ctx ends.
func (g *Grid) Each(ctx context.Context, emit func(Row) error) error {
	return Each(ctx, g, 0, g.Len(), func(r Row) Row { return r }, emit)
}

// Each sizes the designs from index from up to to and turns each into a T with
// shape, both on all cores, and calls emit for each T in order. It stops at the
// first error of emit or when ctx ends.
func Each[T any](ctx context.Context, g *Grid, from, to int, shape func(Row) T, emit func(T) error) error {
	sizers := sync.Pool{New: func() any { return new(sizing.Sizer) }}
	return parallel.Ordered(ctx, to-from, chunk, func(lo, hi int) []T {
		out := make([]T, 0, hi-lo)
		z := sizers.Get().(*sizing.Sizer)
		defer sizers.Put(z)
		for i := from + lo; i < from+hi; i++ {
			d, err := g.Design(i)
			row := Row{Index: i, Err: err}
			if err == nil {
				row.Sizing = z.Size(&d)
			}
			out = append(out, shape(row))
		}
		return out
	}, func(list []T) error {
		for i := range list {
			if err := emit(list[i]); err != nil {
				return err
			}
		}
		return nil
	})
}
