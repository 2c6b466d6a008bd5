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
	ByMeasured
	LevelCount
)

// Limit is what ends a side of the gap.
type Limit uint8

// The limits: up to CouplingMeasured of what meets the horn, from PatternRule on of the horn.
const (
	NoLimit        Limit = iota // none known
	HalfWave                    // of what meets the horn: cones, insert or mids
	Lobe                        // the same
	ChamberRule                 // corner of the front chamber
	ChamberCoupled              // the same with the mouths' action on each other
	InPhaseRule                 // a quarter wave of path spread
	MouthsPart                  // two mouths differ by 90 degrees
	LobeWave                    // of the solved outside
	ChamberWave
	MouthsPartWave
	CouplingMeasured // where the traces of two stacks part
	PatternRule
	PatternComputed
	PatternWave
	PatternMeasured
	FlareCutoff // times the margin
	DriverLowest
	MidsLowest // of the mids, towards the woofers
	LimitCount
)

// Bound is an end of the gap at a level of trust.
type Bound struct {
	Hz float64
	By Limit
	// From and To are between which frequencies it lies by the level's own uncertainty, Hz: that
	// of reading a limit off a sweep or a trace. A closed form has none, and both are Hz.
	From, To float64
}

// take moves the bound to a limit that is further in the way: side −1 of an upper end of
// coupling, which the least limit ends, +1 of the horn's lower end.
func (b *Bound) take(side float64, hz float64, by Limit) {
	b.takeWithin(side, hz, hz, hz, by)
}

// takeWithin is take of a limit that lies somewhere between two frequencies. The least of
// several uncertain limits lies between the least of their lower and of their upper ends.
func (b *Bound) takeWithin(side, hz, from, to float64, by Limit) {
	if !numeric.Given(hz) {
		return
	}
	if !(from <= hz && hz <= to) { // of a run that does not know
		from, to = hz, hz
	}
	switch {
	case b.By == NoLimit:
		*b = Bound{hz, by, from, to}
		return
	case (hz-b.Hz)*side > 0:
		b.Hz, b.By = hz, by
	}
	pick := math.Max
	if side < 0 {
		pick = math.Min
	}
	b.From, b.To = pick(b.From, from), pick(b.To, to)
}

// LevelGap is the gap at one level of trust. Each side takes the figures of that level, or
// of the next lower one where that has none.
type LevelGap struct {
	Given     bool // the level has a figure of its own
	Low, High Bound
	Gap       float64 // octaves, positive is open; NaN: not known
	// Range is between what the gap lies by the level's own uncertainty, octaves.
	Range [2]float64
	// Unknown are limits that apply and cannot be computed: they could only widen the gap.
	Unknown []Limit
}

// Levels returns the gap at every level of trust. On the lobe basis there is no rule level,
// since the criterion starts at aperture; the wave level is given where a run's figure is in
// the sizing, the measured one where a trace's is.
func Levels(d *design.Design, s *Sizing) [LevelCount]LevelGap {
	var out [LevelCount]LevelGap
	for l := range LevelCount {
		out[l] = levelOf(s, l, d.Horn.Lowest.Value())
	}
	return out
}

// settle works out the gap between its ends.
func (g *LevelGap) settle() {
	g.Gap = math.Log2(g.High.Hz / g.Low.Hz)
	g.Range = [2]float64{math.Log2(g.High.From / g.Low.To), math.Log2(g.High.To / g.Low.From)}
	if g.Low.By == NoLimit || g.High.By == NoLimit {
		g.Gap, g.Range = numeric.Absent, [2]float64{numeric.Absent, numeric.Absent}
	}
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
		g.Given = numeric.Given(s.Wave.Pattern) || numeric.Given(s.Wave.FrontTo)
	case ByMeasured:
		g.Given = s.Measured.Given()
	}
	g.below(s, l)
	g.horn(s, l, lowest)
	g.settle()
	return g
}

