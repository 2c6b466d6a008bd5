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
	ofBest    = append([]Term{{"J", "crossover.best.sum.cost_db"}}, ofWindow...)
	thousands = quantity.Style{Verb: "%.3f"}
)

// crossoverStudy lists what gapline crossover prints.
var crossoverStudy = slices.Concat(
	CrossoverHung.all(),
	[]*Def{CrossingFrequency, CrossingOrder, CrossoverLowest, CoverageVertical, CoverageHorizontal, CrossoverDistance, CrossoverWindow, CrossoverFrequency},
	LowWay.all(), HighWay.all(),
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
	CrossoverLowest = &Def{Key: "crossover.lowest_hz", Name: "lowest crossover that the upper band allows", Symbol: "f_min", Kind: quantity.Frequency, Trust: Geometry,
		Formula: "f_min = max(horn.lowest, 1.2·f_c): below it the driver is not loaded; between woofers and mids mid.lowest",
		Terms:   []Term{{"", "horn.lowest"}, {"f_c", "horn.cutoff_hz"}, {"", "mid.lowest"}}, Source: practice}
	CoverageVertical = &Def{Key: "crossover.coverage_vertical_deg", Name: "coverage up and down in which notches count", Symbol: "Θ_v", Kind: quantity.Angle, Trust: Geometry,
		Formula: "--vertical, or the splay in all, at least 10°", Terms: From("line.splay"), Source: ofRun}
	CoverageHorizontal = &Def{Key: "crossover.coverage_horizontal_deg", Name: "coverage across in which notches count", Symbol: "Θ_h", Kind: quantity.Angle, Trust: Geometry,
		Formula: "--horizontal, or horn.coverage, or 90°", Terms: From("horn.coverage"), Source: ofRun}
	CrossoverDistance = &Def{Key: "crossover.distance_m", Name: "distance", Symbol: "r", Kind: quantity.Length, Trust: Geometry,
		Formula: "as given by --at; null: far field, levels referred to 1 m", Terms: From("line.boxes"), Source: ofRun}
	CrossoverWindow = &Def{Key: "crossover.window_hz", Name: "window of the search", Symbol: "f_1, f_2", Kind: quantity.Frequency, Trust: Geometry,
		Formula: "--window, or what both bands cover (open: the gap between them), or half an octave about f_x; never under f_min",
		Terms:   append([]Term{{"f_x", "crossover.crossing.frequency_hz"}, {"f_min", "crossover.lowest_hz"}}, ofWindow...), Source: ofRun}
	CrossoverFrequency = &Def{Key: "crossover.frequency_hz", Name: "frequencies of the sums", Symbol: "f", Kind: quantity.Frequency, Trust: Geometry,
		Formula: "f_x·2^(k/12) over two octaves to both sides, or --frequencies", Terms: []Term{{"f_x", "crossover.crossing.frequency_hz"}}, Source: ofRun}

	BestFrequency = &Def{Key: "crossover.best.frequency_hz", Name: "crossover frequency of the best found", Symbol: "f_b", Kind: quantity.Frequency, Trust: Aperture,
		Formula: bestFormula, Terms: ofBest, Source: throughFilters, Domain: atMouths, Note: leastBad}
	BestDelay = &Def{Key: "crossover.best.delay_s", Name: "delay of the upper band, negative: of the lower", Symbol: "τ_b", Kind: quantity.Time, Trust: Aperture,
		Formula: bestFormula, Terms: ofBest, Source: throughFilters, Domain: atMouths, Style: thousands, Note: leastBad}
	BestTried = &Def{Key: "crossover.best.evaluations", Name: "crossovers tried", Symbol: "n", Kind: quantity.Number, Trust: Geometry,
		Formula: "sums computed by the search", Terms: ofWindow, Source: ofRun}
)

const (
	bestFormula = "frequency (whole Hz), delay of either band (whole µs) and polarity of least J: a grid over the window and a period and more of delay, refined from its best cells"
	leastBad    = "Where no frequency is covered by both bands it is only the least bad."
)

// Way is the figures of how a band's sound gets to the front.
type Way struct{ Inside, InsideTime, Setback, SetbackTime *Def }

// The ways of both bands.
var (
	LowWay  = newWay("crossover.low_way", "lower band", From("woofer.setback", "mid.setback", "insert.slot_depth", "insert.chamber_volume")...)
	HighWay = newWay("crossover.high_way", "upper band", From("horn.length", "horn.flare_length", "fold.throat_to_wall", "mid.setback")...)
)

