package describe

import (
	"iter"

	"gapline/cabinet/sizing"
	"gapline/internal/figure"
	"gapline/internal/result"
	"gapline/internal/schema"
	"gapline/internal/study/size"
	"gapline/internal/study/space"
)

// Sweep describes the rows of a sweep for one place: the screen, which shows the
// figures asked for, or JSON and CSV, which hold every figure.
type Sweep struct {
	place   result.Place
	axes    []space.Axis
	figures []size.Figure
}

// NewSweep describes the rows of a sweep along those axes; shown are the figures on
// the screen.
func NewSweep(place result.Place, axes []space.Axis, shown []*figure.Def) *Sweep {
	if place != result.Screen {
		return &Sweep{place, axes, size.Table}
	}
	s := &Sweep{place: place, axes: axes}
	for _, f := range shown {
		s.figures = append(s.figures, size.Figure{Def: f})
	}
	return s
}

// Columns are the columns of the rows, under whole keys: those of the axes, whether the box
// can be built, then the figures. In CSV an axis names the unit that its numbers are in.
func (s *Sweep) Columns() []result.Column {
	var out []result.Column
	for _, a := range s.axes {
		c := result.Column{Key: a.Key.Path}
		if s.place == result.Listing {
			c.Key, _ = a.Key.Column()
		}
		out = append(out, c)
	}
	out = append(out, result.Column{Key: "fits"})
	for _, f := range s.figures {
		out = append(out, result.Column{Key: f.Key, Fig: f.Def})
	}
	return out
}

// Row appends the cells of one design, which can be built where fits is set.
func (s *Sweep) Row(cells []result.Cell, values []schema.Value, fits bool, sized *sizing.Sizing) []result.Cell {
	cells = append(s.Varied(cells, values), result.Yes(fits))
	for _, f := range s.figures {
		if s.place == result.Screen {
			cells = append(cells, size.Cell(sized, f.Def))
		} else {
			cells = append(cells, result.Cell{Fig: f.Def, SI: f.Of(sized)})
		}
	}
	return cells
}

// Varied appends the cells of the varied keys.
func (s *Sweep) Varied(cells []result.Cell, values []schema.Value) []result.Cell {
	for _, v := range values {
		cells = append(cells, s.varied(v))
	}
	return cells
}

func (s *Sweep) varied(v schema.Value) result.Cell {
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
			if !yield(s.varied(a.At(i))) {
				return
			}
		}
	}
}
