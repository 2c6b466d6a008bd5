package describe

import (
	"fmt"

	"gapline/internal/figure"
	"gapline/internal/numeric"
	"gapline/internal/quantity"
	"gapline/internal/result"
	"gapline/internal/study/box"
)

// charts are the pictures of the box that can be drawn.
func (b boxParts) charts() []result.Part {
	at := result.Say("1 m, half space, %s at the terminals; %s; %s", b.volts(), b.boxText(), b.loadText())
	all := b.chart(BoxAll, "Low end of one box", at, b.all()...)
	all.Shown, all.ID, all.Page = result.View(BoxAll, result.Drawn|result.Page), "box", "Response, impedance, excursion and maximum level of one box"
	out := []result.Part{
		all,
		b.chart(BoxResponse, "Response of one box", at, b.level(), b.delay()),
		b.chart(BoxImpedance, "Impedance of one box", result.Say("at the terminals of %s; %s", b.drivers(), b.boxText()), b.impedance(), b.impedancePhase()),
		b.chart(BoxExcursion, "Excursion of the cones", result.Say("%s at the terminals (%s); %s", b.volts(), result.Fig(figure.BoxDrivePower, b.Watts), b.boxText()), b.motion()...),
	}
	if numeric.Given(b.Max[0].Level) {
		out = append(out, b.chart(BoxMax, "Maximum level of one box",
			result.Plain("1 m, half space"+b.insertText()+"; small-signal parameters, power compression left out; diamonds: the limits cross"), b.loudest()...))
	}
	if b.Stack != nil {
		stack := b.chart(BoxStack, "Level of a stack of boxes", result.Say("far on the axis, referred to 1 m; exact radiation; %s at every box; "+
			"on axis each doubling adds 6 dB, the loss of coupling shows in the radiated power only", b.volts()), b.stackPanels()...)
		stack.Shown, stack.ID, stack.Page = result.View(BoxStack, result.Drawn|result.Page), "box-stack", "Level of a stack of boxes, and what each doubling gains"
		out = append(out, stack)
	}
	if b.Insert != nil {
		out = append(out, b.insertChart())
	}
	return out
}

// LowEnd draws response and maximum level of a box.
func LowEnd(st *box.Study) result.Series {
	b := boxParts{st}
	panels := []result.Panel{b.level()}
	if numeric.Given(b.Max[0].Level) {
		panels = append(panels, b.maxPanel())
	}
	for i := range panels {
		panels[i].Proportion, panels[i].Height = result.Free, 125
	}
	return b.chart(BoxAll, "Low end of one box", result.Say("1 m, half space, %s at the terminals; %s; %s", b.volts(), b.boxText(), b.loadText()), panels...)
}

func (b boxParts) insertChart() result.Series {
	c := b.chart(BoxInsert, "With and without the insert",
		result.Say("one box, 1 m, half space, %s; exact radiation of cones and mouths", b.volts()), b.insertPanels()...)
	c.ID, c.Page = "insert", "Level of one box with and without the insert, and the difference"
	return c
}

// chart is one view: panels over the study's frequencies.
func (b boxParts) chart(view, title string, subtitle result.Text, panels ...result.Panel) result.Series {
	return result.Series{Shown: result.View(view, result.Drawn), Panels: panels,
		X: result.Axis{Scale: result.FrequencyScale, Kind: quantity.Frequency, Low: b.Frequency[0], High: b.Frequency[len(b.Frequency)-1]},
		Caption: captioned(result.Caption{Title: title, Subtitle: subtitle, Trust: figure.Aperture.String() + ", lumped circuit", Alt: b.alt(title)},
			b.Design, &b.Sizing)}
}

// boxText names the enclosure: "vented, 34 L, tuned to 56 Hz".
func (b boxParts) boxText() result.Text {
	e := b.Circuit.Enclosure()
	text := result.Say("%s, %s", e.Kind.String(), result.Fig(figure.EnclosureVolume, e.Volume.Value()))
	if e.Tuning.Given() {
		text = text.And(result.Say(", tuned to %s", hertz(e.Tuning.Value())))
	}
	return text.And(result.Plain(b.insertText()))
}

// loadText names how the air in front of the cones counts.
func (b boxParts) loadText() string {
	if b.Insert != nil {
		return "exact radiation of the mouths"
	}
	return "air load as mass only"
}

// insertText says that the insert counts, for a box that has one.
func (b boxParts) insertText() string {
	if b.Insert == nil {
		return ""
	}
	return ", with the insert"
}

// drivers counts the drivers of the box: "2 drivers in parallel".
func (b boxParts) drivers() string {
	if b.Setup.Count == 1 {
		return "1 driver"
	}
	return fmt.Sprintf("%d drivers in %s", b.Setup.Count, b.Setup.Wiring.String())
}

func (b boxParts) alt(title string) result.Text {
	text := result.Say("%s of %s: %s", title, b.Design.Title, b.boxText())
	if f3 := b.Summary.F3; numeric.Given(f3) {
		text = text.And(result.Say(", f3 %s", hertz(f3)))
	}
	if l := b.MaxAt.Level; numeric.Given(l) {
		text = text.And(result.Say(", maximum level %s at %s", level(l), hertz(b.LevelAt)))
	}
	return text.And(result.Plain("."))
}
