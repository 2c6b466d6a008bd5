package advice

import (
	"math"

	"gapline/cabinet/design"
	"gapline/internal/numeric"
	"gapline/internal/quantity"
	"gapline/internal/result"
	"gapline/internal/schema"
)

// chamber makes the air behind the plate smaller.
func (l *levers) chamber() {
	now := l.d.Insert.ChamberVolume.Value()
	if !l.d.HasInsert() || l.d.HasMid() {
		return
	}
	if c, ok := l.solve("insert.chamber_volume", tenCC, now/100, nil); ok {
		l.propose(c, func(*tried) (what, cost result.Text) {
			return result.Say("Front chamber of %s (now %s)", volume(c[0].value), volume(now)), result.Plain("less clearance between cone and plate")
		})
	}
}

// insertSpacing puts the mouths of an existing insert where they belong.
func (l *levers) insertSpacing() {
	n := l.d.Insert.Mouths
	if n < 2 || l.d.HasMid() {
		return
	}
	even := math.Round(l.d.Pitch()/float64(n)/tenthMM) * tenthMM
	if math.Abs(even-l.d.InsertSpacing()) < tenthMM {
		return
	}
	l.propose([]change{set("insert.spacing", even)}, func(*tried) (what, cost result.Text) {
		return result.Say("Mouths %s apart (now %s), even all along the stack", length(even), length(l.d.InsertSpacing())), result.Plain("none acoustically")
	})
}

// Shares and sizes of an insert that is proposed: choices, no source.
const (
	mostMouths     = 4
	mouthOfSpacing = 0.8    // height of a mouth over the distance of two
	conesOverMouth = 1.6    // area of the cones over that of their mouths
	plateDepth     = 12e-3  // of the slots, m
	leastClearance = 6e-3   // mean depth of the chamber over the cones, m
	cornerMargin   = 1.05   // of the chamber's corner over what is needed
	firstChamber   = 0.5e-3 // m³, from which the volume is scaled
)

// insert puts a plate with mouths in front of the cones, or one with more of them: all its
// measures, with the chamber as large as the gap lets it be.
func (l *levers) insert() {
	if l.d.HasMid() || !(l.d.Woofer.PistonArea() > 0) {
		return // the mids meet the horn
	}
	for n := max(2, l.d.Insert.Mouths+1); n <= mostMouths; n++ {
		c, ok := l.plate(n)
		if ok && l.propose(c, func(t *tried) (what, cost result.Text) {
			i := &t.design.Insert
			return result.Say("Insert, %s mouths %s by %s, %s apart, chamber %s",
					result.Count(n), length(i.MouthHeight.Value()), length(i.MouthWidth.Value()), length(i.Spacing.Value()), volume(i.ChamberVolume.Value())),
				result.Say("mouth air %s times as fast", result.Num(t.sizing.Coupling.Insert.AreaRatio, quantity.Number).As(quantity.Style{Verb: "%.1f"}))
		}) {
			return
		}
	}
}

// plate is an insert of n mouths whose chamber is as large as the horn's side lets it be.
func (l *levers) plate(n int) ([]change, bool) {
	d := l.d
	spacing := math.Floor(d.Pitch()/float64(n)/tenthMM) * tenthMM
	height := math.Floor(mouthOfSpacing*spacing/wholeMM) * wholeMM
	cones := float64(d.WooferRows()) * d.Woofer.PistonArea()
	width := math.Ceil(cones/(conesOverMouth*float64(n)*height)/wholeMM) * wholeMM
	if !numeric.Given(width) || width > d.Woofer.Size.Or(d.Woofer.Diameter()) {
		return nil, false
	}
	out := []change{set("insert.mouths", float64(n)), set("insert.spacing", spacing), set("insert.mouth_height", height), set("insert.mouth_width", width)}
	if !d.Insert.SlotDepth.Given() {
		out = append(out, set("insert.slot_depth", plateDepth))
	}
	t, ok := l.try(append(out[:len(out):len(out)], set("insert.chamber_volume", firstChamber)))
	if !ok {
		return nil, false
	}
	need := cornerMargin * math.Max(t.sizing.Horn.Lower, t.sizing.Horn.PatternComputed) / math.Exp2(l.target)
	share := t.sizing.Coupling.Insert.Coupled / need
	chamber := math.Floor(firstChamber*share*share/tenCC) * tenCC
	if !(chamber >= leastClearance*cones*float64(d.WooferColumns())) {
		return nil, false
	}
	return append(out, set("insert.chamber_volume", chamber)), true
}

