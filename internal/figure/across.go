package figure

import (
	"slices"

	"gapline/internal/quantity"
)

// Across is how far to the sides one band radiates where it hands over upward.
type Across struct{ Crossover, Width, CoversTo, Dip, DipAt *Def }

// The bands below the horn.
var (
	WoofersAcross = newAcross("woofers", "woofers", `crossover.frequency, else the middle of the gap; with mids crossover.low_frequency, else mid.lowest`,
		From("crossover.frequency", "crossover.low_frequency", "mid.lowest", "gap.low_hz", "gap.high_hz"),
		From("woofer.effective_diameter", "woofer.size", "woofer.per_box", "woofer.spacing", "woofer.lateral_spacing", "insert.mouth_width"))
	MidsAcross = newAcross("mids", "mids", `crossover.frequency, else the middle of the gap`,
		From("crossover.frequency", "gap.low_hz", "gap.high_hz"),
		From("mid.effective_diameter", "mid.size", "mid.per_box", "mid.spacing", "mid.lateral_spacing"))
)

// all lists the figures in the order in which they are printed.
func (a Across) all() []*Def { return []*Def{a.Crossover, a.Width, a.CoversTo, a.Dip, a.DipAt} }

// newAcross makes the figures of the band called who, whose keys start with group.
// crossover says where it hands over, by the terms at; mouths shape its pattern.
func newAcross(group, who, crossover string, at, mouths []Term) Across {
	const (
		source = olson + "; pistons 2J₁(x)/x and sin x/x: L. L. Beranek, Acoustics, 1954, ch. 4, part XI, from memory"
		domain = "far field in the horizontal plane, mouths in a rigid baffle, driven alike"
		sum    = "|Σ D·e^{jky·sin θ}| over what stands side by side, D the pattern of a mouth"
	)
	covered := slices.Concat(mouths, From("horn.exit_coverage_deg"))
	there := slices.Concat(mouths, From(group+".crossover_hz"))
	inside := slices.Concat(covered, From(group+".crossover_hz"))
	return Across{
		Crossover: &Def{
			Key: group + ".crossover_hz", Name: "crossover of the " + who, Symbol: "f_x", Kind: quantity.Frequency, Trust: ByBasis,
			Formula: crossover, Terms: at, Source: practice,
			Note: "Not the end of an open gap: only where both ends are known is there a middle.",
		},
		Width: &Def{
			Key: group + ".horizontal_width_deg", Name: who + "' horizontal width", Symbol: "θ_−6", Kind: quantity.Angle, Trust: Aperture,
			Formula: "−6 dB full width of " + sum + ", at " + group + ".crossover_hz", Terms: there, Source: source,
			Note:   "Null where the level falls nowhere by 6 dB, on the screen \"over 180°\". A single column is as wide as its mouth.",
			Domain: domain,
		},
		CoversTo: &Def{
			Key: group + ".covers_to_hz", Name: who + " cover the horn's angle up to", Symbol: "f_θ", Kind: quantity.Frequency, Trust: Aperture,
			Formula: "lowest f at which " + sum + " falls 6 dB below its axis anywhere within ±θ/2",
			Terms:   append(covered, Term{"", "air.temperature"}), Source: source,
			Note:   "Two points s apart: sin(θ/2) = 0.333·c/(s·f). Above it seats within the coverage lose more than 6 dB against the axis.",
			Domain: domain,
		},
		Dip: &Def{
			Key: group + ".horizontal_dip_db", Name: who + "' worst dip inside it", Symbol: "V", Kind: quantity.Level, Trust: Aperture,
			Formula: "level on the axis less the lowest within ±θ/2, at " + group + ".crossover_hz; " + sum, Terms: inside, Source: source,
			Note:   "Two columns s apart null at sin θ = λ/(2s). Held at 60 dB, on the screen \"null\".",
			Domain: domain,
			Words:  null,
		},
		DipAt: &Def{
			Key: group + ".horizontal_dip_deg", Name: "angle of the " + who + "' worst dip", Symbol: "θ_V", Kind: quantity.Angle, Trust: Aperture,
			Formula: "where " + group + ".horizontal_dip_db stands, positive to the left", Terms: inside, Source: source,
			Note:   "Of two alike the one nearer to the axis, and of those the left.",
			Domain: domain,
		},
	}
}
