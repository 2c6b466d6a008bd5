package advice

import (
	"math"

	"gapline/cabinet/design"
	"gapline/cabinet/layout"
	"gapline/cabinet/sizing"
	"gapline/internal/check"
	"gapline/internal/numeric"
	"gapline/internal/optional"
	"gapline/internal/result"
)

// A Lever is one change that would close the gap by itself, and what it costs
// on the other side.
type Lever struct {
	Key  string      // of the design file
	To   float64     // SI
	Text result.Text // with the price

	change func(*design.Design) // nil: it is more than one key
}

// Levers solves for every single change that brings the gap down to target
// octaves. Changes that cannot do it, or with which the box cannot be built, are left out;
// with none at all the list is empty.
func Levers(d *design.Design, s *sizing.Sizing, target float64) []Lever {
	l := levers{d: d, s: s, target: target}
	return l.fitting(
		l.chamber(), l.insertSpacing(), l.insert(), l.mouthWidth(), l.coverage(), l.pitch(), l.smallerDrivers())
}

// fits reports whether a changed design can be built, and is in no conflict, even one that
// rests on a default, that the present one is not in.
func (l *levers) fits(d *design.Design) bool {
	changed := layout.New(d)
	return changed.Fits() && len(changed.Conflicts) <= len(layout.New(l.d).Conflicts)
}

// fitting drops what cannot be built.
func (l *levers) fitting(all ...*Lever) []Lever {
	var out []Lever
	for _, x := range all {
		if x == nil {
			continue
		}
		if x.change != nil {
			d := *l.d
			x.change(&d)
			if !l.fits(&d) {
				continue
			}
		}
		out = append(out, *x)
	}
	return out
}

type levers struct {
	d      *design.Design
	s      *sizing.Sizing
	target float64
}

// gapWith returns the gap of the design after a change.
func (l *levers) gapWith(change func(*design.Design)) float64 {
	d := *l.d
	change(&d)
	return sizing.GapOf(&d)
}

// solve finds the value between from, where the gap is too wide, and to, at
// which the gap meets the target. ok is false when even to does not close it.
func (l *levers) solve(from, to float64, set func(*design.Design, float64)) (x float64, ok bool) {
	over := func(x float64) float64 {
		return l.gapWith(func(d *design.Design) { set(d, x) }) - l.target
	}
	if !(over(from) > 0) || !(over(to) <= 0) {
		return numeric.Absent, false
	}
	tol := 1e-6 * math.Abs(from)
	x, err := numeric.Root(over, from, to, tol)
	// The lobe criterion jumps; step off the jump to the side that closes.
	for step := 2 * tol; err == nil && over(x) > 0; step *= 2 {
		x += math.Copysign(step, to-from)
	}
	return x, err == nil
}

// pitch brings the boxes together.
func (l *levers) pitch() *Lever {
	now := l.d.Pitch()
	p, ok := l.solve(now, now/8, func(d *design.Design, p float64) { d.SetPitch(p) })
	if !ok {
		return nil
	}
	text := result.Say("Pitch %s (now %s). Cost: ", length(p), length(now))
	if n := l.d.Line.Boxes; n > 0 {
		text = text.And(result.Say("a line of %s, coupling from %s (now %s), or %s boxes",
			length(float64(n)*p), hertz(l.s.Coupling.Lower*now/p), hertz(l.s.Coupling.Lower), result.Count(int(math.Ceil(float64(n)*now/p-1e-9)))))
	} else {
		text = text.And(result.Say("a shorter line for the same number of boxes"))
	}
	return &Lever{"cabinet.pitch", p, text.And(l.pitchRoom(p)), func(d *design.Design) { d.SetPitch(p) }}
}

// pitchRoom says what has to shrink with the boxes.
func (l *levers) pitchRoom(p float64) result.Text {
	w := l.d.Woofer.Size.Value()
	switch {
	case w > p:
		return result.Say("; woofers (now %s) and horn mouths that fit the pitch.", length(w))
	case l.d.Horn.MouthHeight.Value() > p:
		return result.Say("; horn mouths (now %s high) that fit the pitch.", length(l.d.Horn.MouthHeight.Value()))
	}
	return result.Say("; woofers and horn keep their size.")
}

