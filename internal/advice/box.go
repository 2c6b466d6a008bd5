package advice

import (
	"math"
	"strings"

	"gapline/driver"
	"gapline/internal/check"
	"gapline/internal/figure"
	"gapline/internal/numeric"
	"gapline/internal/optional"
	"gapline/internal/quantity"
	"gapline/internal/result"
	"gapline/internal/study/box"
)

// level compares the maximum level of one box with the target.
func (f *finder) level() {
	want, have := f.d.Targets.Level.Value(), f.s.Box.MaxLevel
	if !numeric.Given(want) {
		return
	}
	switch {
	case !numeric.Given(have):
		f.add(result.Note, figure.BoxMaxSPL.Key, "targets.level is not judged: the maximum level needs the woofer's parameters, woofer.xmax or woofer.power, and enclosure.volume.")
	case have >= want:
		f.add(result.Met, figure.BoxMaxSPL.Key, "One box reaches %s at %s, no less than the %s asked for.", level(have), hertz(f.s.Box.LevelAt), level(want))
	default:
		f.add(result.Missed, figure.BoxMaxSPL.Key, "One box reaches only %s at %s, limited by %s; %s are asked for.",
			level(have), hertz(f.s.Box.LevelAt), f.s.Box.Limit.String(), level(want))
	}
}

// BoxFindings judges one box, proposes changes and says what was assumed.
func BoxFindings(st *box.Study) []result.Finding {
	f := boxFinder{finder{d: st.Design, s: &st.Sizing}, st}
	f.contradictions()
	f.level()
	f.vent()
	f.drive()
	f.mouths()
	f.suggest()
	f.taken()
	f.unused()
	f.limits()
	f.fullRange()
	f.add(result.Caution, "max_spl_db", LoudnessCaution)
	f.add(result.Caution, "drive.power", AmplifierCaution)
	if st.Stack != nil {
		f.add(result.Caution, "line.boxes", SuspensionCaution)
	}
	return f.out
}

type boxFinder struct {
	finder
	st *box.Study
}

func (f *boxFinder) kind() driver.EnclosureKind { return f.st.Circuit.Enclosure().Kind }

// contradictions lists given values that break a relation.
func (f *boxFinder) contradictions() {
	for _, c := range f.st.Setup.Driver.Contradictions {
		f.add(result.Contradiction, "woofer."+c.Key, "%s The circuit takes fs, qes, qms, vas, sd and re.", contradiction(c, "woofer."))
	}
	if e := f.st.Setup.Driver.Efficiency(); e > driver.EfficiencyCaution {
		f.add(result.Contradiction, figure.DriverEfficiency.Key, "fs, vas and qes of the woofer come to a reference efficiency of %s, 4π²·fs³·vas/(c³·qes). Direct radiators reach a few per cent (common practice, no source), and more than 100 %% cannot be: check the values and their units.",
			result.Num(e, quantity.Fraction))
	}
}

// contradiction says which values do not fit; prefix stands before their keys.
func contradiction(c driver.Contradiction, prefix string) result.Text {
	kind := figure.Find("box.driver." + c.Key).Kind
	return result.Say("%s contradict each other: %s is %s, but the others give %s (%s).",
		prefix+strings.Join(c.Keys, ", "+prefix), c.Key, result.Num(c.Value, kind), result.Num(c.Predicted, kind),
		result.Num(c.Predicted/c.Value-1, quantity.Fraction).As(quantity.Style{Verb: "%+.0f"}))
}

// vent judges the air speed at the maximum level and proposes a larger vent.
func (f *boxFinder) vent() {
	i := f.st.Fastest()
	if i < 0 || f.st.Max[i].VentSpeed <= driver.MouthSpeedCaution {
		return
	}
	m := f.st.Max[i]
	f.add(result.Note, "enclosure.vent_area", "At the maximum level the air in the vent reaches %s at %s; above %s it is likely to be heard (common practice).",
		speed(m.VentSpeed), hertz(m.Frequency), speed(driver.MouthSpeedCaution))
	e := f.st.Circuit.Enclosure()
	growth := m.VentSpeed / driver.MouthSpeedCaution
	e.Vent.Area = optional.Of(e.Vent.Area.Value() * growth)
	e.Vent.Height = optional.Of(e.Vent.Height.Value() * growth)
	e.Vent.Length = optional.Float{}
	e.PanelArea = optional.Float{}
	if r, err := e.Resolve(f.st.Setup.Driver.Air); err == nil {
		f.add(result.Try, "enclosure.vent_area", "%s of vent in all, %s long for the same tuning. Cost: room in the box and on the panel.",
			result.Num(float64(max(r.Vent.Count, 1))*r.Vent.Area.Value(), quantity.Area), length(r.Vent.Length.Value()))
	}
}

