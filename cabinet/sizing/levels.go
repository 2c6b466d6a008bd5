package sizing

import (
	"math"

	"gapline/cabinet/design"
	"gapline/internal/numeric"
	"gapline/waveguide"
)

// Level is a level of trust of the gap.
type Level uint8

// The levels, from low to high.
const (
	ByRule Level = iota
	ByAperture
	ByWave
	LevelCount
)

// Limit is what ends a side of the gap.
type Limit uint8

// The limits: up to MouthsPart of what meets the horn, from PatternRule on of the horn.
const (
	NoLimit        Limit = iota // none known
	HalfWave                    // of what meets the horn: cones, insert or mids
	Lobe                        // the same
	ChamberRule                 // corner of the front chamber
	ChamberCoupled              // the same with the mouths' action on each other
	InPhaseRule                 // a quarter wave of path spread
	MouthsPart                  // two mouths differ by 90 degrees
	PatternRule
	PatternComputed
	PatternWave
	FlareCutoff // times the margin
	DriverLowest
	LimitCount
)

// Bound is an end of the gap at a level of trust.
type Bound struct {
	Hz float64
	By Limit
}

// take moves the bound to a limit that is further in the way: side −1 of an upper end of
// coupling, which the least limit ends, +1 of the horn's lower end.
func (b *Bound) take(side float64, hz float64, by Limit) {
	if numeric.Given(hz) && (b.By == NoLimit || (hz-b.Hz)*side > 0) {
		*b = Bound{hz, by}
	}
}

// LevelGap is the gap at one level of trust. Each side takes the figures of that level, or
// of the next lower one where that has none.
type LevelGap struct {
	Given     bool // the level has a figure of its own
	Low, High Bound
	Gap       float64 // octaves, positive is open; NaN: not known
	// Unknown are limits that apply and cannot be computed: they could only widen the gap.
	Unknown []Limit
}

// Levels returns the gap at every level of trust. On the lobe basis there is no rule level,
// since the criterion starts at aperture; the wave level is given where a run's figure is in
// the sizing.
func Levels(d *design.Design, s *Sizing) [LevelCount]LevelGap {
	var out [LevelCount]LevelGap
	for l := range LevelCount {
		out[l] = levelOf(s, l, d.Horn.Lowest.Value())
	}
	return out
}

// Level returns the gap at one level of trust, with what is eased in a sizing of Eased.
func (s *Sizing) Level(l Level) LevelGap {
	if s.Easing.Octaves == 0 {
		return levelOf(s, l, s.Horn.DriverLowest)
	}
	k := s.easing()
	return levelOf(&k, l, k.Horn.DriverLowest)
}

// levelOf takes the lowest frequency of the horn's driver in Hz.
func levelOf(s *Sizing, l Level, lowest float64) (g LevelGap) {
	switch l {
	case ByRule:
		g.Given = s.Gap.Basis == design.HalfWave
	case ByAperture:
		g.Given = true
	case ByWave:
		g.Given = numeric.Given(s.Wave.Pattern)
	}
	g.below(s, l)
	g.horn(s, l, lowest)
	g.Gap = math.Log2(g.High.Hz / g.Low.Hz)
	if g.Low.By == NoLimit || g.High.By == NoLimit {
		g.Gap = numeric.Absent
	}
	return g
}

// below is the upper end of coupling of what meets the horn.
func (g *LevelGap) below(s *Sizing, l Level) {
	k := &s.Coupling
	line := &k.Open
	switch {
	case k.HasMid:
		line = &k.Mid
	case k.HasInsert:
		line = &k.Insert.CouplingLimit
	}
	if s.Gap.Basis == design.HalfWave {
		g.Low.take(-1, line.HalfWave, HalfWave)
	} else {
		g.Low.take(-1, line.Lobe, Lobe)
	}
	if g.Low.By == NoLimit || k.HasMid || !k.HasInsert {
		return
	}
	chamber, corner := ChamberRule, k.Insert.Chamber
	phase, part := InPhaseRule, k.Insert.InPhase
	if l >= ByAperture {
		chamber, corner = ChamberCoupled, k.Insert.Coupled
		phase, part = MouthsPart, k.Insert.Part
	}
	for _, x := range []struct {
		by Limit
		hz float64
	}{{chamber, corner}, {phase, part}} {
		if !numeric.Given(x.hz) {
			g.Unknown = append(g.Unknown, x.by)
		}
		g.Low.take(-1, x.hz, x.by)
	}
}

// horn is the horn's lower end.
func (g *LevelGap) horn(s *Sizing, l Level, lowest float64) {
	h := &s.Horn
	switch {
	case l == ByWave && numeric.Given(s.Wave.Pattern):
		g.High.take(1, s.Wave.Pattern, PatternWave)
	case l >= ByAperture && numeric.Given(h.PatternComputed):
		g.High.take(1, h.PatternComputed, PatternComputed)
	case l >= ByAperture && numeric.Given(h.PatternRule):
		return // a mouth of that coverage does not narrow to it
	default:
		g.High.take(1, h.PatternRule, PatternRule)
	}
	if g.High.By == NoLimit {
		return
	}
	g.High.take(1, waveguide.FlareMargin*h.Cutoff, FlareCutoff)
	g.High.take(1, lowest, DriverLowest)
}
