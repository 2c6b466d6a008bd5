package space

import (
	"fmt"
	"slices"
	"strings"

	"gapline/internal/designfile"
	"gapline/internal/quantity"
)

// Encode returns a design that was found as the text of a design file: with the
// links that still hold and the tolerances, under a comment that says where it
// comes from. source names the file that was searched.
func (h *Search) Encode(c *Candidate, source string) []byte {
	f := designfile.File{Design: c.Design, Links: h.kept(), Tolerances: h.File.Tolerances}
	if f.Design.Title != "" {
		f.Design.Title += ", "
	}
	f.Design.Title += "found " + c.Label
	var b strings.Builder
	fmt.Fprintf(&b, "Design %s, found by gapline search in %s (seed %d, %d designs).\n",
		c.Label, strings.Join(strings.Fields(source), " "), h.Table.Seed, h.Plan.Designs)
	for i, g := range h.Table.Goals {
		fmt.Fprintf(&b, "%s: %s\n", g, quantity.Format(h.Goal(c, i), g.Of.Kind(), quantity.Metric))
	}
	for i, l := range h.Table.Limits {
		fmt.Fprintf(&b, "%s: %s\n", l.Text(quantity.Metric), quantity.Format(h.Limited(c, i), l.Of.Kind(), quantity.Metric))
	}
	return f.Encode(b.String())
}

// kept returns the links of the file whose targets do not vary.
func (h *Search) kept() []designfile.Link {
	return slices.DeleteFunc(slices.Clone(h.File.Links), func(l designfile.Link) bool { return slices.Contains(h.Keys, l.Target) })
}
