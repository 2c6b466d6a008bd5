package sizing

import (
	"math"

	"gapline/cabinet/design"
	"gapline/internal/air"
	"gapline/internal/numeric"
	"gapline/waveguide"
)

// couplingLimits are the upper ends of coupling on the gap's basis, Hz.
type couplingLimits struct {
	woofers    float64 // with the insert, if there is one
	open       float64 // what meets the horn, without the insert
	withInsert float64 // what meets the horn in the design as given
}

// limits finds the coupling limits. The chamber's corner, where it can be
// computed, caps the woofers on either basis. A mid band stands between the
// woofers and the horn, so that it alone meets the horn.
func limits(d *design.Design, c float64) couplingLimits {
	var l couplingLimits
	l.open = limitOf(d, wooferMouths(d), c)
	l.woofers = l.open
	if d.HasInsert() {
		l.woofers = limitOf(d, insertMouths(d), c)
		if chamber := d.Insert.ChamberCorner(c); numeric.Given(chamber) {
			l.woofers = math.Min(l.woofers, chamber)
		}
	}
	l.withInsert = l.woofers
	if d.HasMid() {
		l.open = limitOf(d, midMouths(d), c)
		l.withInsert = l.open
	}
	return l
}

// limitOf returns the coupling limit of one line of mouths on the gap's basis.
func limitOf(d *design.Design, ms Mouths, c float64) float64 {
	if d.Basis().Computed() {
		return ms.LobeLimit(d.Pitch(), d.LobeTarget(), c)
	}
	return c / (2 * ms.LargestSpacing(d.Pitch()))
}

// GapOf returns the gap in octaves of the design as given, and nothing else: it
// is what the levers are solved with.
func GapOf(d *design.Design) float64 {
	c := air.SoundSpeed(d.Air)
	h := &d.Horn
	pattern := waveguide.KeeleFrequency(h.ExitWidth(), h.ExitCoverage())
	if d.Basis().Computed() {
		pattern = waveguide.ControlFrequency(h.ExitWidth(), h.ExitCoverage(), c)
	}
	return math.Log2(h.LowerLimit(pattern, h.Cutoff(c)) / limits(d, c).withInsert)
}

func sizeGap(d *design.Design, s *Sizing) Gap {
	l := limits(d, s.Air.SoundSpeed)
	g := Gap{
		Basis:     d.Basis(),
		Low:       l.withInsert,
		High:      s.Horn.Lower,
		Open:      math.Log2(s.Horn.Lower / l.open),
		Insert:    numeric.Absent,
		WooferMid: numeric.Absent,
		Crossover: numeric.Absent,
	}
	if d.HasInsert() {
		g.Insert = math.Log2(g.High / l.withInsert)
	}
	if d.HasMid() {
		g.WooferMid = math.Log2(d.Mid.Lowest / l.woofers)
	}
	if g.Low >= g.High && !math.IsInf(g.Low, 1) {
		g.Crossover = math.Sqrt(g.Low * g.High)
	}
	return g
}
