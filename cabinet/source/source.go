package source

import (
	"fmt"
	"math"

	"gapline/cabinet/design"
	"gapline/cabinet/field"
	"gapline/cabinet/filter"
	"gapline/cabinet/layout"
	"gapline/cabinet/sizing"
	"gapline/driver"
	"gapline/internal/air"
	"gapline/internal/check"
	"gapline/internal/numeric"
)

// Choice says what of the design is hung. The zero value is the design as given.
type Choice struct {
	WithoutInsert bool     // bare cones even where the design has an insert
	Only          []string // names of bands; nil: all
	// Open, if it names a lower band, leaves out the crossover between it and the
	// band above, with the delays and polarities of both, so that crossovers can
	// be tried on them.
	Open string
	// Straight hangs the boxes without splay, tilt and shading, clear of the
	// ground.
	Straight bool
	Patterns []Pattern // in place of mouths; none: all bands radiate by their mouths
	// HalfSpace hangs the mouths in half space whatever patterns there are, with bands matched
	// as the patterns have it: a box by itself, as its levels are stated.
	HalfSpace bool
}

// The names of the bands.
const (
	Woofers = "woofers"
	Mids    = "mids"
	Horn    = "horn"
)

// Band is one drive of the stack.
type Band struct {
	Name   string
	What   string // in words, such as "2 insert mouths in each box"
	Path   filter.Path
	Mouths []field.Mouth
	// Response is the pressure of one box on its axis at 1 m without the
	// crossover, in Pa or relative to one box; where the band has a circuit, in half space.
	Response func(hz float64) complex128
	Pattern  *Pattern                    // of the box, in place of Mouths; nil: there is none
	Edges    func(hz float64) complex128 // the level in the open over Response; nil: not known
	Origin   string                      // where the level comes from, in words
	Inside   float64                     // way of the sound from the driver to the mouths that neither Response nor the places hold, m
	// Circuit is that of the band's drivers in one box, which Response comes from; nil where
	// their parameters do not suffice.
	Circuit *driver.Circuit
	Turned  float64 // by how much the band is turned up to match, dB; NaN: its own level is not known
}

// Crossing is the crossover between two neighbouring bands, as the design has it.
type Crossing struct {
	Low, High         string // bands
	Alignment         filter.Alignment
	Order             int
	Frequency         float64 // Hz
	LowPath, HighPath filter.Path
	FromFile          bool            // the frequency stands in the file
	Gain              float64         // of the high band against the level that matches the low one, dB
	Handover          sizing.Handover // where the two may hand over
}

// Model is a design as a stack of mouths.
type Model struct {
	Stack    field.Stack
	Bands    []Band // one for each drive
	Crossing []Crossing
	Absolute bool // levels are dB re 20 µPa
	Voltage  float64
	Assumed  []Assumption
	// HalfSpaceFrom is the frequency below which a stack in the open is quieter
	// than half-space levels say, Hz.
	HalfSpaceFrom float64
	anchor        int // band whose level the others are matched to
}

// Reference names what 0 dB is.
func (m *Model) Reference() string {
	if m.Absolute {
		return "dB re 20 µPa"
	}
	return "dB re one box on its axis at 1 m"
}

// Band returns the index of the band with the given name; −1 when the stack has
// none.
func (m *Model) Band(name string) int {
	for i := range m.Bands {
		if m.Bands[i].Name == name {
			return i
		}
	}
	return -1
}

// New maps the design. Problems name the keys that are missing or wrong; when
// there are any, the model is nil.
func New(d *design.Design, c Choice) (*Model, []check.Problem) {
	b := builder{design: d, choice: c, model: &Model{Voltage: numeric.Absent}, air: air.Of(d.Air)}
	b.box()
	b.bands()
	b.patterns()
	for _, step := range []func(){b.filters, b.levels, b.hang} {
		if len(b.problems) == 0 {
			step()
		}
	}
	if len(b.problems) > 0 {
		return nil, b.problems
	}
	return b.model, nil
}

