package screen

import (
	"math"
	"slices"
	"strings"

	"gapline/internal/advice"
	"gapline/internal/designfile"
	"gapline/internal/figure"
)

// studyCautions are what must be said beside the results of many designs: that of
// the stack, and that of the level where one is among the figures shown.
func studyCautions(loud bool) []string {
	out := []string{advice.SuspensionCaution}
	if loud {
		out = append(out, advice.LoudnessCaution)
	}
	return out
}

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
	return slices.ContainsFunc(v.measures(), func(m designfile.Measure) bool { return m.Figure == figure.BoxMaxSPL })
}

// writeCautions adds cautions below a result.
func writeCautions(b *strings.Builder, cautions []string) {
	b.WriteByte('\n')
	for _, text := range cautions {
		b.WriteString(Wrap(text, lineWidth, signs[advice.Caution], "        "))
	}
}