// drive says where the study's own voltage is too much.
func (f *boxFinder) drive() {
	st, d := f.st, &f.st.Setup.Driver
	if i := st.Widest(); st.Points[i].Excursion > d.Xmax.Value() {
		f.add(result.Note, "drive.voltage", "At %s the cones move %s at %s, beyond woofer.xmax: the curves at this drive are too good to be true there.",
			result.Num(st.Volts, quantity.Voltage), length(st.Points[i].Excursion), hertz(st.Frequency[i]))
	}
	switch rated := float64(st.Setup.Count) * d.Power.Value(); {
	case st.Full != nil:
		f.overdriven(st.Full.One, st.Full.Overdriven)
	case st.Watts > rated:
		f.add(result.Caution, "drive.power", "The drive of %s is more than the woofers' %s.", result.Num(st.Watts, quantity.Power), result.Num(rated, quantity.Power))
	}
}

// fullRange says what stops the box over the whole range, or why that is not known.
func (f *boxFinder) fullRange() {
	if f.st.Full == nil {
		f.add(result.Note, "line.boxes", "The box over its whole range is left out: %s.", f.st.FullWhy)
		return
	}
	f.stops(f.st.Full.One, f.st.Full.Programme)
	f.unknownLimits(f.st.Full.One)
}

// mouths judges the insert, or says why it is left out.
func (f *boxFinder) mouths() {
	if f.st.Insert == nil {
		if lacks := check.InsertLacks(f.d); f.d.HasInsert() && len(lacks) > 0 {
			f.add(result.Note, "insert.mouths", "The insert is left out: its filter needs %s.", strings.Join(lacks, ", "))
		}
		return
	}
	e := &f.st.Insert.Effect
	switch {
	case e.LimitSpeed > driver.MouthSpeedCaution:
		f.add(result.Note, "insert.mouth_width", "At the displacement limit the air in the insert's mouths reaches %s at %s; above %s it is likely to be heard (common practice).",
			speed(e.LimitSpeed), hertz(e.LimitAt), speed(driver.MouthSpeedCaution))
	case !numeric.Given(e.LimitSpeed):
		f.add(result.Note, "insert.mouth_width", "The air speed in the insert's mouths at the displacement limit needs woofer.xmax and woofer.power.")
	}
	if high := f.s.Gap.High; e.Chamber.Corner < high {
		f.add(result.Note, "insert.chamber_volume", "The chamber's corner, %s with the mouths' action on each other, lies below the horn's limit, %s.",
			hertz(e.Chamber.Corner), hertz(high))
	}
	f.add(result.Note, "insert.mouths", "With and without the insert are compared with the exact radiation of cones and mouths; the other curves take the air in front of bare cones as mass only.")
}

// suggest proposes the classical boxes, the one of the box's own kind first.
func (f *boxFinder) suggest() {
	if len(f.st.Suggested) == 0 {
		f.add(result.Note, "woofer.qes", "No classical alignment (B2, B4, QB3, C4) suits a driver of this Q.")
	}
	for pass := range 2 {
		for _, s := range f.st.Suggested {
			if own := s.Kind == f.kind(); own == (pass == 0) {
				f.suggestion(s)
			}
		}
	}
}

func (f *boxFinder) suggestion(s driver.Suggestion) {
	var tuning, leak result.Text
	if s.Kind.Parts().Tuning {
		tuning = result.Say(" tuned to %s%s", hertz(s.Tuning), f.ventFor(s))
		assumed := ""
		if !f.d.Enclosure.LeakQ.Given() {
			assumed = " assumed"
		}
		leak = result.Say(" (leak Q %s%s)", exactly(f.st.LeakQ, quantity.Number), assumed)
	}
	f.add(result.Try, "enclosure.volume", "%s, %s: %s%s, f3 %s%s.", s.Alignment.Name, s.Kind.String(), volume(s.Volume), tuning, hertz(s.F3), leak)
}

// ventFor gives the length of the design's vent in a suggested box.
func (f *boxFinder) ventFor(s driver.Suggestion) result.Text {
	e := f.st.Circuit.Enclosure()
	if !e.Kind.Parts().Vent || !e.Vent.Area.Given() {
		return result.Text{}
	}
	e.Volume, e.Tuning, e.Vent.Length = optional.Of(s.Volume), optional.Of(s.Tuning), optional.Float{}
	r, err := e.Resolve(f.st.Setup.Driver.Air)
	if err != nil {
		return result.Plain(" (this vent is too small for it)")
	}
	return result.Say(" (this vent %s long)", length(r.Vent.Length.Value()))
}