func (w Way) all() []*Def { return []*Def{w.Inside, w.InsideTime, w.Setback, w.SetbackTime} }

func newWay(group, band string, terms ...Term) Way {
	c := Term{"c", "air.sound_speed_m_s"}
	def := func(key, name, symbol string, k quantity.Kind, formula string, st quantity.Style, terms ...Term) *Def {
		return &Def{Key: group + "." + key, Name: name + ", " + band, Symbol: symbol, Kind: k, Trust: Geometry, Formula: formula, Terms: terms, Source: geometry, Style: st}
	}
	return Way{
		Inside: def("inside_m", "way from the drivers to the mouths", "d", quantity.Length,
			"through horn, fold and side flares from the throat to the exit; from cones behind the front to the openings. 0 with an insert, whose chamber is in the response", quantity.Style{}, terms...),
		InsideTime: def("inside_s", "the sound takes over it", "t", quantity.Time, "d/c; it is not in the model", thousands, Term{"d", group + ".inside_m"}, c),
		Setback:    def("setback_m", "way from the mouths to the front", "s", quantity.Length, "mean over the mouths of the band", quantity.Style{}, terms...),
		SetbackTime: def("setback_s", "the sound takes over it", "t_s", quantity.Time, "s/c; it is in the places of the mouths", thousands,
			Term{"s", group + ".setback_m"}, c),
	}
}

// Sum is the figures of two bands summed through a crossover.
type Sum struct {
	OnAxis, Low, High, Phase, AxisLoss, Mean, Cost *Def
	Notch, NotchRelative, NotchAt, NotchAngle      *Def
	LowOutput, HighOutput                          *Def
}

// The sums as the file has them and as the search found them.
var (
	GivenSum = newSum("crossover.given", "as given")
	BestSum  = newSum("crossover.best.sum", "best found")
)

func (s Sum) all() []*Def {
	return []*Def{s.OnAxis, s.Low, s.High, s.Phase, s.AxisLoss, s.Mean, s.Cost, s.Notch, s.NotchRelative, s.NotchAt, s.NotchAngle,
		s.LowOutput, s.HighOutput}
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
		AxisLoss: def("largest_axis_loss_db", "largest loss on axis", "V₀", quantity.Level, "lowest 20·log10 |T + H|/(|T| + |H|) on the axis, as V", level, low, high),
		Mean: def("mean_loss_db", "mean loss in the coverage", "V_m", quantity.Level,
			"10·log10 of the mean of (|T + H|/(|T| + |H|))² over the coverage and the frequencies of V", level, low, high),
		Cost: def("cost_db", "what the search makes small", "J", quantity.Level, "J = −(V + V₀ + V_m/100)", level,
			Term{"V", group + ".notch.loss_db"}, Term{"V₀", group + ".largest_axis_loss_db"}, Term{"V_m", group + ".mean_loss_db"}),
		LowOutput: def("low_output_delay_s", "delay of the lower band at the processor's output", "τ_T", quantity.Time,
			outputFormula, thousands, Term{"t", "crossover.low_way.inside_s"}, Term{"", "woofer.delay"}, Term{"", "mid.delay"}),
		HighOutput: def("high_output_delay_s", "delay of the upper band at the processor's output", "τ_H", quantity.Time,
			outputFormula, thousands, Term{"t", "crossover.high_way.inside_s"}, Term{"", "horn.delay"}, Term{"", "mid.delay"}),
		Notch: def("notch.loss_db", "deepest notch in the coverage", "V", quantity.Level,
			"V = lowest 20·log10 |T + H|/(|T| + |H|) within the coverage, both planes, two octaves to both sides of the crossover (or over --frequencies), refined between them; "+
				"not below −40 dB, which stands for all that cancels", level, low, high),
		NotchRelative: def("notch.relative_db", "the notch against the axis", "L_V", quantity.Level, "level re axis where the notch is", level),
		NotchAt:       def("notch.frequency_hz", "frequency of the notch", "f_V", quantity.Frequency, "where V stands", level, Term{"V", group + ".notch.loss_db"}),
		NotchAngle:    def("notch.angle_deg", "angle of the notch", "φ_V", quantity.Angle, "where V stands, positive up or to the left", level, Term{"V", group + ".notch.loss_db"}),
	}
}

const outputFormula = "delay at the mouths less t, both bands later by so much that the lesser is 0"

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
