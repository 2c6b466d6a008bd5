package machine

import (
	"io"
	"strings"

	"gapline/internal/cleantext"
	"gapline/internal/quantity"
	"gapline/internal/render/terminal"
	"gapline/internal/result"
)

// CSV writes the tables and grids of r that a listing of the views asked for holds,
// one after the other with an empty line between them.
func CSV(w io.Writer, r *result.Result, views ...string) error {
	out := cleantext.NewCSV(w)
	first := true
	for _, part := range flat(r.Chosen(result.Choice{Place: result.Listing, Views: views})) {
		if !first {
			out.Flush()
			if _, err := io.WriteString(w, "\n"); err != nil {
				return err
			}
		}
		first = false
		var err error
		switch x := part.(type) {
		case result.Table:
			err = listTable(out, &x)
		case result.Grid:
			err = listGrid(out, &x)
		}
		if err != nil {
			return err
		}
	}
	out.Flush()
	return out.Error()
}

// flat takes the tables and grids out of their sections.
func flat(parts []result.Part) []result.Part {
	var out []result.Part
	for _, p := range parts {
		switch x := p.(type) {
		case result.Section:
			out = append(out, flat(x.Parts)...)
		case result.Table, result.Grid:
			out = append(out, p)
		}
	}
	return out
}

// listTable writes a table: rows under keys of their own begin with it.
func listTable(out *cleantext.CSV, t *result.Table) error {
	var line []string
	keyed := t.As == result.ByRow || t.As == result.ByName
	if keyed {
		line = append(line, "key")
	}
	for i := range t.Columns {
		if !t.Columns[i].Empty {
			line = append(line, t.Columns[i].Name())
		}
	}
	if err := out.Write(line); err != nil {
		return err
	}
	for row := range t.Rows {
		line = line[:0]
		if keyed {
			line = append(line, row.Key)
		}
		next := 0
		for i := range t.Columns {
			switch {
			case t.Columns[i].Empty:
				next++
			case t.Columns[i].Trust:
				line = append(line, row.Trust.String())
			case next < len(row.Cells):
				line = append(line, field(&row.Cells[next]))
				next++
			default:
				line = append(line, "")
			}
		}
		if err := out.Write(line); err != nil {
			return err
		}
	}
	return nil
}

// listGrid writes a grid: a row for each value of Y and a column for each of X, or
// the other way round where it is turned.
func listGrid(out *cleantext.CSV, g *result.Grid) error {
	down, across := &g.Y, &g.X
	at := func(i, j int) float64 { return g.Z[i][j] }
	if g.Turned {
		down, across = across, down
		at = func(i, j int) float64 { return g.Z[j][i] }
	}
	line := append([]string{down.Name()}, g.Heads...)
	if err := out.Write(line); err != nil {
		return err
	}
	for i, x := range down.SI {
		line = append(line[:0], number(down.Fig.Machine(x)))
		for j := range across.SI {
			line = append(line, number(g.Fig.Machine(at(i, j))))
		}
		if err := out.Write(line); err != nil {
			return err
		}
	}
	return nil
}

// field is a cell as CSV holds it: empty where there is nothing, the items of a list
// with a blank between them.
func field(c *result.Cell) string {
	switch c.StateOf() {
	case result.Value:
		return number(machine(c))
	case result.Truth:
		return map[bool]string{true: "true", false: "false"}[c.Truth]
	case result.Wording:
		if c.Phrase != nil {
			return terminal.Text(*c.Phrase, quantity.Metric)
		}
		return c.Words
	case result.Many:
		parts := make([]string, len(c.List))
		for i := range c.List {
			parts[i] = field(&c.List[i])
		}
		return strings.Join(parts, " ")
	}
	return ""
}

// number is a number as CSV holds it.
func number(x float64) string { return string(AppendField(nil, x)) }
