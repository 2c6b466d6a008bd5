package figure

import (
	"slices"

	"gapline/internal/quantity"
)

const (
	throughFilters = "sum of both bands through their filters, with the true places of all mouths; " + sumOfMouths
	atMouths       = "delays count at the mouths; " + noShadow
)

var (
	crossed   = with(stackTerms, "", From("crossover.frequency", "crossover.order", "crossover.alignment")...)
	ofWindow  = From("gap.low_hz", "gap.high_hz")
	thousands = quantity.Style{Verb: "%.3f"}
)

// crossoverStudy lists what gapline crossover prints.
var crossoverStudy = slices.Concat(
	CrossoverHung.all(),
	[]*Def{CrossingFrequency, CrossingOrder, CoverageVertical, CoverageHorizontal, CrossoverDistance, CrossoverWindow, CrossoverFrequency},
	GivenSum.all(),
	[]*Def{BestFrequency, BestDelay, BestTried},
	BestSum.all(), GivenVertical.all(), GivenHorizontal.all(), BestVertical.all(), BestHorizontal.all(),
)

// What is crossed over, and what the search found.
var (
	CrossingFrequency = &Def{Key: "crossover.crossing.frequency_hz", Name: "crossover frequency", Symbol: "f_x", Kind: quantity.Frequency, Trust: Geometry,
		Formula: "crossover.frequency; the middle of the gap's window otherwise", Terms: From("crossover.frequency", "gap.crossover_hz"), Source: geometry}
	CrossingOrder = &Def{Key: "crossover.crossing.order", Name: "order of the filters", Symbol: "n", Kind: quantity.Number, Trust: Geometry,
		Formula: "crossover.order", Terms: From("crossover.order"), Source: geometry}
	CoverageVertical = &Def{Key: "crossover.coverage_vertical_deg", Name: "coverage up and down in which notches count", Symbol: "Θ_v", Kind: quantity.Angle, Trust: Geometry,
		Formula: "--vertical, or the splay in all, at least 10°", Terms: From("line.splay"), Source: ofRun}
	CoverageHorizontal = &Def{Key: "crossover.coverage_horizontal_deg", Name: "coverage across in which notches count", Symbol: "Θ_h", Kind: quantity.Angle, Trust: Geometry,
		Formula: "--horizontal, or horn.coverage, or 90°", Terms: From("horn.coverage"), Source: ofRun}
	CrossoverDistance = &Def{Key: "crossover.distance_m", Name: "distance", Symbol: "r", Kind: quantity.Length, Trust: Geometry,
		Formula: "as given by --at; null: far field, levels referred to 1 m", Terms: From("line.boxes"), Source: ofRun}
	CrossoverWindow = &Def{Key: "crossover.window_hz", Name: "window of the search", Symbol: "f_1, f_2", Kind: quantity.Frequency, Trust: Geometry,
		Formula: "--window, or the gap's window, or half an octave about f_x", Terms: append([]Term{{"f_x", "crossover.crossing.frequency_hz"}}, ofWindow...), Source: ofRun}
	CrossoverFrequency = &Def{Key: "crossover.frequency_hz", Name: "frequencies of the sums", Symbol: "f", Kind: quantity.Frequency, Trust: Geometry,
		Formula: "f_x·2^(k/12) over two octaves to both sides, or --frequencies", Terms: []Term{{"f_x", "crossover.crossing.frequency_hz"}}, Source: ofRun}

	BestFrequency = &Def{Key: "crossover.best.frequency_hz", Name: "crossover frequency of the best found", Symbol: "f_b", Kind: quantity.Frequency, Trust: Aperture,
		Formula: bestFormula, Terms: crossed, Source: throughFilters, Domain: atMouths}
	BestDelay = &Def{Key: "crossover.best.delay_s", Name: "delay of the upper band, negative: of the lower", Symbol: "τ_b", Kind: quantity.Time, Trust: Aperture,
		Formula: bestFormula, Terms: crossed, Source: throughFilters, Domain: atMouths, Style: thousands}
	BestTried = &Def{Key: "crossover.best.evaluations", Name: "crossovers tried", Symbol: "n", Kind: quantity.Number, Trust: Geometry,
		Formula: "sums computed by the search", Terms: ofWindow, Source: ofRun}
)

const bestFormula = "frequency, delay and polarity whose deepest notch is shallowest: a grid over the window, refined by a compass search"

