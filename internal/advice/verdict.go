package advice

import (
	"math"

	"gapline/cabinet/design"
	"gapline/cabinet/sizing"
	"gapline/internal/study/fit"
)

// Verdict is the judgement of the gap.
type Verdict uint8

// The verdicts.
const (
	GapMisfit  Verdict = iota // the box cannot be built as it is given
	GapUnknown                // the design does not give enough
	GapMissed                 // the gap is wider than allowed
	GapMet
	verdictCount
)

var verdicts = [verdictCount]string{"misfit", "unknown", "missed", "met"}

// String returns the word in JSON.
func (v Verdict) String() string { return verdicts[v] }

// VerdictOf judges the gap of a design.
func VerdictOf(d *design.Design, s *sizing.Sizing, fits *fit.Fit) Verdict {
	switch gap := s.Gap.AsGiven(); {
	case len(fits.Misfits) > 0:
		return GapMisfit
	case math.IsNaN(gap):
		return GapUnknown
	case gap > d.Targets.Gap.Or(0):
		return GapMissed
	}
	return GapMet
}
