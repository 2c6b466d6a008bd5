package wave

import (
	"fmt"

	"gapline/cabinet/design"
	"gapline/cabinet/outside"
	"gapline/cabinet/pattern"
	"gapline/internal/numeric"
	"gapline/internal/wavecache"
)

// PatternOf names the pattern of a design's box by all that it depends on: what is driven, whether
// the design's insert is left out, and of how many boxes it is the middle one. How those hang
// changes little of what its being among them does, and is left out.
func PatternOf(d *design.Design, driven outside.Driven, bare bool, boxes int) wavecache.PatternOf {
	out := wavecache.PatternOf{Geometry: outside.GeometryOf(d), Driven: driven, Bare: bare && d.HasInsert(), Boxes: boxes}
	if driven != outside.ByWoofers {
		return out
	}
	if setup, _, err := circuitOf(d); err == nil {
		c := setup.Driver
		// The parameters alone: how they were come by is the same to the run.
		out.Circuit = fmt.Sprintf("%#v %d %d %v %#v", c.Parameters, setup.Count, setup.Columns, setup.Wiring, setup.Enclosure)
	}
	return out
}

// HungPattern is what a run says of a box that is hung in a stack.
type HungPattern struct {
	Of      wavecache.PatternOf
	Pattern *pattern.Pattern
	Volts   float64 // NaN: the level is not known
}

// Patterns are those of the run: of its middle box, if there is one, with and without an insert, and of
// one box by itself.
func (st *Front) Patterns() []HungPattern {
	volts := numeric.Absent
	if st.ByCircuit {
		volts = st.With.Task.Volts
	}
	var out []HungPattern
	for _, r := range []*outside.Result{st.With, st.Bare, st.Alone} {
		if r == nil {
			continue
		}
		if p := r.Pattern(); p != nil {
			out = append(out, HungPattern{PatternOf(st.Design, st.Driven, r.Task.WithoutInsert, len(r.Surface.Boxes)), p, volts})
		}
	}
	return out
}
