package sizing

import (
	"math"

	"gapline/cabinet/design"
	"gapline/internal/numeric"
)

// Gap is the distance in octaves between the frequency to which the woofers (or
// mids) couple and that from which the horn holds its pattern.
type Gap struct {
	Basis     design.Basis
	Open      float64 // without the insert, octaves; positive is open
	Insert    float64 // with the insert, octaves
	Low       float64 // f_couple of the design as given, Hz
	High      float64 // f_horn, Hz
	Crossover float64 // geometric mean of an overlap, Hz
	WooferMid float64 // between woofers and mids, octaves
}

// AsGiven returns the gap of the design as it stands, octaves.
func (g *Gap) AsGiven() float64 { return math.Log2(g.High / g.Low) }

// Middle is the geometric mean of the two ends of a gap or an overlap in Hz: where a
// design that does not say crosses over. NaN where an end is missing or has no limit.
func Middle(a, b float64) float64 {
	if math.IsInf(a, 0) || math.IsInf(b, 0) {
		return numeric.Absent
	}
	return math.Sqrt(a * b)
}

// gapInput is what the gap depends on. The limits are on the gap's basis.
type gapInput struct {
	basis     design.Basis
	horn      float64 // from which the horn can be used, Hz
	cones     float64 // coupling limit of the bare cones, Hz
	hasInsert bool
	insert    float64 // coupling limit with the insert, Hz
	chamber   float64 // corner of the insert's chamber, Hz
	inPhase   float64 // to which its mouths radiate in phase, Hz
	hasMid    bool
	mid       float64 // coupling limit of the mids, Hz
	lowest    float64 // crossover of the mids, Hz
}

// woofers is the upper end of coupling of the woofers as given, Hz. The chamber's corner
// and the mouths' phases, where they can be computed, cap it on either basis.
func (in *gapInput) woofers() float64 {
	if !in.hasInsert {
		return in.cones
	}
	low := in.insert
	for _, cap := range [...]float64{in.chamber, in.inPhase} {
		if numeric.Given(cap) {
			low = math.Min(low, cap)
		}
	}
	return low
}

// ends are the upper ends of coupling of what meets the horn, without the insert
// and as given, Hz. A mid band stands between the woofers and the horn, so that it
// alone meets the horn.
func (in *gapInput) ends() (open, asGiven float64) {
	if in.hasMid {
		return in.mid, in.mid
	}
	return in.cones, in.woofers()
}

// sizeGap is the stage of the gap. It costs less than to remember it.
func sizeGap(in gapInput) Gap {
	open, low := in.ends()
	g := Gap{
		Basis:     in.basis,
		Low:       low,
		High:      in.horn,
		Open:      math.Log2(in.horn / open),
		Insert:    numeric.Absent,
		WooferMid: numeric.Absent,
		Crossover: numeric.Absent,
	}
	if in.hasInsert {
		g.Insert = math.Log2(g.High / g.Low)
	}
	if in.hasMid {
		g.WooferMid = math.Log2(in.lowest / in.woofers())
	}
	if g.Low >= g.High {
		g.Crossover = Middle(g.Low, g.High)
	}
	return g
}
