package figure

import (
	"math"
	"slices"

	"gapline/internal/quantity"
)

const (
	traceFile   = "the measured response's file"
	equalWeight = "every point of trace.frequency_hz weighs alike"
	twoTraces   = "both traces taken alike but for the one thing in which they differ"
	isoOctaves  = "octave bands of IEC 61260-1:2014, base ten, by the nominal frequencies of ISO 266"
)

// Differences in dB and their spread, below a head that names the unit.
var (
	differenceStyle = quantity.Style{Verb: "%+.1f", Bare: true}
	deviationStyle  = quantity.Style{Verb: "%.1f", Bare: true}
)

// noSign writes a difference that rounds to nothing.
func noSign(db float64) string {
	if math.Abs(db) < 0.05 {
		return "0.0"
	}
	return ""
}

// traced is a level in dB read or derived from traces.
func traced(key, name, symbol, formula, domain string, terms ...Term) *Def {
	return &Def{Key: "trace." + key, Name: name, Symbol: symbol, Kind: quantity.Level, Trust: Measured, Formula: formula, Terms: terms,
		Source: traceFile, Domain: domain}
}

// predicted is a level in dB of the prediction that traces are laid over.
func predicted(key, name, symbol, formula string, terms ...Term) *Def {
	return &Def{Key: "trace." + key, Name: name, Symbol: symbol, Kind: quantity.Level, Trust: Aperture, Formula: formula, Terms: terms,
		Source: small, Domain: "wavelength long against the box, small signals; up to trace.against.shown_to_hz"}
}

// where is a frequency that the comparison of traces finds or takes.
func where(key, name, symbol string, t Trust, formula, source string, terms ...Term) *Def {
	return &Def{Key: "trace." + key, Name: name, Symbol: symbol, Kind: quantity.Frequency, Trust: t, Formula: formula, Terms: terms, Source: source}
}

// What traces are laid over, and how.
var (
	TraceShownTo = where("against.shown_to_hz", "predicted up to", "f_p", Aperture, "f_p = 2·c/(2π·a): k·a = 2 of the cone of radius a", practice,
		Term{"c", "air.sound_speed_m_s"}, Term{"a", "woofer.sd"})
	TraceSmoothing = &Def{Key: "trace.smoothing.octaves", Name: "width of the smoothing in octaves", Symbol: "w", Kind: quantity.Number, Trust: Geometry,
		Formula: "w of --smooth; 0: none", Terms: From("trace.frequency_hz"), Source: ofRun}
	TraceAlignLow = where("align.low_hz", "lower end of the band in which levels are moved to match", "b_1", Geometry, "--align, or b_1 = 2·f₃ of the prediction", ofRun,
		Term{"f₃", "box.f3_hz"})
	TraceAlignHigh = where("align.high_hz", "upper end of that band", "b_2", Geometry, "--align, or b_2 = 8·f₃ of the prediction, f_p at most", ofRun,
		Term{"f₃", "box.f3_hz"}, Term{"f_p", "trace.against.shown_to_hz"})
	TraceFrequency = where("frequency_hz", "frequency of the comparison", "f", Geometry, "f = 1 kHz·2^(k/48) over the range of all traces", ofRun,
		Term{"", "trace.traces.level_db"})
	TracePredicted = predicted("predicted_db", "predicted level", "L_p", "L_p = 20·log10(|p|/20 µPa) at 1 m in half space at --volts, mean over w; of the circuit with the exact radiation of cones and mouths, as box.stack.spl_db of one box, where box.spl_db takes the air in front of bare cones as mass only", append(boxTerms, Term{"w", "trace.smoothing.octaves"})...)
)

