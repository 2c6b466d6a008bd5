package sizing

import (
	"math"

	"gapline/cabinet/design"
	"gapline/internal/optional"
)

// GapLimit is one of the limits that the gap lies between, on its basis or at a level of
// trust.
type GapLimit uint8

// The limits: those of the woofers' side, those of the horn's, and where mids may
// take over from woofers.
const (
	GapSpacing         GapLimit = iota // coupling limit of the mouths that meet the horn, by the file's criterion
	GapWoofers                         // that of the woofers under a mid band
	GapChamber                         // corner of the insert's chamber, lumped
	GapCoupled                         // the same with the mouths' action on each other
	GapInPhase                         // to which the insert's mouths are in phase, by a quarter wave
	GapPart                            // the same as two of them differ by 90 degrees
	GapPattern                         // from which the horn holds its pattern, by rule
	GapPatternComputed                 // the same by integral
	GapFlare                           // from which its flare carries
	GapDriver                          // lowest frequency of its driver
	GapMidLowest                       // lowest crossover of the mids
	GapLimits                          // their number
)

// Above reports whether the limit bounds the gap from above: the horn's, and the mids'
// where they meet the woofers.
func (l GapLimit) Above() bool { return l >= GapPattern }

// Eased returns the sizing of the design with the gap, on its basis and at every level of
// trust, and what the horn can be used from, as they would be if one limit gave way by so
// many octaves: down for what bounds the gap from above, up for what bounds it from below.
// Every other figure stays. Limits that the design does not have change nothing.
func (s *Sizing) Eased(d *design.Design, limit GapLimit, octaves float64) Sizing {
	out := *s
	out.Easing = Easing{limit, octaves}
	e, k := *d, out.easing()
	up := math.Exp2(octaves)
	switch limit {
	case GapDriver:
		e.Horn.Lowest = scaled(e.Horn.Lowest, 1/up)
	case GapMidLowest:
		e.Mid.Lowest = scaled(e.Mid.Lowest, 1/up)
	}
	k.Horn.Lower = e.Horn.LowerLimit(d.Basis().Choose(k.Horn.PatternRule, k.Horn.PatternComputed), k.Horn.Cutoff)
	out.Horn.Lower, out.Gap = k.Horn.Lower, sizeGap(gapInputOf(&e, &k))
	return out
}

// Easing is a limit that gives way by so many octaves; the zero value is none.
type Easing struct {
	Limit   GapLimit
	Octaves float64
}

// easing returns the sizing with the limit itself moved that gives way in it.
func (s *Sizing) easing() Sizing {
	k := *s
	up := math.Exp2(s.Easing.Octaves)
	switch s.Easing.Limit {
	case GapSpacing:
		if k.Coupling.HasMid {
			k.Coupling.Mid.ease(up)
		} else {
			k.Coupling.easeWoofers(up)
		}
	case GapWoofers:
		if k.Coupling.HasMid {
			k.Coupling.easeWoofers(up)
		}
	case GapChamber:
		k.Coupling.Insert.Chamber *= up
	case GapCoupled:
		k.Coupling.Insert.Coupled *= up
	case GapInPhase:
		k.Coupling.Insert.InPhase *= up
	case GapPart:
		k.Coupling.Insert.Part *= up
	case GapPattern:
		k.Horn.PatternRule /= up
	case GapPatternComputed:
		k.Horn.PatternComputed /= up
	case GapFlare:
		k.Horn.Cutoff /= up
	case GapDriver:
		k.Horn.DriverLowest /= up
	}
	return k
}

// ease moves the limit up on either basis.
func (u *CouplingLimit) ease(up float64) {
	u.HalfWave *= up
	u.Lobe *= up
}

// easeWoofers moves the limits of the woofers up, bare and with the insert.
func (k *Coupling) easeWoofers(up float64) {
	k.Open.ease(up)
	k.Insert.ease(up)
}

func scaled(x optional.Float, by float64) optional.Float {
	if !x.Given() {
		return x
	}
	return optional.Of(x.Value() * by)
}
