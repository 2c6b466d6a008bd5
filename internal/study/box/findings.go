package box

import (
	"fmt"
	"math"
	"strings"

	"gapline/driver"
	"gapline/internal/advice"
	"gapline/internal/check"
	"gapline/internal/designfile"
	"gapline/internal/figure"
	"gapline/internal/numeric"
	"gapline/internal/quantity"
)

// findings judges the study in the given units.
func (s *Study) findings(sys quantity.System) []advice.Finding {
	f := finder{Study: s, sys: sys}
	f.contradictions()
	f.target()
	f.vent()
	f.drive()
	f.insert()
	f.suggest()
	f.taken()
	f.unused()
	f.limits()
	f.add(advice.Caution, "max_spl_db", advice.LoudnessCaution)
	f.add(advice.Caution, "drive.power", advice.AmplifierCaution)
	if s.Stack != nil {
		f.add(advice.Caution, "line.boxes", advice.SuspensionCaution)
	}
	return f.out
}

type finder struct {
	*Study
	sys quantity.System
	out []advice.Finding
}

func (f *finder) add(sev advice.Severity, key, format string, args ...any) {
	f.out = append(f.out, advice.Finding{Severity: sev, Key: key, Text: fmt.Sprintf(format, args...)})
}

func (f *finder) text(si float64, k quantity.Kind) string { return quantity.Format(si, k, f.sys) }
func (f *finder) hz(v float64) string                     { return f.text(v, quantity.Frequency) }
func (f *finder) speed(v float64) string                  { return f.text(v, quantity.Speed) }

// contradictions lists given values that break a relation.
func (f *finder) contradictions() {
	for _, c := range f.Setup.Driver.Contradictions {
		f.add(advice.Doubt, "woofer."+c.Key, "%s The circuit takes fs, qes, qms, vas, sd and re.", ContradictionText(c, f.sys))
	}
}

// ContradictionText says in keys of the design file which values do not fit.
func ContradictionText(c driver.Contradiction, sys quantity.System) string {
	keys := make([]string, len(c.Keys))
	for i, k := range c.Keys {
		keys[i] = "woofer." + k
	}
	kind := ParameterKind(c.Key)
	return fmt.Sprintf("%s contradict each other: %s is %s, but the others give %s (%+.0f %%).", strings.Join(keys, ", "), c.Key,
		quantity.Format(c.Value, kind, sys), quantity.Format(c.Predicted, kind, sys), 100*(c.Predicted/c.Value-1))
}

// ParameterKind returns what a driver parameter measures.
func ParameterKind(key string) quantity.Kind {
	if k := designfile.FindKey("woofer." + key); k != nil {
		return k.Kind
	}
	return quantity.Number
}

// target repeats what the sizing says of the level target.
func (f *finder) target() {
	for _, x := range advice.Findings(f.Design, &f.Sizing, f.sys) {
		if x.Key == figure.BoxMaxSPL.Key && x.Severity != advice.Caution {
			f.out = append(f.out, x)
		}
	}
}

// vent judges the air speed at the maximum level and proposes a larger vent.
func (f *finder) vent() {
	i := f.Fastest()
	if i < 0 || f.Max[i].VentSpeed <= driver.MouthSpeedCaution {
		return
	}
	m := f.Max[i]
	f.add(advice.Note, "enclosure.vent_area", "At the maximum level the air in the vent reaches %s at %s; above %s it is likely to be heard (common practice).",
		f.speed(m.VentSpeed), f.hz(m.Frequency), f.speed(driver.MouthSpeedCaution))
	e := f.Circuit.Enclosure()
	growth := m.VentSpeed / driver.MouthSpeedCaution
	e.Vent.Area *= growth
	e.Vent.Height *= growth
	e.Vent.Length = numeric.Absent
	e.PanelArea = numeric.Absent
	if r, err := e.Resolve(f.Setup.Driver.Air); err == nil {
		f.add(advice.Advice, "enclosure.vent_area", "%s of vent in all, %s long for the same tuning. Cost: room in the box and on the panel.",
			f.text(float64(max(r.Vent.Count, 1))*r.Vent.Area, quantity.Area), f.text(r.Vent.Length, quantity.Length))
	}
}

