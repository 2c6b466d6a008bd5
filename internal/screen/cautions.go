package screen

import (
	"slices"
	"strings"

	"gapline/internal/designfile"
	"gapline/internal/figure"
	"gapline/internal/quantity"
	"gapline/internal/render/terminal"
	"gapline/internal/result"
)

// loud reports whether a goal or a limit is a level.
func (v *FoundView) loud() bool {
	return slices.ContainsFunc(v.measures(), func(m designfile.Measure) bool { return m.Figure == figure.BoxMaxSPL })
}

// writeCautions adds cautions below a result.
func writeCautions(b *strings.Builder, cautions []result.Finding) {
	b.WriteByte('\n')
	b.WriteString(terminal.Findings(cautions, quantity.Metric)) // no numbers in them
}
