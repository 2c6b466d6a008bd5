package designfile

import (
	"cmp"
	"errors"
	"slices"

	"gapline/internal/check"
	"gapline/internal/schema"
)

// Fault turns problems of the design, found after reading, into those of the file
// with the line of the first key that it gives.
func (f *File) Fault(problems ...check.Problem) Problems {
	var out Problems
	for _, p := range problems {
		line := 0
		for _, k := range p.Keys {
			if n := f.given[k]; n > 0 {
				line = n
				break
			}
		}
		out = append(out, Problem{Where: f.Name, Line: line, Text: p.Text})
	}
	return out.sorted()
}

// FaultOf is Fault for an error about one table of the file; a joined error
// becomes a problem for each of its parts.
func (f *File) FaultOf(table string, err error) Problems {
	var problems []check.Problem
	for _, e := range check.Unjoined(err) {
		problems = append(problems, check.Problem{Text: table + " cannot be: " + e.Error()})
	}
	return f.Fault(problems...)
}

// Locate gives the faults that a study found in the project of the file their lines,
// in the order of these; another error stays as it is.
func (f *File) Locate(err error) error {
	var faults schema.Faults
	if !errors.As(err, &faults) {
		return err
	}
	r := reader{file: f, lines: f.lines}
	for i, x := range faults {
		r.fault(x.Path, "%s", x.Text)
		r.problems[i].Example = x.Example
	}
	slices.SortStableFunc(r.problems, func(a, b Problem) int { return cmp.Compare(a.Line, b.Line) })
	return r.problems
}