// drive says where the study's own voltage is too much.
func (f *finder) drive() {
	d := &f.Setup.Driver
	if i := f.Widest(); f.Points[i].Excursion > d.Xmax {
		f.add(advice.Note, "drive.voltage", "At %s the cones move %s at %s, beyond woofer.xmax: the curves at this drive are too good to be true there.",
			f.text(f.Volts, quantity.Voltage), f.text(f.Points[i].Excursion, quantity.Length), f.hz(f.Frequency[i]))
	}
	if rated := float64(f.Setup.Count) * d.Power; f.Watts > rated {
		f.add(advice.Note, "drive.power", "The drive of %s is more than the woofers' %s.", f.text(f.Watts, quantity.Power), f.text(rated, quantity.Power))
	}
}

func (f *finder) insert() {
	if f.Insert == nil {
		if lacks := check.InsertLacks(f.Design); f.Design.HasInsert() && len(lacks) > 0 {
			f.add(advice.Note, "insert.mouths", "The insert is left out: its filter needs %s.", strings.Join(lacks, ", "))
		}
		return
	}
	e := &f.Insert.Effect
	switch {
	case e.LimitSpeed > driver.MouthSpeedCaution:
		f.add(advice.Note, "insert.mouth_width", "At the displacement limit the air in the insert's mouths reaches %s at %s; above %s it is likely to be heard (common practice).",
			f.speed(e.LimitSpeed), f.hz(e.LimitAt), f.speed(driver.MouthSpeedCaution))
	case !numeric.Given(e.LimitSpeed):
		f.add(advice.Note, "insert.mouth_width", "The air speed in the insert's mouths at the displacement limit needs woofer.xmax and woofer.power.")
	}
	if high := f.Sizing.Gap.High; e.Chamber.Corner < high {
		f.add(advice.Note, "insert.chamber_volume", "The chamber's corner, %s with the mouths' action on each other, lies below the horn's limit, %s.",
			f.hz(e.Chamber.Corner), f.hz(high))
	}
	f.add(advice.Note, "insert.mouths", "With and without the insert are compared with the exact radiation of cones and mouths; the other curves take the air in front of bare cones as mass only.")
}

// suggest proposes the classical boxes, the one of the box's own kind first.
func (f *finder) suggest() {
	if len(f.Suggested) == 0 {
		f.add(advice.Note, "woofer.qes", "No classical alignment (B2, B4, QB3, C4) suits a driver of this Q.")
	}
	for pass := range 2 {
		for _, s := range f.Suggested {
			if own := s.Kind == f.Circuit.Enclosure().Kind; own == (pass == 0) {
				f.add(advice.Advice, "enclosure.volume", "%s", f.suggestion(s))
			}
		}
	}
}

func (f *finder) suggestion(s driver.Suggestion) string {
	text := fmt.Sprintf("%s, %s: %s", s.Alignment.Name, s.Kind, f.text(s.Volume, quantity.Volume))
	if s.Kind.Parts().Tuning {
		text += " tuned to " + f.hz(s.Tuning) + f.ventFor(s)
	}
	text += ", f3 " + f.hz(s.F3)
	if s.Kind.Parts().Tuning {
		assumed := ""
		if !numeric.Given(f.Design.Enclosure.LeakQ) {
			assumed = " assumed"
		}
		text += fmt.Sprintf(" (leak Q %g%s)", f.LeakQ, assumed)
	}
	return text + "."
}

// ventFor gives the length of the design's vent in a suggested box.
func (f *finder) ventFor(s driver.Suggestion) string {
	e := f.Circuit.Enclosure()
	if !e.Kind.Parts().Vent || !numeric.Given(e.Vent.Area) {
		return ""
	}
	e.Volume, e.Tuning, e.Vent.Length = s.Volume, s.Tuning, numeric.Absent
	r, err := e.Resolve(f.Setup.Driver.Air)
	if err != nil {
		return " (this vent is too small for it)"
	}
	return fmt.Sprintf(" (this vent %s long)", f.text(r.Vent.Length, quantity.Length))
}

