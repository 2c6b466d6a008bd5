package figures

import (
	"gapline/cabinet/sizing"
	"gapline/internal/quantity"
)

const (
	small    = `R. H. Small, "Direct-radiator loudspeaker system analysis", JAES 20 (1972) 383-395, and following papers on closed, vented and passive-radiator boxes`
	prices   = "sum of the design file's prices"
	counting = "count of the design file's parts"
)

// boxInputs are the keys that the box circuit needs.
var boxInputs = []string{"woofer.fs", "woofer.qes", "woofer.qms", "woofer.vas", "woofer.sd", "woofer.re",
	"enclosure.kind", "enclosure.volume", "enclosure.tuning", "enclosure.leak_q"}

var boxFigures = []Figure{
	{
		Key: "box.f3_hz", Name: "low end of one box, half power", Symbol: "f₃", Kind: quantity.Frequency, Level: Aperture,
		Formula: "highest f at which the level of the acoustic circuit is 10·log10(2) below its passband; without voice-coil inductance and insert",
		Inputs:  boxInputs, Source: small,
		Note:  "A lumped circuit with small-signal parameters: it holds while the wavelength is long against the box.",
		Value: func(s *sizing.Sizing) float64 { return s.Box.F3 },
	},
	{
		Key: "box.max_spl_db", Name: "maximum level of one box", Symbol: "L_max", Kind: quantity.Level, Level: Aperture,
		Formula: "level at 1 m in half space at the voltage at which peak excursion reaches woofer.xmax or woofer.power goes into woofer.re, whichever is lower, at box.max_spl_at_hz",
		Inputs:  []string{"woofer.xmax", "woofer.power", "box.max_spl_at_hz", "enclosure.volume", "enclosure.tuning"}, Source: small,
		Note:  "Without the insert. Power compression is not modelled.",
		Value: func(s *sizing.Sizing) float64 { return s.Box.MaxLevel },
	},
	{
		Key: "box.max_spl_at_hz", Name: "frequency of that level", Symbol: "f_L", Kind: quantity.Frequency, Level: Geometry,
		Formula: "targets.level_at, else targets.lowest, else box.f3_hz", Inputs: []string{"targets.level_at", "targets.lowest", "box.f3_hz"},
		Source: "the design file's target",
		Note:   "Give targets.level_at when designs are compared: each box's own f3 is another yardstick.",
		Value:  func(s *sizing.Sizing) float64 { return s.Box.LevelAt },
	},
	{
		Key: "box.swept_volume_m3", Name: "swept volume of one box, one way", Symbol: "V_d", Kind: quantity.Volume, Level: Geometry,
		Formula: "woofer.per_box · S_d · woofer.xmax", Inputs: []string{"woofer.per_box", "woofer.sd", "woofer.xmax"}, Source: geometry,
		Note:  "The most that the cones can move; what sets the level where excursion limits it.",
		Value: func(s *sizing.Sizing) float64 { return s.Box.SweptVolume },
	},
	{
		Key: "box.drivers", Name: "drivers in one box", Symbol: "n", Kind: quantity.Number, Level: Geometry,
		Formula: "woofers + mids + one compression driver with a horn", Inputs: []string{"woofer.per_box", "mid.per_box", "horn.coverage"}, Source: counting,
		Value: func(s *sizing.Sizing) float64 { return s.Box.Drivers },
	},
	{
		Key: "box.line_drivers", Name: "drivers in the line", Symbol: "N·n", Kind: quantity.Number, Level: Geometry,
		Formula: "line.boxes · box.drivers", Inputs: []string{"line.boxes", "box.drivers"}, Source: counting,
		Value: func(s *sizing.Sizing) float64 { return s.Box.LineDrivers },
	},
	{
		Key: "box.crossovers", Name: "crossover points of one box", Symbol: "n_x", Kind: quantity.Number, Level: Geometry,
		Formula: "bands − 1: woofers, mids if there are any, horn", Inputs: []string{"mid.size", "horn.coverage"}, Source: counting,
		Value: func(s *sizing.Sizing) float64 { return s.Box.Crossovers },
	},
	{
		Key: "box.cost", Name: "cost of one box", Symbol: "K", Kind: quantity.Number, Level: Geometry,
		Formula: "per_box·cost.woofer + per_box·cost.mid + cost.horn + crossovers·cost.crossover + cost.cabinet + cost.insert, for the parts that the box has",
		Inputs:  []string{"cost.woofer", "cost.mid", "cost.horn", "cost.crossover", "cost.cabinet", "cost.insert"}, Source: prices,
		Note:  "Any currency, the same throughout. Missing when the price of a driver or crossover that the box has is missing.",
		Value: func(s *sizing.Sizing) float64 { return s.Box.Cost },
	},
	{
		Key: "box.line_cost", Name: "cost of the line", Symbol: "N·K", Kind: quantity.Number, Level: Geometry,
		Formula: "line.boxes · box.cost", Inputs: []string{"line.boxes", "box.cost"}, Source: prices,
		Value: func(s *sizing.Sizing) float64 { return s.Box.LineCost },
	},
}