// Sum is the figures of two bands summed through a crossover.
type Sum struct{ OnAxis, Low, High, Phase, AxisLoss, Notch, NotchRelative, NotchAt, NotchAngle *Def }

// The sums as the file has them and as the search found them.
var (
	GivenSum = newSum("crossover.given", "as given")
	BestSum  = newSum("crossover.best.sum", "best found")
)

func (s Sum) all() []*Def {
	return []*Def{s.OnAxis, s.Low, s.High, s.Phase, s.AxisLoss, s.Notch, s.NotchRelative, s.NotchAt, s.NotchAngle}
}

func newSum(group, what string) Sum {
	def := func(key, name, symbol string, k quantity.Kind, formula string, st quantity.Style, terms ...Term) *Def {
		if terms == nil {
			terms = crossed
		}
		return &Def{Key: group + "." + key, Name: name + ", " + what, Symbol: symbol, Kind: k, Trust: Aperture, Formula: formula, Terms: terms,
			Source: throughFilters, Domain: atMouths, Style: st}
	}
	level := quantity.Style{}
	low, high := Term{"H", group + ".high_db"}, Term{"T", group + ".low_db"}
	return Sum{
		OnAxis:   def("on_axis_db", "level on axis", "L", quantity.Level, "20·log10 |T + H|, both bands as complex pressures", bareLevel, low, high),
		Low:      def("low_db", "level of the lower band", "|T|", quantity.Level, "20·log10 |T| on the axis", bareLevel),
		High:     def("high_db", "level of the upper band", "|H|", quantity.Level, "20·log10 |H| on the axis", bareLevel),
		Phase:    def("phase_deg", "phase on axis", "arg p", quantity.Angle, "arg(T + H), referred to the middle of the stack", quantity.Style{Verb: "%.0f"}, low, high),
		AxisLoss: def("largest_axis_loss_db", "largest loss on axis", "V₀", quantity.Level, "lowest 20·log10 |T + H|/(|T| + |H|) on the axis", level, low, high),
		Notch: def("notch.loss_db", "deepest notch in the coverage", "V", quantity.Level,
			"V = lowest 20·log10 |T + H|/(|T| + |H|) within the coverage, both planes, all frequencies", level, low, high),
		NotchRelative: def("notch.relative_db", "the notch against the axis", "L_V", quantity.Level, "level re axis where the notch is", level),
		NotchAt:       def("notch.frequency_hz", "frequency of the notch", "f_V", quantity.Frequency, "where V stands", level, Term{"V", group + ".notch.loss_db"}),
		NotchAngle:    def("notch.angle_deg", "angle of the notch", "φ_V", quantity.Angle, "where V stands, positive up or to the left", level, Term{"V", group + ".notch.loss_db"}),
	}
}

// SumMap is the figures of a sum over frequency and angle.
type SumMap struct{ Angle, Level, Relative, Loss *Def }

// The maps of both sums in both planes.
var (
	GivenVertical   = newSumMap("crossover.given.vertical", "up and down")
	GivenHorizontal = newSumMap("crossover.given.horizontal", "to the left and right")
	BestVertical    = newSumMap("crossover.best.sum.vertical", "up and down, best found")
	BestHorizontal  = newSumMap("crossover.best.sum.horizontal", "to the left and right, best found")
)

func (m SumMap) all() []*Def { return []*Def{m.Angle, m.Level, m.Relative, m.Loss} }

func newSumMap(group, side string) SumMap {
	def := func(key, name, symbol string, k quantity.Kind, t Trust, formula string, terms ...Term) *Def {
		return &Def{Key: group + "." + key, Name: name + ", " + side, Symbol: symbol, Kind: k, Trust: t, Formula: formula, Terms: terms,
			Source: throughFilters, Domain: atMouths}
	}
	return SumMap{
		Angle:    def("angle_deg", "angle", "φ", quantity.Angle, Geometry, "steps of about 1° of φ over the coverage and beyond", From("crossover.coverage_vertical_deg", "crossover.coverage_horizontal_deg")...),
		Level:    def("level_db", "level", "L", quantity.Level, Aperture, "20·log10 |T + H| at the angle", crossed...),
		Relative: def("relative_db", "level re axis", "L(φ)", quantity.Level, Aperture, "L less that on the axis", Term{"L", group + ".level_db"}),
		Loss: def("loss_db", "loss against both in phase", "V(φ)", quantity.Level, Aperture,
			"20·log10 |T + H|/(|T| + |H|): 0 dB where they help each other fully", crossed...),
	}
}