// mouthWidth widens the horn's mouth.
func (l *levers) mouthWidth() {
	now := l.d.Horn.MouthWidth.Value()
	if c, ok := l.solve("horn.mouth_width", wholeMM, math.Min(8*now, schema.FindKey("horn.mouth_width").Max), nil); ok {
		l.propose(c, func(*tried) (what, cost result.Text) {
			what = result.Say("Horn mouth %s wide (now %s)", length(c[0].value), length(now))
			if cab := l.d.Cabinet.Width.Value(); numeric.Given(cab) {
				return what, result.Say("it leaves %s of the cabinet's width to what stands beside it (now %s)", length(cab-c[0].value), length(cab-now))
			}
			return what, result.Plain("less room for what stands beside it")
		})
	}
}

// coverage widens the pattern that the horn has to hold.
func (l *levers) coverage() {
	now := l.d.Horn.Coverage.Value()
	if c, ok := l.solve("horn.coverage", wholeDeg, 170*wholeDeg, nil); ok {
		l.propose(c, func(*tried) (what, cost result.Text) {
			return result.Say("Coverage %s (now %s)", angle(c[0].value), angle(now)), result.Plain("that much more sound to the sides")
		})
	}
}

// pitch brings the boxes together; with woofers that fit them where the present ones do not.
func (l *levers) pitch() {
	now := l.d.Pitch()
	c, ok := l.solve("cabinet.pitch", wholeMM, now/8, nil)
	if !ok {
		return
	}
	say := func(smaller string) func(*tried) (what, cost result.Text) {
		return func(*tried) (what, cost result.Text) {
			p := c[0].value
			what = result.Say("Pitch %s (now %s)%s", length(p), length(now), smaller)
			if n := l.d.Line.Boxes; n > 0 {
				return what, result.Say("a line of %s, coupling from %s (now %s), or %s boxes", length(float64(n)*p), hertz(l.s.Coupling.Lower*now/p),
					hertz(l.s.Coupling.Lower), result.Count(int(math.Ceil(float64(n)*now/p-1e-9))))
			}
			return what, result.Plain("a shorter line for the same number of boxes")
		}
	}
	if l.propose(c, say("")) || !l.d.Woofer.Size.Given() {
		return
	}
	c, ok = l.solve("cabinet.pitch", wholeMM, now/8, func(p float64) []change {
		return l.smaller(math.Floor((p-l.d.Cabinet.Gap.Or(0)-roomAbout)/wholeMM) * wholeMM)
	})
	if ok {
		l.propose(c, say(" with woofers that fit, their parameters given anew"))
	}
}

// roomAbout is the height that a box needs beyond that of its woofer, m: a choice, no source.
const roomAbout = 10e-3

// smaller are woofers of another size: what is measured of the present ones goes.
func (l *levers) smaller(size float64) []change {
	if size >= l.d.Woofer.Size.Or(l.d.Woofer.Diameter()) {
		return nil
	}
	out := []change{set("woofer.size", size)}
	for _, leaf := range []string{"effective_diameter", "fs", "qes", "qms", "vas", "re", "le", "sd", "xmax", "bl", "mms", "cms", "rms", "power", "depth"} {
		if k := schema.FindKey("woofer." + leaf); k != nil && numeric.Given(k.Number(l.d)) {
			out = append(out, change{key: k, clear: true})
		}
	}
	return out
}

// smallerWoofers puts more and smaller woofers above each other.
func (l *levers) smallerWoofers() {
	d := l.d
	if d.HasMid() || d.HasInsert() || l.s.Gap.Basis != design.HalfWave || !d.HasWoofer() {
		return
	}
	columns := d.WooferColumns()
	for n := d.WooferRows() + 1; n <= mostMouths; n++ {
		spacing := math.Floor(d.Pitch()/float64(n)/tenthMM) * tenthMM
		room := math.Min(spacing-2*wholeMM, d.Pitch()-d.Cabinet.Gap.Or(0)-float64(n-1)*spacing-2*wholeMM)
		size := math.Floor(room/wholeMM) * wholeMM
		c := append([]change{set("woofer.per_box", float64(n*columns)), set("woofer.columns", float64(columns)), set("woofer.spacing", spacing)}, l.smaller(size)...)
		if l.propose(c, func(*tried) (what, cost result.Text) {
			return result.Say("%s woofers a box, %s across, %s apart, parameters given anew", result.Count(n*columns), length(size), length(spacing)),
				result.Plain("less bottom")
		}) {
			return
		}
	}
}
