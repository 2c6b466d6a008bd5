package machine

import (
	"io"
	"strings"

	"gapline/internal/quantity"
	"gapline/internal/render/terminal"
	"gapline/internal/result"
)

// Tabs writes the first listed table of r as text in columns with tabs between them,
// as programs for measurements read it: title, conditions and heads stand in front as
// comments behind "#", numbers in the digits of their style.
func Tabs(w io.Writer, r *result.Result) error {
	var b strings.Builder
	b.WriteString("# " + r.Title + "\n")
	for _, t := range r.Head {
		b.WriteString("# " + terminal.Text(t, quantity.Metric) + "\n")
	}
	for _, part := range flat(r.Chosen(result.Choice{Place: result.Listing})) {
		if t, ok := part.(result.Table); ok {
			tabbed(&b, &t)
			break
		}
	}
	_, err := io.WriteString(w, b.String())
	return err
}

func tabbed(b *strings.Builder, t *result.Table) {
	heads := make([]string, len(t.Columns))
	for i, c := range t.Columns {
		heads[i] = terminal.Text(c.Head, quantity.Metric)
	}
	b.WriteString("# " + strings.Join(heads, "\t") + "\n")
	for row := range t.Rows {
		for i := range row.Cells {
			if i > 0 {
				b.WriteByte('\t')
			}
			b.WriteString(terminal.Cell(row.Cells[i], quantity.Metric))
		}
		b.WriteByte('\n')
	}
}
