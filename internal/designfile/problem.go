package designfile

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// Problem is one fault of a design file or of a command-line setting.
type Problem struct {
	Where string // file, or the flag that carried the setting
	Line  int    // 0 when there is none
	Text  string // starts with the key

	// Example holds lines of a file that would be right, for a fault that one line
	// cannot tell; usually empty.
	Example string
}

// With returns the problem with an example of what would be right.
func (p Problem) With(example string) Problem {
	p.Example = example
	return p
}

// String returns "file:line: text", with the example on the lines below.
func (p Problem) String() string {
	switch {
	case p.Example != "":
		return p.With("").String() + "\n" + p.Example
	case p.Where == "":
		return p.Text
	case p.Line == 0:
		return p.Where + ": " + p.Text
	}
	return fmt.Sprintf("%s:%d: %s", p.Where, p.Line, p.Text)
}

// Problems are all faults of a file, in the order of its lines. It is the
// error type of every function that reads a design.
type Problems []Problem

// Error returns one line for each problem.
func (ps Problems) Error() string {
	lines := make([]string, len(ps))
	for i, p := range ps {
		lines[i] = p.String()
	}
	return strings.Join(lines, "\n")
}

// maxProblems bounds what is printed of a file that is wrong all over.
const maxProblems = 30

func (ps Problems) sorted() Problems {
	slices.SortStableFunc(ps, func(a, b Problem) int {
		return cmp.Or(cmp.Compare(a.Where, b.Where), cmp.Compare(a.Line, b.Line))
	})
	if len(ps) > maxProblems {
		rest := len(ps) - maxProblems
		ps = append(ps[:maxProblems:maxProblems], Problem{Where: ps[0].Where, Text: fmt.Sprintf("and %d more", rest)})
	}
	return ps
}
