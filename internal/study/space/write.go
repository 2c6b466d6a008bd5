package space

import (
	"fmt"
	"slices"
	"strings"

	"gapline/internal/quantity"
	"gapline/internal/schema"
)

// Written returns a design that was found as a project of its own, with the links that
// still hold and the tolerances, and a comment of a few lines that says where it comes
// from. source names the file that was searched.
func (h *Search) Written(c *Candidate, source string) (p schema.Project, comment string) {
	p = schema.Project{Design: c.Design, Links: h.kept(), Tolerances: h.Project.Tolerances}
	if p.Design.Title != "" {
		p.Design.Title += ", "
	}
	p.Design.Title += "found " + c.Label
	var b strings.Builder
	fmt.Fprintf(&b, "Design %s, found by gapline search in %s (seed %d, %d designs).\n",
		c.Label, strings.Join(strings.Fields(source), " "), h.Table.Seed, h.Plan.Designs)
	for i, g := range h.Table.Goals {
		fmt.Fprintf(&b, "%s: %s\n", g, quantity.Format(h.Goal(c, i), g.Of.Kind(), quantity.Metric))
	}
	for i, l := range h.Table.Limits {
		fmt.Fprintf(&b, "%s: %s\n", l.Text(quantity.Metric), quantity.Format(h.Limited(c, i), l.Of.Kind(), quantity.Metric))
	}
	return p, b.String()
}

// kept returns the links whose targets do not vary.
func (h *Search) kept() []schema.Link {
	return slices.DeleteFunc(slices.Clone(h.Project.Links), func(l schema.Link) bool { return slices.Contains(h.Keys, l.Target) })
}
