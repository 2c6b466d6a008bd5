package figure

import "gapline/internal/quantity"

const keptTraces = "traces that [measured] names, taken on the design as it stands; null where there are none, or where the keys that they depend on have changed since"

// The limits that kept traces give.
var (
	CouplingMeasured = &Def{
		Key: "coupling.measured_hz", Name: "couples up to, measured", Symbol: "f_m", Kind: quantity.Frequency, Trust: Measured,
		Formula: "f_m: trace.pairs.limit_hz of measured.stack less measured.closer", Terms: From("trace.pairs.limit_hz", "measured.stack", "measured.closer", "measured.threshold"),
		Source: keptTraces, Domain: twoTraces,
		Note: "What the mouths' distances alone do to a stack. The chamber of an insert acts in both traces and stays a limit of its own.",
	}
	HornPatternMeasured = &Def{
		Key: "horn.pattern_measured_hz", Name: "holds its coverage from, measured", Symbol: "f_θ,m", Kind: quantity.Frequency, Trust: Measured,
		Formula: "f_θ,m: trace.pairs.control_hz of measured.axis less measured.edge", Terms: From("trace.pairs.control_hz", "measured.axis", "measured.edge"),
		Source: keptTraces, Domain: twoTraces,
	}
)
