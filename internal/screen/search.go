package screen

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"gapline/internal/advice"
	"gapline/internal/figure"
	"gapline/internal/quantity"
	"gapline/internal/schema"
	"gapline/internal/study/size"
	"gapline/internal/study/space"
)

// FoundView is the result of the search command with what it was asked.
type FoundView struct {
	Hunt  *space.Search
	Found *space.Found
}

// Write prints the result for people.
func (v *FoundView) Write(w io.Writer, sys quantity.System) error {
	var b strings.Builder
	b.WriteString(titleOf(&v.Hunt.Project.Design) + "\n")
	for _, line := range v.counts() {
		b.WriteString(Wrap(line, lineWidth, "", ""))
	}
	tables := []*Table{v.limitTable(sys)}
	if len(v.Found.Best) > 0 {
		tables = append(tables, v.bestTables(sys)...)
	}
	for _, t := range tables {
		if len(t.rows) == 0 {
			continue
		}
		b.WriteByte('\n')
		if _, err := t.WriteTo(&b); err != nil {
			return err
		}
	}
	v.writeHeld(&b)
	v.writeNothing(&b, sys)
	writeCautions(&b, advice.DesignCautions(v.loud()))
	_, err := io.WriteString(w, b.String())
	return err
}

// counts says how many designs were looked at and what became of them.
func (v *FoundView) counts() []string {
	a := v.Found.Archive
	total := a.Evaluated + a.Impossible + a.Incomplete
	what := fmt.Sprintf("%d designs within the ranges (seed %d), and %d in local searches from the best of them.", total, v.Hunt.Table.Seed, a.Refined)
	if v.Hunt.Plan.Exhaustive() {
		what = fmt.Sprintf("%d designs: every combination within the ranges.", total)
	}
	out := []string{what}
	if a.Impossible > 0 {
		out = append(out, fmt.Sprintf("%d cannot exist (%s). The first: %s.", a.Impossible, percent(float64(a.Impossible)/float64(total)), strings.TrimSuffix(v.Found.First, ".")))
	}
	if a.Incomplete > 0 {
		out = append(out, fmt.Sprintf("For %d a goal or a limit cannot be computed.", a.Incomplete))
	}
	switch n := len(v.Found.Front); {
	case n == 0:
	case len(v.Hunt.Table.Goals) == 1:
		out = append(out, fmt.Sprintf("%d meet every limit (%s).", a.Feasible, percent(float64(a.Feasible)/float64(total))))
	case n == 1:
		out = append(out, fmt.Sprintf("%d meet every limit (%s). The goals do not pull against each other here: one design is best in all of them.",
			a.Feasible, percent(float64(a.Feasible)/float64(total))))
	default:
		out = append(out, fmt.Sprintf("%d meet every limit (%s); %d of all found are beaten by no other in every goal.",
			a.Feasible, percent(float64(a.Feasible)/float64(total)), n))
	}
	return out
}

func (v *FoundView) limitTable(sys quantity.System) *Table {
	t := &Table{}
	if len(v.Hunt.Table.Limits) == 0 {
		return t
	}
	t.Row("LIMITS", "met by")
	for i, l := range v.Hunt.Table.Limits {
		t.Row("  "+l.Text(sys), percent(float64(v.Found.Archive.Met[i])/float64(v.Found.Archive.Evaluated)))
	}
	return t
}

// perBlock is how many designs stand side by side.
const perBlock = 5

// bestTables lists the best designs in columns.
func (v *FoundView) bestTables(sys quantity.System) []*Table {
	var out []*Table
	for block := range slices.Chunk(v.Found.Best, perBlock) {
		t := &Table{}
		v.row(t, "FOUND", block, "trust", func(c *space.Candidate) string { return c.Label })
		for i := range v.Hunt.Table.Vary {
			v.row(t, "  "+v.Hunt.Table.Vary[i].Key.Path, block, "", func(c *space.Candidate) string { return c.Values[i].Show(sys) })
		}
		for i, g := range v.Hunt.Table.Goals {
			v.row(t, g.String(), block, v.trust(g.Of), func(c *space.Candidate) string { return measureText(g.Of, v.Hunt.Goal(c, i), sys) })
		}
		for i, l := range v.Hunt.Table.Limits {
			if v.isGoal(l.Of) || v.isVaried(l.Of) {
				continue
			}
			v.row(t, l.Text(sys), block, v.trust(l.Of), func(c *space.Candidate) string { return measureText(l.Of, v.Hunt.Limited(c, i), sys) })
		}
		out = append(out, t)
	}
	return out
}

