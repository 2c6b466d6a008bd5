// Package line works out what a design's stack does: polars, maps, level
// against distance, levels at the seats, coupling, the best splay, and the sum
// through the crossover. It chooses what is computed and collects results;
// package field does the physics, package source maps the design.
package line

import (
	"math"

	"gapline/cabinet/design"
	"gapline/cabinet/field"
	"gapline/cabinet/source"
	"gapline/internal/check"
	"gapline/internal/numeric"
)

// Conditions are what a study assumes beside the design.
type Conditions struct {
	Choice     source.Choice
	Boundary   field.Boundary
	Ground     float64    // reflection coefficient of the floor; 0: none
	Absorption Absorption // of the air
	Shape      *Shape     // in place of the file's splay; nil: the file's
	Reference  Reference  // of levels over angle in pictures
	Progress   Progress   // nil: none
}

// Progress is told what is being worked on and how far it has come; total is 0
// where the end is not known.
type Progress func(what string, done, total int)

// Absorption says whether the air absorbs.
type Absorption int

// The choices.
const (
	AutomaticAbsorption Absorption = iota // at seats, points and in the side view
	WithAbsorption
	WithoutAbsorption
)

// Study is a design hung and ready to be heard.
type Study struct {
	Design     *design.Design
	Model      *source.Model
	Conditions Conditions
	near, far  *field.Engine // with and without absorption
}

// New hangs the design.
func New(d *design.Design, c Conditions) (*Study, []check.Problem) {
	s := &Study{Design: d, Conditions: c}
	if c.Shape != nil {
		bent := *d
		bent.Line.Splay = c.Shape.splay(d.Line.Boxes)
		s.Design = &bent
	}
	var problems []check.Problem
	if s.Model, problems = source.New(s.Design, c.Choice); problems != nil {
		return nil, problems
	}
	if c.Ground > 0 && math.IsNaN(s.Model.Stack.TopHeight) {
		return nil, []check.Problem{{Keys: []string{"line.boxes"}, Text: "line.top_height is needed for a floor that reflects: how high the top of the line hangs above it"}}
	}
	var err error
	if s.near, err = field.New(s.Model.Stack, s.options("", true)); err == nil {
		s.far, err = field.New(s.Model.Stack, s.options("", false))
	}
	if err != nil {
		return nil, []check.Problem{{Keys: []string{"line.top_height", "line.boxes"}, Text: err.Error()}}
	}
	return s, nil
}

// options are the field's for a view; absorbing says whether air absorption is
// usual in it.
func (s *Study) options(what string, absorbing bool) field.Options {
	o := field.Options{Air: s.Design.Air, Boundary: s.Conditions.Boundary, Ground: s.Conditions.Ground,
		Absorption: s.Conditions.Absorption == WithAbsorption || s.Conditions.Absorption == AutomaticAbsorption && absorbing}
	if p := s.Conditions.Progress; p != nil && what != "" {
		o.Progress = func(done, total int) { p(what, done, total) }
	}
	return o
}

// engine returns the stack for a view with its progress.
func (s *Study) engine(what string, absorbing bool, tolerance float64) (*field.Engine, error) {
	o := s.options(what, absorbing)
	o.Tolerance = tolerance
	return field.New(s.Model.Stack, o)
}

// Absorbs reports whether a view counts air absorption.
func (s *Study) Absorbs(usual bool) bool { return s.options("", usual).Absorption }

// SoundSpeed returns c, m/s.
func (s *Study) SoundSpeed() float64 { return s.far.SoundSpeed() }

// Outlines returns where the boxes hang.
func (s *Study) Outlines() []field.Outline { return s.Model.Stack.Outlines() }

// Lowest returns the height of the lowest corner of the stack above the ground,
// m; NaN for a stack without height.
func (s *Study) Lowest() float64 {
	if math.IsNaN(s.Model.Stack.TopHeight) {
		return numeric.Absent
	}
	low := math.Inf(1)
	for _, o := range s.Outlines() {
		for _, p := range o.Corner {
			low = math.Min(low, p.Z)
		}
	}
	return low
}

// TotalSplay returns the angle between the first and the last box, rad.
func (s *Study) TotalSplay() float64 {
	sum := 0.0
	for _, a := range s.Model.Stack.Splay {
		sum += a
	}
	return sum
}

// AxisDown returns how far the stack's axis points down, rad.
func (s *Study) AxisDown() float64 { return s.far.AxisAngle() }
