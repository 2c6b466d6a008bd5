package screen

import (
	"math"
	"slices"
	"strings"

	"gapline/internal/figure"
	"gapline/internal/quantity"
	"gapline/internal/render/terminal"
	"gapline/internal/result"
	"gapline/internal/schema"
)

// loud reports whether the tolerances' figures hold a level.
func (v *ToleranceView) loud() bool {
	for i := range v.Result.Figures {
		if b := &v.Result.Figures[i]; b.Figure == figure.BoxMaxSPL && !math.IsNaN(b.Value) {
			return true
		}
	}
	return false
}

// loud reports whether a goal or a limit is a level.
func (v *FoundView) loud() bool {
	return slices.ContainsFunc(v.measures(), func(m schema.Measure) bool { return m.Figure == figure.BoxMaxSPL })
}

// writeCautions adds cautions below a result.
func writeCautions(b *strings.Builder, cautions []result.Finding) {
	b.WriteByte('\n')
	b.WriteString(terminal.Findings(cautions, quantity.Metric)) // no numbers in them
}