func (v *FoundView) row(t *Table, name string, block []space.Candidate, trust string, cell func(*space.Candidate) string) {
	row := []string{name}
	for i := range block {
		row = append(row, cell(&block[i]))
	}
	t.Row(append(row, trust)...)
}

func (v *FoundView) isGoal(m schema.Measure) bool {
	return slices.ContainsFunc(v.Hunt.Table.Goals, func(g schema.Goal) bool { return g.Of == m })
}

func (v *FoundView) isVaried(m schema.Measure) bool {
	return slices.ContainsFunc(v.Hunt.Table.Vary, func(x schema.Variation) bool { return x.Key == m.Key })
}

// trust is the level of a measure; on a basis that is itself varied it is that of
// the first design.
func (v *FoundView) trust(m schema.Measure) string {
	if m.Figure == nil {
		return figure.Geometry.String()
	}
	return size.Trust(&v.Found.Best[0].Sizing, m.Figure).String()
}

// measureText writes a value of a measure, gaps with their sign.
func measureText(m schema.Measure, x float64, sys quantity.System) string {
	if m.Figure != nil {
		return valueText(m.Figure, x, sys)
	}
	return quantity.Format(x, m.Key.Kind, sys)
}

// writeHeld says what limits each design.
func (v *FoundView) writeHeld(b *strings.Builder) {
	if len(v.Found.Best) == 0 {
		return
	}
	b.WriteString("\nHELD BACK BY\n")
	for _, c := range v.Found.Best {
		b.WriteString(Wrap(HeldText(c.Held, len(v.Hunt.Table.Goals)), lineWidth, "  "+c.Label+"  ", "     "))
	}
}

// HeldText says in words what limits a design.
func HeldText(held []string, goals int) string {
	switch {
	case len(held) > 0:
		return strings.Join(held, "; ")
	case goals > 1:
		return "its other goals: no limit binds, and no key is at an end of its range"
	}
	return "nothing: no limit binds, and no key is at an end of its range"
}

// writeNothing says how to make something fit.
func (v *FoundView) writeNothing(b *strings.Builder, sys quantity.System) {
	f := v.Found
	if len(f.Front) > 0 {
		return
	}
	b.WriteString("\nNOTHING FITS. ")
	switch {
	case len(f.Relax) > 0:
		b.WriteString("One of these changes makes something fit, the least first:\n")
		v.writeRelax(b, f.Relax, sys)
	case f.Nearest != nil:
		b.WriteString("No single limit is to blame. The nearest design needs all of these:\n")
		v.writeRelax(b, f.Missed, sys)
	default:
		b.WriteString("No design within the ranges has all the goals and limits.\n")
	}
}

func (v *FoundView) writeRelax(b *strings.Builder, list []space.Relaxation, sys quantity.System) {
	for _, r := range list {
		var at []string
		for _, x := range r.Design.Values {
			at = append(at, x.Key.Path+" "+x.Show(sys))
		}
		b.WriteString(Wrap(RelaxText(r, sys)+" With "+strings.Join(at, ", ")+".", lineWidth, "  ", "    "))
	}
}

// RelaxText says how far a limit has to move.
func RelaxText(r space.Relaxation, sys quantity.System) string {
	return fmt.Sprintf("%s: make it %s %s, %s of the range it takes here.", r.Limit.Text(sys), r.Limit.Sign(),
		quantity.Canonical(r.To, r.Limit.Of.Kind()), percent(r.Share))
}
