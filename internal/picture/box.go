package picture

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"gapline/internal/figure"
	"gapline/internal/numeric"
	"gapline/internal/quantity"
	"gapline/internal/study/box"
	"gapline/plots"
)

// BoxViews lists the views of Box.
var BoxViews = []string{"all", "response", "impedance", "excursion", "max", "stack", "insert"}

// CheckBoxView returns an error for an unknown view.
func CheckBoxView(view string) error {
	if !slices.Contains(BoxViews, view) {
		return fmt.Errorf("--view is %q: one of %s is needed", view, strings.Join(BoxViews, ", "))
	}
	return nil
}

// BoxViewExists says what a view lacks, before anything is drawn.
func BoxViewExists(s *box.Study, view string) error {
	switch {
	case view == "insert" && s.Insert == nil:
		return errors.New("--view insert needs a design with an insert and all its dimensions")
	case view == "stack" && s.Stack == nil:
		return fmt.Errorf("--view stack: %s", s.StackWhy)
	case view == "max" && !numeric.Given(s.Max[0].Level):
		return errors.New("--view max needs woofer.xmax or woofer.power")
	}
	return nil
}

// Box draws one view of a box's low end.
func Box(s *box.Study, view string, sys quantity.System) plots.Chart {
	b := boxPicture{s: s, sys: sys}
	var title, subtitle string
	var panels []plots.Panel
	switch view {
	case "response":
		title, panels = "Response of one box", []plots.Panel{b.level(), b.delay()}
	case "impedance":
		title, panels = "Impedance of one box", []plots.Panel{b.impedance(), b.impedancePhase()}
		subtitle = fmt.Sprintf("at the terminals of %s; %s", b.drivers(), b.boxText())
	case "excursion":
		title, panels = "Excursion of the cones", b.motion()
		subtitle = fmt.Sprintf("%s at the terminals (%s); %s", b.volts(), b.text(s.Watts, quantity.Power), b.boxText())
	case "max":
		title, panels = "Maximum level of one box", b.maximum()
		subtitle = "1 m, half space" + b.insertText() + "; small-signal parameters, power compression left out; diamonds: the limits cross"
	case "stack":
		title, panels = "Level of a stack of boxes", b.stack()
		subtitle = fmt.Sprintf("far on the axis, referred to 1 m; exact radiation; %s at every box; on axis each doubling adds 6 dB, the loss of coupling shows in the radiated power only", b.volts())
	case "insert":
		title, panels = "With and without the insert", b.insert()
		subtitle = fmt.Sprintf("one box, 1 m, half space, %s; exact radiation of cones and mouths", b.volts())
	default:
		title, panels = "Low end of one box", b.all()
	}
	if subtitle == "" {
		subtitle = fmt.Sprintf("1 m, half space, %s at the terminals; %s; %s", b.volts(), b.boxText(), b.loadText())
	}
	return plots.Chart{
		Caption: caption(title, subtitle, s.Design, &s.Sizing, figure.Aperture.String()+", lumped circuit", b.alt(title), sys),
		X:       plots.Axis{Kind: plots.Frequency, Low: s.Frequency[0], High: s.Frequency[len(s.Frequency)-1]},
		Panels:  panels,
	}
}

type boxPicture struct {
	s   *box.Study
	sys quantity.System
}

func (b *boxPicture) text(si float64, k quantity.Kind) string { return quantity.Format(si, k, b.sys) }
func (b *boxPicture) hz(f float64) string                     { return b.text(f, quantity.Frequency) }
func (b *boxPicture) volts() string                           { return b.text(b.s.Volts, quantity.Voltage) }

// boxText names the enclosure: "vented, 34 L, tuned to 56 Hz".
func (b *boxPicture) boxText() string {
	e := b.s.Circuit.Enclosure()
	text := e.Kind.String() + ", " + b.text(e.Volume, quantity.Volume)
	if numeric.Given(e.Tuning) {
		text += ", tuned to " + b.hz(e.Tuning)
	}
	return text + b.insertText()
}

// loadText names how the air in front of the cones counts.
func (b *boxPicture) loadText() string {
	if b.s.Insert != nil {
		return "exact radiation of the mouths"
	}
	return "air load as mass only"
}

// insertText says that the insert counts, for a box that has one.
func (b *boxPicture) insertText() string {
	if b.s.Insert == nil {
		return ""
	}
	return ", with the insert"
}

// drivers counts the drivers of the box: "2 drivers in parallel".
func (b *boxPicture) drivers() string {
	if b.s.Setup.Count == 1 {
		return "1 driver"
	}
	return fmt.Sprintf("%d drivers in %s", b.s.Setup.Count, b.s.Setup.Wiring)
}

func (b *boxPicture) alt(title string) string {
	text := fmt.Sprintf("%s of %s: %s", title, b.s.Design.Title, b.boxText())
	if f3 := b.s.Summary.F3; numeric.Given(f3) {
		text += ", f3 " + b.hz(f3)
	}
	if l := b.s.MaxAt.Level; numeric.Given(l) {
		text += fmt.Sprintf(", maximum level %s at %s", b.text(l, quantity.Level), b.hz(b.s.LevelAt))
	}
	return text + "."
}