// A trace.
var (
	TraceMoved = traced("traces.moved_db", "what the alignment added", "ΔL", "ΔL = mean of the reference less the trace over b_1 to b_2; null: it does not cover half of the band", "",
		Term{"b_1", "trace.align.low_hz"}, Term{"b_2", "trace.align.high_hz"})
	TraceLevel = traced("traces.level_db", "measured level", "L", "L as measured, mean of the squared (with --average complex: the complex) pressure over w, plus ΔL", "",
		Term{"w", "trace.smoothing.octaves"}, Term{"ΔL", "trace.traces.moved_db"})
	TraceOwn = predicted("traces.predicted_db", "predicted level of what the trace is of", "L_p",
		"L_p: trace.predicted_db; of a trace that --pair names as without the insert that of bare cones; null: of a stack", Term{"", "trace.predicted_db"})
	TraceDifference = traced("traces.difference_db", "measured less predicted", "L − L_p", "L − L_p; without a prediction less the first trace", "",
		Term{"L", "trace.traces.level_db"}, Term{"L_p", "trace.traces.predicted_db"})
)

// A pair of traces that differ in one thing.
var (
	PairMoved = traced("pairs.moved_db", "what the second trace was moved by", "ΔL", "ΔL = mean of the first less the second over the band of --align; 0 without one", twoTraces,
		From("trace.align.low_hz", "trace.align.high_hz")...)
	PairLevel = &Def{Key: "trace.pairs.part_db", Name: "difference that counts as parting", Symbol: "D", Kind: quantity.Level, Trust: Geometry,
		Formula: "D of --threshold", Terms: From("trace.pairs.difference_db"), Source: ofRun}
	PairFrom = pairLimit("agrees_from_hz", "the pair agrees from", "f_a",
		"f_a: lower end of the lowest range of an octave or more with the difference within ±trace.pairs.part_db, partings under 1/6 octave set aside; null: none")
	PairLimit = pairLimit("limit_hz", "where the pair parts", "f_m",
		"f_m: upper end of the range of trace.pairs.agrees_from_hz; of stacks the measured coupling limit, of one box where the level changes; null: the pair does not part")
	PairPredictedLimit = where("pairs.predicted_limit_hz", "parts by prediction", "f_pp", Aperture,
		"f_pp: as trace.pairs.limit_hz, of the predicted difference; one box only", small, From("trace.pairs.predicted_difference_db", "trace.pairs.part_db")...)
	PairControl = pairLimit("control_hz", "the horn holds its pattern from", "f_θ,m",
		"f_θ,m: lowest frequency from which the level at the edge of the coverage stays 6 dB or more under that on the axis for half an octave, as wave reads it off a run; null: nowhere, or no pair of a horn")
	PairUntil = pairLimit("data_end_hz", "end of the data", "f_e", "f_e: highest frequency at which both traces have a level")
	PairRival = where("pairs.predicted_limits.value_hz", "predicted limit beside the measured one", "f_c", Rule, "f_c: the figure that its key names", "as of the figure that its key names",
		From("coupling.open.half_wave_hz", "coupling.open.lobe_hz", "coupling.insert.half_wave_hz", "coupling.insert.lobe_hz", "coupling.insert.chamber_hz",
			"coupling.mid.half_wave_hz", "coupling.mid.lobe_hz",
			"horn.pattern_rule_hz", "horn.pattern_computed_hz", "horn.pattern_wave_hz")...)
	PairAbove = &Def{Key: "trace.pairs.predicted_limits.measured_above_oct", Name: "measured limit above the predicted one", Symbol: "Δ", Kind: quantity.Octaves, Trust: Measured,
		Formula: "Δ = log2(f_m/f_c)", Terms: []Term{{"f_m", "trace.pairs.limit_hz"}, {"", "trace.pairs.control_hz"}, {"f_c", "trace.pairs.predicted_limits.value_hz"}}, Source: traceFile, Domain: twoTraces,
		Style: quantity.Style{Verb: "%.2f"}}
	PairDifference = traced("pairs.difference_db", "difference of the pair", "ΔL", "ΔL = L_1 − L_2 of the first trace and the second as moved", twoTraces,
		Term{"", "trace.pairs.moved_db"}, Term{"", "trace.smoothing.octaves"})
	PairPredicted = predicted("pairs.predicted_difference_db", "predicted difference of insert in and out", "ΔL_p", "ΔL_p: trace.predicted_db with the insert less that of bare cones; null: of stacks",
		Term{"", "trace.predicted_db"})
)

