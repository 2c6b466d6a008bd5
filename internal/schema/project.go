package schema

import (
	"strings"

	"gapline/cabinet/design"
)

// Project is a design with what is asked of it: which keys follow others, how far
// they may be off, and what to look for.
type Project struct {
	Design     design.Design
	Links      []Link      // in the order in which they apply
	Tolerances *Tolerances // nil: none are given
	Search     *Search     // nil: none is given
}

// Fault is what a study finds missing or impossible in a project.
type Fault struct {
	Path string // of the key or table
	Text string // what is wrong, after the path
	// Example holds lines of a design file that would be right, for a fault that one
	// line cannot tell; usually empty.
	Example string
}

// Faults are all that a study finds. The one who read the project knows its file and
// lines.
type Faults []Fault

// Error returns one line for each fault, with its example on the lines below.
func (fs Faults) Error() string {
	lines := make([]string, len(fs))
	for i, f := range fs {
		lines[i] = f.Path + " " + f.Text
		if f.Example != "" {
			lines[i] += "\n" + f.Example
		}
	}
	return strings.Join(lines, "\n")
}