// taken says what was assumed where the design gives nothing.
func (f *boxFinder) taken() {
	w := &f.st.Setup.Driver
	if f.d.Enclosure.Kind == 0 {
		f.add(result.Note, "enclosure.kind", "enclosure.kind is not given: the keys make it %s.", f.kind().String())
	}
	if _, from := f.d.Woofer.PistonRadius(); from == "size" {
		f.add(result.Note, "woofer.sd", "The piston is taken as %s of woofer.size (common practice): give woofer.sd.", exactly(driver.SizeRule, quantity.Number))
	}
	for _, m := range []struct {
		value      float64
		key, means string
	}{
		{w.Le.Value(), "woofer.le", "the voice coil's inductance is left out"},
		{w.Xmax.Value(), "woofer.xmax", "excursion does not limit the level"},
		{w.Power.Value(), "woofer.power", "power does not limit the level"},
	} {
		if !numeric.Given(m.value) {
			f.add(result.Note, m.key, "%s is not given: %s.", m.key, m.means)
		}
	}
	if e := f.st.Circuit.Enclosure(); e.Kind.Parts().Vent && !e.Vent.Area.Given() {
		f.add(result.Note, "enclosure.vent_area", "enclosure.vent_area is not given: no air speed in the vent.")
	}
}

// unused names keys that this kind of enclosure does not use.
func (f *boxFinder) unused() {
	e, has := &f.d.Enclosure, f.kind().Parts()
	var idle []string
	for _, x := range []struct {
		used  bool
		key   string
		value float64
	}{
		{has.Tuning, "enclosure.tuning", e.Tuning.Value()},
		{has.Vent, "enclosure.vent_area", e.Vent.Area.Value()},
		{has.Vent, "enclosure.vent_diameter", e.VentDiameter.Value()},
		{has.Vent, "enclosure.vent_width", e.Vent.Width.Value()},
		{has.Vent, "enclosure.vent_length", e.Vent.Length.Value()},
		{has.Radiator, "enclosure.radiator_sd", e.Radiator.Sd.Value()},
	} {
		if !x.used && numeric.Given(x.value) {
			idle = append(idle, x.key)
		}
	}
	if len(idle) > 0 {
		f.add(result.Note, "enclosure.kind", "A %s box does not use %s.", f.kind().String(), strings.Join(idle, ", "))
	}
}

// models says that the box alone and the boxes of a stack are two models, and how
// far they part where the box plays.
func (f *boxFinder) models() {
	text := result.Say("One box alone and the boxes of the stack are two models. Alone, the air in front of bare cones and of vents counts as mass only (Small); " +
		"in the stack cones and mouths have their exact radiation, vents that of small sources, and all act on each other.")
	switch x, parts := f.st.Setup.Enclosure.Vent.Distance, f.st.Setup.Enclosure.Kind.Parts(); {
	case !parts.Vent && !parts.Radiator:
	case x.Given() && !f.d.Enclosure.Vent.Distance.Given():
		text = text.And(result.Say(" By their places they stand %s from the woofers.", length(x.Value())))
	case !x.Given():
		text = text.And(result.Say(" How far they stand from the woofers is not known (enclosure.vent_distance, or both places): the two do not act on each other."))
	}
	if i, by := f.st.ModelsPart(); i >= 0 {
		text = text.And(result.Say(" One box reads %s in it at %s, where they part most.",
			level(by).As(quantity.Style{Verb: "%+.1f"}), hertz(f.st.Frequency[i])))
	}
	f.add(result.Note, "line.boxes", "%s", text)
}

// limits says what the models leave out.
func (f *boxFinder) limits() {
	k := &f.d.Cabinet
	if longest := math.Max(k.Height.Value(), math.Max(k.Width.Value(), k.Depth.Value())); numeric.Given(longest) {
		f.add(result.Note, "cabinet.depth", "The box is a lumped circuit. Standing waves inside it begin near %s, where its longest side is half a wave (rule).",
			hertz(f.s.Air.SoundSpeed/(2*longest)))
	}
	if f.st.Setup.Driver.Power.Given() {
		f.add(result.Note, "woofer.power", "%s.", capital(driver.PowerCompressionNote))
	}
	if f.st.Stack == nil {
		f.add(result.Note, "line.boxes", "%s.", capital(f.st.StackWhy))
		return
	}
	f.models()
	f.add(result.Note, "line.boxes", "Each doubling of the stack, at the same voltage on every box, adds about 6 dB on axis at any frequency. "+
		"What coupling adds, and its loss above the coupling band, shows only in the radiated power: 6 dB for each doubling while the boxes couple, 3 dB above.")
}
