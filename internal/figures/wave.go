package figures

import (
	"gapline/cabinet/sizing"
	"gapline/internal/quantity"
)

const elements = "direct boundary elements for the Helmholtz equation in the plane; A. J. Burton and G. F. Miller, Proc. R. Soc. Lond. A 323 (1971) 201-210"

// storedRun says when a wave figure is there.
const storedRun = "Shown when gapline wave has solved this geometry before and its result is stored beside the file."

// planInputs are the keys that shape the plan section.
var planInputs = []string{"horn.mouth_width", "horn.coverage", "horn.throat", "horn.slot_width", "horn.side_walls",
	"horn.flare_length", "horn.flare_angle", "cabinet.width", "cabinet.depth", "cabinet.edge_radius", "air.temperature"}

var waveFigures = []Figure{
	{
		Key: "horn.pattern_wave_hz", Name: "holds its coverage from, wave", Symbol: "f_θ,w", Kind: quantity.Frequency, Level: Wave,
		Formula: "lowest f at which the −6 dB full width of the far field first equals horn.coverage; horizontal section through cabinet and horn, walls rigid, driven at the slot",
		Inputs:  planInputs, Source: elements,
		Note:  "Exact for an endless straight line of boxes without gaps, near it for a long one. " + storedRun,
		Value: func(s *sizing.Sizing) float64 { return s.Wave.Pattern },
	},
	{
		Key: "horn.narrowest_wave_deg", Name: "narrowest width above it, wave", Symbol: "θ_min,w", Kind: quantity.Angle, Level: Wave,
		Formula: "least −6 dB full width within two octaves above horn.pattern_wave_hz", Inputs: planInputs, Source: elements,
		Note:  "Higher up a slot that is wide against the wave narrows the pattern for a reason of its own. " + storedRun,
		Value: func(s *sizing.Sizing) float64 { return s.Wave.Narrowest },
	},
	{
		Key: "horn.narrowest_wave_hz", Name: "frequency of the narrowest width, wave", Symbol: "f_min,w", Kind: quantity.Frequency, Level: Wave,
		Formula: "where horn.narrowest_wave_deg occurs", Inputs: planInputs, Source: elements, Note: storedRun,
		Value: func(s *sizing.Sizing) float64 { return s.Wave.NarrowestAt },
	},
	{
		Key: "fold.flat_to_wave_hz", Name: "folded front flat to a quarter wave up to, wave", Symbol: "f_flat,w", Kind: quantity.Frequency, Level: Wave,
		Formula: "lowest f at which the phase along the mouth spreads over 90°; two layers joined along the wall curve, mouth ended in ρc",
		Inputs:  []string{"fold.throat_to_wall", "fold.virtual_path", "fold.layer", "horn.mouth_height", "horn.throat", "air.temperature"}, Source: elements,
		Note:  "Each layer is one sheet, so it holds below the layers' cross mode, c/(2t). Null where the front stays flat up to the highest frequency solved. " + storedRun,
		Value: func(s *sizing.Sizing) float64 { return s.Wave.FlatTo },
	},
}