// builder collects the model and what is wrong with the design.
type builder struct {
	design   *design.Design
	choice   Choice
	model    *Model
	air      air.Air
	layout   *layout.Layout
	outside  field.Box
	mouths   field.Vec       // mean place of all mouths of a box, m
	places   []*design.Place // one for each band
	problems []check.Problem
}

func (b *builder) problem(text string, keys ...string) {
	b.problems = append(b.problems, check.Problem{Keys: keys, Text: text})
}

// box works out the outside of one cabinet.
func (b *builder) box() {
	d := b.design
	if d.Line.Boxes == 0 {
		b.problem("line.boxes is needed: the number of boxes in the line", "line.boxes")
	}
	if b.choice.WithoutInsert && d.HasInsert() {
		bare := *d
		bare.Insert = design.New().Insert
		d = &bare
	}
	l := layout.New(d)
	b.layout = l
	b.outside = field.Box{Height: l.Height, Width: l.Width, Depth: l.BoxDepth(), RearHeight: l.RearHeight}
	if !(b.outside.Height > 0) {
		b.problem("cabinet.height (or cabinet.pitch) is needed: the boxes stand on each other by it", "cabinet.height", "cabinet.pitch")
	}
	if h := d.Hanging.Hinge; !d.Cabinet.Depth.Given() && h.NeedsDepth() {
		b.problem(fmt.Sprintf("cabinet.depth is needed with line.hinge = %q: the boxes turn about their %s edge", h, h), "line.hinge")
	}
}

// hang puts the boxes on each other.
func (b *builder) hang() {
	d, m := b.design, b.model
	b.keep()
	if len(b.problems) > 0 {
		return
	}
	for i := range m.Bands {
		for j := range m.Bands[i].Mouths {
			m.Bands[i].Mouths[j].Drive = i
		}
		b.outside.Mouths = append(b.outside.Mouths, m.Bands[i].Mouths...)
		m.Stack.Drives = append(m.Stack.Drives, b.drive(i))
	}
	m.HalfSpaceFrom = b.air.SoundSpeed / (math.Pi * b.outside.Width)
	m.Stack.Boxes = field.Repeat(b.outside, d.Line.Boxes)
	m.Stack.Gap = b.layout.Stack.Gap
	m.Stack.TopHeight = numeric.Absent
	if b.choice.Straight {
		b.check()
		return
	}
	hung := &b.layout.Stack
	m.Stack.Hinge, m.Stack.Splay, m.Stack.TopHeight, m.Stack.Tilt = hung.Hinge, hung.Splay, hung.TopHeight, hung.Tilt
	if len(d.Hanging.Shading) > 0 {
		m.Stack.Shading = d.Hanging.Shading
	}
	if len(d.Hanging.Delays) > 0 {
		m.Stack.Delays = d.Hanging.Delays
	}
	b.check()
}

// drive is the signal of band i with its filter. Its strength is that of one
// mouth with all its sound in phase, so that what a curved front takes from the
// axis is given back.
func (b *builder) drive(i int) field.Drive {
	band := &b.model.Bands[i]
	n, c, mouth := complex(float64(len(band.Mouths)), 0), b.air.SoundSpeed, band.Mouths[0]
	level := band.OnAxis
	if b.choice.HalfSpace {
		level = band.Response
	}
	out := field.Drive{Name: band.Name, Filter: func(hz float64) complex128 {
		return level(hz) * band.Path.Response(hz) / (n * mouth.AxisFactor(hz, c))
	}}
	b.hangPattern(band, &out)
	if b.model.Absolute {
		out.Pressure = 1
	}
	return out
}

// check turns what the field refuses into words of the file. Counts and sizes
// are checked before; what is left is where the stack hangs.
func (b *builder) check() {
	if err := b.model.Stack.Validate(); err != nil {
		b.problem("line.top_height, line.tilt and line.splay: "+err.Error(), "line.top_height", "line.tilt", "line.splay", "line.boxes")
	}
}