// taken says what was assumed where the design gives nothing.
func (f *finder) taken() {
	d, w := f.Design, &f.Setup.Driver
	if d.Enclosure.Kind == 0 {
		f.add(advice.Note, "enclosure.kind", "enclosure.kind is not given: the keys make it %s.", f.Circuit.Enclosure().Kind)
	}
	if _, from := d.Woofer.PistonRadius(); from == "size" {
		f.add(advice.Note, "woofer.sd", "The piston is taken as %g of woofer.size (common practice): give woofer.sd.", driver.SizeRule)
	}
	for _, m := range []struct {
		value      float64
		key, means string
	}{
		{w.Le, "woofer.le", "the voice coil's inductance is left out"},
		{w.Xmax, "woofer.xmax", "excursion does not limit the level"},
		{w.Power, "woofer.power", "power does not limit the level"},
	} {
		if !numeric.Given(m.value) {
			f.add(advice.Note, m.key, "%s is not given: %s.", m.key, m.means)
		}
	}
	if e := f.Circuit.Enclosure(); e.Kind.Parts().Vent && !numeric.Given(e.Vent.Area) {
		f.add(advice.Note, "enclosure.vent_area", "enclosure.vent_area is not given: no air speed in the vent.")
	}
}

// unused names keys that this kind of enclosure does not use.
func (f *finder) unused() {
	e := &f.Design.Enclosure
	kind := f.Circuit.Enclosure().Kind
	has := kind.Parts()
	var idle []string
	idleUnless := func(ok bool, key string, value float64) {
		if !ok && numeric.Given(value) {
			idle = append(idle, key)
		}
	}
	idleUnless(has.Tuning, "enclosure.tuning", e.Tuning)
	idleUnless(has.Vent, "enclosure.vent_area", e.Vent.Area)
	idleUnless(has.Vent, "enclosure.vent_diameter", e.VentDiameter)
	idleUnless(has.Vent, "enclosure.vent_width", e.Vent.Width)
	idleUnless(has.Vent, "enclosure.vent_length", e.Vent.Length)
	idleUnless(has.Radiator, "enclosure.radiator_sd", e.Radiator.Sd)
	if len(idle) > 0 {
		f.add(advice.Note, "enclosure.kind", "A %s box does not use %s.", kind, strings.Join(idle, ", "))
	}
}

// models says that the box alone and the boxes of a stack are two models, and how
// far they part where the box plays.
func (f *finder) models() {
	text := "One box alone and the boxes of the stack are two models. Alone, the air in front of bare cones and of vents counts as mass only (Small); " +
		"in the stack cones and mouths have their exact radiation, vents that of small sources, and all act on each other."
	at, most := numeric.Absent, 0.0
	for i, hz := range f.Frequency {
		if d := f.Stack.Points[0][i].Axis - f.Points[i].Level(); hz >= f.Summary.F10 && math.Abs(d) > math.Abs(most) {
			at, most = hz, d
		}
	}
	if f.Stack.Boxes[0] == 1 && numeric.Given(at) {
		text += fmt.Sprintf(" One box reads %+.1f dB in it at %s, where they part most.", most, f.hz(at))
	}
	f.add(advice.Note, "line.boxes", "%s", text)
}

// limits says what the models leave out.
func (f *finder) limits() {
	k := &f.Design.Cabinet
	if longest := math.Max(k.Height, math.Max(k.Width, k.Depth)); numeric.Given(longest) {
		f.add(advice.Note, "cabinet.depth", "The box is a lumped circuit. Standing waves inside it begin near %s, where its longest side is half a wave (rule).",
			f.hz(f.Sizing.Air.SoundSpeed/(2*longest)))
	}
	if numeric.Given(f.Setup.Driver.Power) {
		f.add(advice.Note, "woofer.power", "%s.", strings.ToUpper(driver.PowerCompressionNote[:1])+driver.PowerCompressionNote[1:])
	}
	if f.Stack != nil {
		f.models()
		f.add(advice.Note, "line.boxes", "Each doubling of the stack, at the same voltage on every box, adds about 6 dB on axis at any frequency. "+
			"What coupling adds, and its loss above the coupling band, shows only in the radiated power: 6 dB for each doubling while the boxes couple, 3 dB above.")
	} else {
		f.add(advice.Note, "line.boxes", "%s.", strings.ToUpper(f.StackWhy[:1])+f.StackWhy[1:])
	}
}
