package designfile

import (
	"gapline/internal/check"
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
