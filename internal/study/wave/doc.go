// Package wave solves the wave equation in plane sections of a design: the plan
// through cabinet and horn, the layers of the folded guide, and the turn between
// them. It settles the order of the work, sizes the design with what was found, and
// solves the field that a picture needs. It prints and draws nothing.
package wave

import (
	"slices"

	"gapline/cabinet/section"
	"gapline/internal/bem"
	"gapline/internal/check"
	guide "gapline/waveguide/wave"
)

// Problems are what keeps a section from being cut out of a design.
type Problems []check.Problem

// Error returns the first one.
func (p Problems) Error() string { return p[0].Text }

// Options say what to solve and how.
type Options struct {
	Frequencies []float64                                    // Hz, ascending
	Halve       bool                                         // solve again with elements of half the size
	Field       float64                                      // Hz, at which the field is solved too; 0: none
	Progress    func(done, total int)                        // of the solutions; may be nil
	Forecast    func(f float64, unknowns int, bytes float64) // told the largest solution before the work; may be nil
}

// Field is the sound field at one frequency.
type Field struct {
	First, Second *guide.Field // Second is that of the fold's second layer; nil for the plan
	Reference     complex128   // pressure at the point to which a picture relates level and phase, Pa
}

// solve returns how to solve, for that many sweeps.
func (o *Options) solve(sweeps int) section.Solve {
	total := sweeps * len(o.Frequencies)
	if o.Halve {
		total *= 2
	}
	s := section.Solve{Frequencies: o.Frequencies, Halve: o.Halve}
	if o.Progress != nil {
		s.Run = bem.Run{Progress: func(done, _ int) { o.Progress(done, total) }}
	}
	return s
}

// forecast tells what the largest solution of a problem takes. What is wrong with
// the problem, or too large, the solver says before it starts.
func (o *Options) forecast(problem *bem.Problem, err error) {
	if err != nil || o.Forecast == nil {
		return
	}
	top := max(o.Field, slices.Max(o.Frequencies))
	finest := bem.Options{}
	if o.Halve {
		finest = finest.Finer()
	}
	if n, bytes, err := problem.Unknowns(top, finest); err == nil {
		o.Forecast(top, n, float64(bytes))
	}
}