// mouthWidth widens the horn's mouth.
func (l *levers) mouthWidth() *Lever {
	now := l.d.Horn.MouthWidth.Value()
	w, ok := l.solve(now, 8*now, func(d *design.Design, w float64) { d.Horn.MouthWidth = optional.Of(w) })
	if !ok {
		return nil
	}
	text := result.Say("Horn mouth %s wide (now %s).", length(w), length(now))
	switch cab := l.d.Cabinet.Width.Value(); {
	case numeric.Given(cab):
		text = text.And(result.Say(" Cost: it leaves %s of the cabinet's width to the woofers beside it (now %s).", length(cab-w), length(cab-now)))
	default:
		text = text.And(result.Say(" Cost: less room for the woofers beside it."))
	}
	return &Lever{"horn.mouth_width", w, text, func(d *design.Design) { d.Horn.MouthWidth = optional.Of(w) }}
}

// coverage widens the pattern that the horn has to hold.
func (l *levers) coverage() *Lever {
	now := l.d.Horn.Coverage.Value()
	widest := 170 * math.Pi / 180
	a, ok := l.solve(now, widest, func(d *design.Design, a float64) { d.Horn.Coverage = optional.Of(a) })
	if !ok {
		return nil
	}
	return &Lever{"horn.coverage", a, result.Say("Coverage %s (now %s). Cost: that much more sound to the sides.",
		angle(a), angle(now)), func(d *design.Design) { d.Horn.Coverage = optional.Of(a) }}
}

// maxInsertMouths bounds the mouths that a lever proposes.
const maxInsertMouths = 4

// insert splits the cones' fronts, or splits them finer.
func (l *levers) insert() *Lever {
	if l.d.HasMid() {
		return nil // the mids meet the horn
	}
	for n := max(2, l.d.Insert.Mouths+1); n <= maxInsertMouths; n++ {
		change := func(d *design.Design) {
			d.Insert.Mouths, d.Insert.Spacing = n, optional.Float{}
			d.Insert.MouthHeight = optional.Of(math.Min(d.Insert.MouthHeight.Value(), d.Pitch()/float64(n)))
		}
		if l.gapWith(change) > l.target {
			continue
		}
		return &Lever{"insert.mouths", float64(n), result.Say(
			"Insert, %s mouths %s apart. Cost: fast air, less bottom, chamber corner over %s.",
			result.Count(n), length(l.d.Pitch()/float64(n)), hertz(l.s.Gap.High)), change}
	}
	return nil
}

// chamber makes the air behind the plate smaller, when its corner is what binds.
func (l *levers) chamber() *Lever {
	i := &l.d.Insert
	if !l.d.HasInsert() || l.d.HasMid() || !(l.s.Coupling.Insert.Chamber < l.s.Coupling.Insert.On(l.s.Gap.Basis)) {
		return nil
	}
	v, ok := l.solve(i.ChamberVolume.Value(), i.ChamberVolume.Value()/100, func(d *design.Design, v float64) { d.Insert.ChamberVolume = optional.Of(v) })
	if !ok {
		return nil
	}
	return &Lever{"insert.chamber_volume", v, result.Say(
		"Front chamber of %s (now %s). Cost: less clearance between cone and plate.",
		volume(v), volume(i.ChamberVolume.Value())), func(d *design.Design) { d.Insert.ChamberVolume = optional.Of(v) }}
}

// insertSpacing puts the mouths of an existing insert where they belong.
func (l *levers) insertSpacing() *Lever {
	n := l.d.Insert.Mouths
	if n < 2 || l.d.HasMid() {
		return nil
	}
	even := l.d.Pitch() / float64(n)
	if math.Abs(even-l.d.InsertSpacing()) < check.Slack ||
		l.gapWith(func(d *design.Design) { d.Insert.Spacing = optional.Of(even) }) > l.target {
		return nil
	}
	return &Lever{"insert.spacing", even, result.Say(
		"Mouths %s apart (now %s), even all along the stack. Cost: none acoustically, but they must fit there.",
		length(even), length(l.d.InsertSpacing())), func(d *design.Design) { d.Insert.Spacing = optional.Of(even) }}
}

// smallerDrivers says how close centres would have to be for the half-wave rule
// to reach the horn.
func (l *levers) smallerDrivers() *Lever {
	if l.s.Gap.Basis != design.HalfWave || !(l.s.Gap.High > 0) {
		return nil
	}
	spacing := l.s.Air.SoundSpeed / (2 * l.s.Gap.High / math.Exp2(l.target))
	if spacing >= l.s.Coupling.Open.Spacing || l.d.HasMid() {
		return nil
	}
	perBox := int(math.Ceil(l.d.Pitch()/spacing - 1e-9))
	return &Lever{"mid.spacing", spacing, result.Say(
		"%s smaller drivers a box, %s apart at most. Cost: less bottom, or a mid band more.",
		result.Count(perBox), length(spacing)), nil}
}
