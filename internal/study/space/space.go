// Package space runs many designs through the estimates. A Space is a base design
// with the keys that vary and the links that act on them; it builds a design from
// values of its keys in one way, whoever asks: the grid of a sweep, the sample of a
// tolerance study, the points of a search. Each sizes the designs of a numbered set
// of values on all cores and hands them on in order.
package space

import (
	"context"
	"fmt"
	"slices"

	"gapline/cabinet/design"
	"gapline/cabinet/layout"
	"gapline/cabinet/sizing"
	"gapline/internal/parallel"
	"gapline/internal/schema"
)

// Space is the set of designs that differ from a base design in some keys.
type Space struct {
	Base *design.Design
	Keys []*schema.Key
	// Links act on what varies, in this order.
	Links []schema.Link
	// Unlinked leaves the links out, and with them the check for contradictions: it asks
	// what would happen if nothing had to follow.
	Unlinked bool
	// MustFit refuses designs that cannot be built.
	MustFit bool
	// LetPass is what is not refused all the same: it asks what a refusal costs.
	LetPass []*Refusal
	// After, if set, changes each design once its values and links are in place.
	After func(*design.Design)

	// Curves sizes by curves where that saves time: for many designs that all differ; see
	// sizing.NewSizer.
	Curves bool

	order []int // in which the keys are set
}

// New returns the space of a base design and the keys that vary. links are those of
// the file; the ones that act are kept.
func New(base *design.Design, links []schema.Link, keys []*schema.Key) Space {
	s := Space{Base: base, Keys: keys, Links: schema.Acting(links, keys)}
	for i := range keys {
		s.order = append(s.order, i)
	}
	// The order of the table of keys, so that designs do not depend on the order in
	// which keys are named.
	slices.SortStableFunc(s.order, func(a, b int) int { return keys[a].Index() - keys[b].Index() })
	return s
}

// Linked reports whether any link acts.
func (s *Space) Linked() bool { return len(s.Links) > 0 }

// Refitted lists the keys of the lists that follow the number of boxes where that varies.
func (s *Space) Refitted() []*schema.Key {
	if !slices.ContainsFunc(s.Keys, func(k *schema.Key) bool { return k.Path == "line.boxes" }) {
		return nil
	}
	var out []*schema.Key
	for i := range schema.Keys {
		if k := &schema.Keys[i]; k.PerBox() && len(k.ValueIn(s.Base).List) > 0 {
			out = append(out, k)
		}
	}
	return out
}

// Design builds the design in which the keys take the values. The error says why it
// cannot exist: a value or what follows it is out of its range, or values contradict each
// other.
func (s *Space) Design(values []schema.Value) (design.Design, error) {
	d := *s.Base
	for _, i := range s.order {
		if err := values[i].Check(); err != nil {
			return d, fmt.Errorf("%s %w", s.Keys[i].Path, err)
		}
		values[i].Apply(&d)
	}
	if d.Line.Boxes != s.Base.Line.Boxes {
		schema.Refitted(&d, nil)
	}
	if err := s.follow(&d); err != nil {
		return d, err
	}
	if s.After != nil {
		s.After(&d)
	}
	if s.Unlinked {
		return d, nil
	}
	if r := s.refused(&d); r != nil {
		return d, r
	}
	return d, nil
}

// follow applies the links.
func (s *Space) follow(d *design.Design) error {
	if s.Unlinked {
		return nil
	}
	for i := range s.Links {
		l := &s.Links[i]
		l.Apply(d)
		if err := l.Target.Accepts(l.Target.Number(d)); err != nil {
			r := &Refusal{Keys: []string{l.Target.Path}, Text: fmt.Sprintf("%s %v", l.Target.Path, err)}
			if !s.passes(r) {
				return r
			}
		}
	}
	return nil
}

// Point is one design of a space, as a worker holds it until it goes on.
type Point struct {
	Index  int
	Values []schema.Value
	Design design.Design
	Err    error // why it cannot exist

	sizer sizing.Sizer
}

// Size sizes the design; the zero Sizing where it cannot exist.
func (p *Point) Size() sizing.Sizing {
	if p.Err != nil {
		return sizing.Sizing{}
	}
	return p.sizer.Size(&p.Design)
}

// Fits reports whether the design can be built.
func (p *Point) Fits() bool { return p.Err == nil && layout.New(&p.Design).Fits() }

// move builds the design of the values that the point holds.
func (p *Point) move(s *Space, index int) {
	p.Index = index
	p.Design, p.Err = s.Design(p.Values)
}

// point returns a point that has not been anywhere, for one worker.
func (s *Space) point() *Point {
	p := &Point{Values: make([]schema.Value, len(s.Keys))}
	if s.Curves {
		p.sizer = *sizing.NewSizer()
	}
	return p
}

// chunk is how many designs one task sizes: enough to outweigh the hand-over, few
// enough to keep memory flat.
const chunk = 256

// Each goes through designs from to to − 1 on all cores and calls emit for what take
// makes of each, in order. at puts the values of design i into values; take must not
// keep its point. Each stops at the first error of emit or when ctx ends.
func Each[T any](ctx context.Context, s *Space, at func(i int, values []schema.Value), from, to int, take func(*Point) T, emit func(T) error) error {
	return inTasks(ctx, s, at, from, to, chunk, take, emit)
}

// inTasks is Each with tasks of the given number of designs.
func inTasks[T any](ctx context.Context, s *Space, at func(i int, values []schema.Value), from, to, size int, take func(*Point) T, emit func(T) error) error {
	return parallel.OrderedBy(ctx, to-from, size, s.point, func(p *Point, lo, hi int) []T {
		out := make([]T, 0, hi-lo)
		for i := from + lo; i < from+hi; i++ {
			at(i, p.Values)
			p.move(s, i)
			out = append(out, take(p))
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