// pairLimit is a frequency between which a pair agrees.
func pairLimit(key, name, symbol, formula string) *Def {
	d := where("pairs."+key, name, symbol, Measured, formula, traceFile, From("trace.pairs.difference_db", "trace.pairs.part_db")...)
	d.Domain = twoTraces
	return d
}

// Bands is the statistics of a set of levels octave by octave.
type Bands struct{ Octave, Low, High, Mean, Deviation, Worst, WorstAt, Covered *Def }

// The statistics of traces and pairs.
var (
	TraceBands = newBands("trace.traces.octaves", "trace", "trace.traces.difference_db")
	PairBands  = newBands("trace.pairs.octaves", "pair", "trace.pairs.difference_db")
)

func (b Bands) all() []*Def {
	return []*Def{b.Octave, b.Low, b.High, b.Mean, b.Deviation, b.Worst, b.WorstAt, b.Covered}
}

// newBands makes the statistics of the differences under the key of.
func newBands(group, what, of string) Bands {
	at := func(key, name, symbol, formula string) *Def {
		return &Def{Key: group + "." + key, Name: name + ", " + what, Symbol: symbol, Kind: quantity.Frequency, Trust: Geometry,
			Formula: formula, Terms: From("trace.frequency_hz"), Source: isoOctaves}
	}
	stat := func(key, name, symbol string, k quantity.Kind, formula string, st quantity.Style) *Def {
		return &Def{Key: group + "." + key, Name: name + ", " + what, Symbol: symbol, Kind: k, Trust: Measured, Formula: formula,
			Terms: []Term{{"d", of}, {"", group + ".low_hz"}, {"", group + ".high_hz"}}, Source: equalWeight, Style: st}
	}
	b := Bands{
		Octave:    at("octave_hz", "octave band", "f_o", "f_o: nominal middle of the band; null: the whole range"),
		Low:       at("low_hz", "lower edge of the band", "f_1", "f_1 = 1 kHz·10^(0.3·k − 0.15), k whole; of the whole range its lowest frequency"),
		High:      at("high_hz", "upper edge of the band", "f_2", "f_2 = 1 kHz·10^(0.3·k + 0.15), k whole; of the whole range its highest frequency"),
		Mean:      stat("mean_db", "mean difference", "m", quantity.Level, "m: mean of d; of the level where there is no reference", differenceStyle),
		Deviation: stat("std_db", "standard deviation", "s", quantity.Level, "s: rms of d less its mean", deviationStyle),
		Worst:     stat("worst_db", "worst difference", "d_w", quantity.Level, "d_w: d farthest from 0 dB, with its sign", differenceStyle),
		WorstAt:   stat("worst_hz", "where the worst difference is", "f_w", quantity.Frequency, "f_w: where d is farthest from 0 dB", quantity.Style{}),
		Covered:   stat("covered", "share of the band with values", "n", quantity.Fraction, "n: share of the band's points at which d exists, a quarter at least", quantity.Style{Verb: "%.0f"}),
	}
	b.Mean.Words, b.Worst.Words = noSign, noSign
	return b
}

// traceStudy lists what gapline trace prints.
var traceStudy = slices.Concat(
	[]*Def{TraceShownTo, TraceSmoothing, TraceAlignLow, TraceAlignHigh, TraceFrequency, TracePredicted, TraceMoved, TraceLevel, TraceOwn, TraceDifference},
	TraceBands.all(),
	[]*Def{PairMoved, PairLevel, PairFrom, PairLimit, PairControl, PairPredictedLimit, PairUntil, PairRival, PairAbove, PairDifference, PairPredicted},
	PairBands.all(),
)