// below is the upper end of coupling of what meets the horn.
func (g *LevelGap) below(s *Sizing, l Level) {
	m := &s.Measured
	if l == ByMeasured && numeric.Given(m.Coupling) {
		g.Low.takeWithin(-1, m.Coupling, m.CouplingFrom, m.CouplingTo, CouplingMeasured)
	} else {
		g.criterion(s, s.below(), l)
	}
	if g.Low.By != NoLimit && !s.Coupling.HasMid {
		g.caps(s, l)
	}
}

// below is the line of mouths that meets the horn.
func (s *Sizing) below() *CouplingLimit {
	if s.Coupling.HasMid {
		return &s.Coupling.Mid
	}
	return s.woofers()
}

// woofers is the line of mouths through which the woofers radiate.
func (s *Sizing) woofers() *CouplingLimit {
	if s.Coupling.HasInsert {
		return &s.Coupling.Insert.CouplingLimit
	}
	return &s.Coupling.Open
}

// criterion takes the limit of a line by the file's criterion.
func (g *LevelGap) criterion(s *Sizing, line *CouplingLimit, l Level) {
	w := &s.Wave
	switch {
	case s.Gap.Basis == design.HalfWave:
		g.Low.take(-1, line.HalfWave, HalfWave)
	case l >= ByWave && numeric.Given(w.FrontTo):
		g.solved(w.Lobe, w.LobeFrom, w.LobeTo, w.FrontTo, LobeWave)
	default:
		g.Low.take(-1, line.Lobe, Lobe)
	}
}

// solved takes a limit of the solved outside. One that the run did not come to lies above its
// end.
func (g *LevelGap) solved(hz, from, to, end float64, by Limit) {
	if numeric.Given(hz) {
		g.Low.takeWithin(-1, hz, from, to, by)
		return
	}
	g.Low.takeWithin(-1, math.Inf(1), end, math.Inf(1), by)
}

// caps are what an insert adds to the criterion: its chamber's corner and its mouths' phases.
func (g *LevelGap) caps(s *Sizing, l Level) {
	if !s.Coupling.HasInsert {
		return
	}
	if w := &s.Wave; l >= ByWave && numeric.Given(w.FrontTo) {
		g.solved(w.Chamber, w.ChamberFrom, w.ChamberTo, w.FrontTo, ChamberWave)
		if numeric.Given(w.Part) { // mouths that are each other's image never part
			g.solved(w.Part, w.PartFrom, w.PartTo, w.FrontTo, MouthsPartWave)
		}
		return
	}
	i := &s.Coupling.Insert
	chamber, corner := ChamberRule, i.Chamber
	phase, part := InPhaseRule, i.InPhase
	if l >= ByAperture {
		chamber, corner = ChamberCoupled, i.Coupled
		phase, part = MouthsPart, i.Part
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

// MidLevels returns the gap between woofers and mids at every level of trust that has figures
// of it; none is given in a design without mids, or without their lowest frequency.
func MidLevels(d *design.Design, s *Sizing) [LevelCount]LevelGap {
	var out [LevelCount]LevelGap
	lowest := d.Mid.Lowest.Value()
	for _, l := range []Level{ByRule, ByAperture} {
		g := &out[l]
		g.Given = s.Coupling.HasMid && numeric.Given(lowest) && (l == ByAperture || s.Gap.Basis == design.HalfWave)
		g.criterion(s, s.woofers(), ByAperture)
		if g.Low.By != NoLimit {
			g.caps(s, l)
		}
		g.High.take(1, lowest, MidsLowest)
		g.settle()
	}
	return out
}

// horn is the horn's lower end.
func (g *LevelGap) horn(s *Sizing, l Level, lowest float64) {
	h := &s.Horn
	switch {
	case l == ByMeasured && numeric.Given(s.Measured.Pattern):
		g.High.takeWithin(1, s.Measured.Pattern, s.Measured.PatternFrom, s.Measured.PatternTo, PatternMeasured)
	case l >= ByWave && numeric.Given(s.Wave.Pattern):
		g.High.takeWithin(1, s.Wave.Pattern, s.Wave.PatternFrom, s.Wave.PatternTo, PatternWave)
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
