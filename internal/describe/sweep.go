package describe

import (
	"iter"
	"slices"

	"gapline/cabinet/design"
	"gapline/cabinet/sizing"
	"gapline/internal/result"
	"gapline/internal/schema"
	"gapline/internal/study/size"
	"gapline/internal/study/space"
)

// Sweep describes the rows of a sweep for one place: the screen, which shows the
// figures asked for, or JSON and CSV, which hold every figure.
type Sweep struct {
	place result.Place
	axes  []space.Axis
	shown []sweepColumn
}

// sweepColumn is a figure or, so that keys that follow what varies are seen to move, a key.
type sweepColumn struct {
	size.Figure
	key *schema.Key // nil for a figure
}

// NewSweep describes the rows of a sweep along those axes; shown are the figures and keys
// on the screen. JSON and CSV hold the keys of them, then every figure. A key that varies
// has its column already.
func NewSweep(place result.Place, axes []space.Axis, shown []schema.Measure) *Sweep {
	s := &Sweep{place: place, axes: axes}
	for i, m := range shown {
		varied := slices.ContainsFunc(axes, func(a space.Axis) bool { return a.Key == m.Key })
		if !varied && !slices.Contains(shown[:i], m) && (place == result.Screen || m.Key != nil) {
			s.shown = append(s.shown, sweepColumn{size.Figure{Def: m.Figure}, m.Key})
		}
	}
	if place != result.Screen {
		for _, f := range size.Table {
			s.shown = append(s.shown, sweepColumn{Figure: f})
		}
	}
	return s
}

// Columns are the columns of the rows, under whole keys: those of the axes, whether the box
// can be built, then what is shown. In CSV a key names the unit that its numbers are in.
func (s *Sweep) Columns() []result.Column {
	var out []result.Column
	for _, a := range s.axes {
		out = append(out, s.keyColumn(a.Key))
	}
	out = append(out, result.Column{Key: "fits"})
	for _, c := range s.shown {
		if c.key != nil {
			out = append(out, s.keyColumn(c.key))
			continue
		}
		out = append(out, result.Column{Key: c.Key, Fig: c.Def})
	}
	return out
}

func (s *Sweep) keyColumn(k *schema.Key) result.Column {
	c := result.Column{Key: k.Path}
	if s.place == result.Listing {
		c.Key, _ = k.Column()
	}
	return c
}

// Row appends the cells of one design, which can be built where fits is set.
func (s *Sweep) Row(cells []result.Cell, values []schema.Value, fits bool, d *design.Design, sized *sizing.Sizing) []result.Cell {
	cells = append(s.Varied(cells, values), result.Yes(fits))
	for i := range s.shown {
		switch c := &s.shown[i]; {
		case c.key != nil:
			cells = append(cells, s.ofKey(c.key.ValueIn(d)))
		case s.place == result.Screen:
			cells = append(cells, size.Cell(sized, c.Def))
		default:
			cells = append(cells, result.Cell{Fig: c.Def, SI: c.Of(sized)})
		}
	}
	return cells
}

// Varied appends the cells of the varied keys.
func (s *Sweep) Varied(cells []result.Cell, values []schema.Value) []result.Cell {
	for _, v := range values {
		cells = append(cells, s.ofKey(v))
	}
	return cells
}

// ofKey is the value of a key.
func (s *Sweep) ofKey(v schema.Value) result.Cell {
	switch s.place {
	case result.Listing:
		return columnCell(v)
	case result.Data:
		return wordOrNumber(v)
	}
	return keyCell(v)
}

// Values are the values of an axis, one by one.
func (s *Sweep) Values(a space.Axis) iter.Seq[result.Cell] {
	return func(yield func(result.Cell) bool) {
		for i := range a.Len() {
			if !yield(s.ofKey(a.At(i))) {
				return
			}
		}
	}
}
