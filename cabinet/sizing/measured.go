package sizing

import "gapline/internal/numeric"

// MeasuredSizing is what traces of the design as it stands say, Hz; NaN marks what none
// says. Size leaves it absent; whoever has traces puts it in.
type MeasuredSizing struct {
	Coupling, CouplingFrom, CouplingTo float64 // upper end of coupling of what meets the horn, and between what it lies
	Pattern, PatternFrom, PatternTo    float64 // lower end of the horn's pattern control, likewise
}

// AbsentMeasured is the result of no trace.
var AbsentMeasured = MeasuredSizing{numeric.Absent, numeric.Absent, numeric.Absent, numeric.Absent, numeric.Absent, numeric.Absent}

// Given reports whether any trace says something.
func (m *MeasuredSizing) Given() bool { return numeric.Given(m.Coupling) || numeric.Given(m.Pattern) }
