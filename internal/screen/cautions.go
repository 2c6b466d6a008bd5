package screen

import (
	"math"
	"slices"
	"strings"

	"gapline/internal/advice"
	"gapline/internal/designfile"
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

const levelKey = "box.max_spl_db"

// loud reports whether the tolerances' figures hold a level.
func (v *DoubtView) loud() bool {
	for i := range v.Result.Figures {
		if b := &v.Result.Figures[i]; b.Figure.Key == levelKey && !math.IsNaN(b.Value) {
			return true
		}
	}
	return false
}

// loud reports whether a goal or a limit is a level.
func (v *FoundView) loud() bool {
	return slices.ContainsFunc(v.measures(), func(m designfile.Measure) bool { return m.Name() == levelKey })
}

// writeCautions adds cautions below a result.
func writeCautions(b *strings.Builder, cautions []string) {
	b.WriteByte('\n')
	for _, text := range cautions {
		b.WriteString(Wrap(text, lineWidth, signs[advice.Caution], "        "))
	}
}
