package figure

import "gapline/internal/quantity"

const elements = "direct boundary elements for the Helmholtz equation in the plane; A. J. Burton and G. F. Miller, Proc. R. Soc. Lond. A 323 (1971) 201-210"

// storedRun says when a figure of level wave is there.
const storedRun = "Shown when gapline wave has solved this geometry before and its result is stored beside the file."

// endlessLine is where the plan section holds.
const endlessLine = "endless straight line of boxes without gaps, rigid walls"

// planTerms are the keys that shape the plan section.
var planTerms = From("horn.mouth_width", "horn.coverage", "horn.throat", "horn.slot_width", "horn.side_walls",
	"horn.flare_length", "horn.flare_angle", "fold.layer", "cabinet.width", "cabinet.depth", "cabinet.edge_radius", "air.temperature")

// frontTerms are what the outside of a box in space depends on.
var frontTerms = From("cabinet.height", "cabinet.width", "cabinet.depth", "woofer.size", "insert.mouths", "insert.mouth_height", "insert.mouth_width", "insert.slot_depth",
	"insert.chamber_volume", "air.temperature")

const inSpace = "one box in free air, walls rigid, vents standing still; boundary elements in space"

// The figures of a run of the outside in space, gapline wave --of front.
var (
	CouplingLobeWave = &Def{
		Key: "coupling.lobe_wave_hz", Name: "couples up to, lobe criterion, wave", Symbol: "f_l,w", Kind: quantity.Frequency, Trust: Wave,
		Formula: "lowest f at which a lobe of an endless straight stack passes targets.lobe_level: lobes at sin θ = m·c/(f·p), as high as the box radiates there against the direction ahead",
		Terms:   append(From("coupling.pitch_m", "targets.lobe_level"), frontTerms...), Source: elements, Domain: inSpace,
		Note: "Null where none does up to the end of the run. Neighbours are not in the pattern of one box. " + storedRun,
	}
	CouplingInsertChamberWave = &Def{
		Key: "coupling.insert.chamber_wave_hz", Name: "front chamber corner, wave", Symbol: "f_ch,w", Kind: quantity.Frequency, Trust: Wave,
		Formula: "lowest f at which the summed flow of the mouths lags that of the cones by 90°; the flow of the mouths is that of the cones less jω/(ρc²)·∫p dV over the chamber",
		Terms:   frontTerms, Source: elements, Domain: inSpace, Note: "Null where the lag stays under 90° up to the end of the run. " + storedRun,
	}
	CouplingInsertPartWave = &Def{
		Key: "coupling.insert.mouths_part_wave_hz", Name: "mouths of a column in phase up to, wave", Symbol: "f_mp,w", Kind: quantity.Frequency, Trust: Wave,
		Formula: "lowest f at which the flows of two mouths of one column differ by 90°",
		Terms:   frontTerms, Source: elements, Domain: inSpace, Note: "Null where they never do, as of mouths that are each other's image. " + storedRun,
	}
)

// The figures that the wave solver gives.
var (
	HornPatternWave = &Def{
		Key: "horn.pattern_wave_hz", Name: "holds its coverage from, wave", Symbol: "f_θ,w", Kind: quantity.Frequency, Trust: Wave,
		Formula: "lowest f at which the −6 dB full width of the far field, re the level on the box's own axis, falls to horn.coverage and stays within it for half an octave; horizontal section through cabinet and horn, walls rigid, driven at the slot",
		Terms:   planTerms, Source: elements,
		Note:   "Stands for an endless straight line of boxes without gaps, and is near it for a long one. " + storedRun,
		Domain: endlessLine,
	}

	HornNarrowestWave = &Def{
		Key: "horn.narrowest_wave_deg", Name: "narrowest width above it, wave", Symbol: "θ_min,w", Kind: quantity.Angle, Trust: Wave,
		Formula: "least −6 dB full width, re the level on the box's own axis, from horn.pattern_wave_hz to the end of the run", Terms: planTerms, Source: elements,
		Note:   "A slot that is wide against the wave narrows the pattern high up. Where the width still falls at the end of the run, that is said: further up it may be less. " + storedRun,
		Domain: endlessLine,
	}

	HornNarrowestWaveAt = &Def{
		Key: "horn.narrowest_wave_hz", Name: "frequency of the narrowest width, wave", Symbol: "f_min,w", Kind: quantity.Frequency, Trust: Wave,
		Formula: "where horn.narrowest_wave_deg occurs", Terms: planTerms, Source: elements, Note: storedRun,
		Domain: endlessLine,
	}

	FoldFlatToWave = &Def{
		Key: "fold.flat_to_wave_hz", Name: "folded front flat to a quarter wave up to, wave", Symbol: "f_flat,w", Kind: quantity.Frequency, Trust: Wave,
		Formula: "lowest f at which the phase along the mouth spreads over 90°; two layers joined along the wall curve, mouth ended in ρc",
		Terms:   From("fold.throat_to_wall", "fold.virtual_path", "fold.layer", "horn.mouth_height", "horn.throat", "air.temperature"), Source: elements,
		Note:   "Each layer is one sheet, so it holds below the layers' cross mode, c/(2t). Null where the front stays flat up to the highest frequency solved. " + storedRun,
		Domain: "below the layers' cross mode, rigid walls, mouth ended in ρc",
	}
)
