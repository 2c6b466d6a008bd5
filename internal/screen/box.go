package screen

import (
	"fmt"
	"io"
	"math"
	"math/cmplx"
	"slices"
	"strings"

	"gapline/cabinet/design"
	"gapline/driver"
	"gapline/internal/figure"
	"gapline/internal/numeric"
	"gapline/internal/quantity"
	"gapline/internal/study/box"
)

// Box writes the screen of the box command.
func Box(w io.Writer, s *box.Study, sys quantity.System) error {
	v := boxView{s: s, sys: sys, t: &Table{}}
	var b strings.Builder
	b.WriteString(v.heading())
	v.driver()
	v.enclosure()
	v.response()
	v.maximum()
	v.insert()
	if _, err := v.t.WriteTo(&b); err != nil {
		return err
	}
	if err := v.stack(&b); err != nil {
		return err
	}
	b.WriteString(findingText(s.Findings))
	_, err := io.WriteString(w, b.String())
	return err
}

type boxView struct {
	s   *box.Study
	sys quantity.System
	t   *Table
}

func (v *boxView) text(si float64, k quantity.Kind) string { return quantity.Format(si, k, v.sys) }
func (v *boxView) hz(f float64) string                     { return v.text(f, quantity.Frequency) }

// row adds a figure with its value and level of trust, unless it does not exist.
func (v *boxView) row(name, value string, trust figure.Trust) {
	if value != "-" && value != "" {
		v.t.Row("  "+name, value, trust.String())
	}
}

func (v *boxView) heading() string {
	d := v.s.Design
	title := d.Title
	if title == "" {
		title = "untitled design"
	}
	e := v.s.Circuit.Enclosure()
	box := fmt.Sprintf("%s, %s", e.Kind, v.text(e.Volume, quantity.Volume))
	if numeric.Given(e.Tuning) {
		box += " tuned to " + v.hz(e.Tuning)
	}
	drivers := v.wooferName()
	if n := v.s.Setup.Count; n > 1 {
		drivers = fmt.Sprintf("%d × %s in %s", n, drivers, design.Wirings[v.s.Setup.Wiring])
	}
	return fmt.Sprintf("%s\none box: %s; %s\ndrive %s (%s into %s); air %s\n", title, drivers, box,
		v.text(v.s.Volts, quantity.Voltage), v.text(v.s.Watts, quantity.Power), v.text(v.s.Circuit.NominalResistance(), quantity.Resistance),
		AirText(d, &v.s.Sizing, v.sys))
}

func (v *boxView) driver() {
	d := &v.s.Setup.Driver
	v.t.Row("DRIVER", "", "from")
	for _, p := range parameters {
		if x := p.of(&d.Parameters); numeric.Given(x) {
			from := "given"
			if slices.Contains(d.Derived, p.key) {
				from = "derived"
			}
			v.t.Row(fmt.Sprintf("  %s, %s", p.name, p.key), v.text(x, box.ParameterKind(p.key)), from)
		}
	}
	v.t.Row("  reference efficiency", v.text(d.Efficiency(), quantity.Fraction), "derived")
	v.t.Row("  level of one driver, 1 W into Re", v.text(d.Sensitivity(math.Sqrt(d.Re)), quantity.Level), "derived")
	v.t.Row("  fs/qes", v.hz(d.EfficiencyBandwidth()), "derived")
}

func (v *boxView) enclosure() {
	c, e, sum := v.s.Circuit, v.s.Circuit.Enclosure(), &v.s.Summary
	v.t.Row("ENCLOSURE", "", "trust")
	v.row("compliance ratio, vas/volume", v.text(c.Alpha(), quantity.Number), figure.Geometry)
	v.row("tuning ratio, tuning/fs", v.text(e.Tuning/v.s.Setup.Driver.Fs, quantity.Number), figure.Geometry)
	v.row("resonance in the box, fc", v.hz(sum.Fc), figure.Aperture)
	v.row("total Q in the box, Qtc", v.text(sum.Qtc, quantity.Number), figure.Aperture)
	switch e.Kind {
	case driver.Vented:
		v.row("vent, in all", v.text(float64(e.Vent.Count)*e.Vent.Area, quantity.Area), figure.Geometry)
		v.row("vent length, without end corrections", v.text(e.Vent.Length, quantity.Length), figure.Aperture)
	case driver.PassiveRadiator:
		v.row("mass of one passive radiator", v.text(e.Radiator.Mms, quantity.Mass), figure.Aperture)
	}
}

func (v *boxView) response() {
	s := v.s
	v.t.Row("RESPONSE at 1 m in half space, at " + v.text(s.Volts, quantity.Voltage))
	load, with := "air in front of the cones", ""
	if s.Insert != nil {
		load, with = load+", insert left out", ", with the insert"
	}
	v.row(load, "as mass only", figure.Aperture)
	v.row("alignment", alignmentName(s.Summary.Alignment), figure.Aperture)
	v.row("f3, half power", v.hz(s.Summary.F3), figure.Aperture)
	v.row("f6, −6 dB", v.hz(s.Summary.F6), figure.Aperture)
	v.row("f10, −10 dB", v.hz(s.Summary.F10), figure.Aperture)
	v.row("level of the passband", v.text(s.Summary.Passband+numeric.DB(s.Volts), quantity.Level), figure.Aperture)
	if numeric.Given(s.Summary.PeakFrequency) && s.Summary.Peak >= 0.05 {
		v.row("highest peak over it", fmt.Sprintf("%s at %s", v.text(s.Summary.Peak, quantity.Level), v.hz(s.Summary.PeakFrequency)), figure.Aperture)
	}
	low := lowestImpedance(s.Points)
	v.row("lowest impedance"+with, fmt.Sprintf("%s at %s", v.text(cmplx.Abs(low.Impedance), quantity.Resistance), v.hz(low.Frequency)), figure.Aperture)
	wide := s.Points[s.Widest()]
	v.row("largest excursion above f10"+with, fmt.Sprintf("%s at %s", v.text(wide.Excursion, quantity.Length), v.hz(wide.Frequency)), figure.Aperture)
}

func alignmentName(a driver.Alignment) string {
	if a.Name == "" {
		return "none of the classical ones"
	}
	return a.Name
}

func lowestImpedance(ps []driver.Point) driver.Point {
	return slices.MinFunc(ps, func(a, b driver.Point) int {
		if cmplx.Abs(a.Impedance) < cmplx.Abs(b.Impedance) {
			return -1
		}
		return 1
	})
}

func (v *boxView) maximum() {
	s := v.s
	if !numeric.Given(s.MaxAt.Level) {
		return
	}
	v.t.Row("MAXIMUM LEVEL, power compression left out")
	at := "at " + v.hz(s.LevelAt)
	if s.Insert != nil {
		// The one figure box.max_spl_db of size and all that compares designs.
		v.row(at+" without the insert", v.text(s.Sizing.Box.MaxLevel, quantity.Level), figure.Aperture)
		at += " with it"
	}
	v.row(at+", limited by "+s.MaxAt.Limit.String(), v.text(s.MaxAt.Level, quantity.Level), figure.Aperture)
	v.row("voltage for it", v.text(s.MaxAt.Volts, quantity.Voltage), figure.Aperture)
	v.row("swept volume, one way", v.text(s.Circuit.SweptVolume(), quantity.Volume), figure.Geometry)
	for _, c := range s.Crossings {
		v.row(fmt.Sprintf("limits cross: %s below, %s above", c.Below, c.Above), v.hz(c.Frequency), figure.Aperture)
	}
	if i := s.Fastest(); i >= 0 {
		m := s.Max[i]
		v.row("fastest air in the vent above f10", fmt.Sprintf("%s at %s", v.text(m.VentSpeed, quantity.Speed), v.hz(m.Frequency)), figure.Aperture)
	}
}

func (v *boxView) insert() {
	if v.s.Insert == nil {
		return
	}
	e := &v.s.Insert.Effect
	i := &v.s.Design.Insert
	v.t.Row(fmt.Sprintf("INSERT, %d mouths of %s × %s", i.Mouths, v.text(i.MouthWidth, quantity.Length), v.text(i.MouthHeight, quantity.Length)))
	v.row("front chamber corner", v.hz(v.s.Sizing.Coupling.Insert.Chamber), figure.Rule)
	v.row("the same with the mouths' action on each other", v.hz(e.Chamber.Corner), figure.Aperture)
	v.row("Q of chamber and mouths", v.text(e.Chamber.Q, quantity.Number), figure.Aperture)
	v.row("peak of mouths over cones, volume velocity", fmt.Sprintf("%s at %s", v.text(e.Peak, quantity.Level), v.hz(e.PeakFrequency)), figure.Aperture)
	most := &v.s.Insert.Most
	v.row("largest change of level by the insert", fmt.Sprintf("%+.1f dB at %s", most.Change, v.hz(most.Frequency)), figure.Aperture)
	v.row("passband level by the added mass alone", v.text(e.Sensitivity, quantity.Level), figure.Aperture)
	if at := v.s.Insert.AtHorn; numeric.Given(at.Frequency) {
		v.row("change at "+v.hz(at.Frequency)+", the horn's lower limit", fmt.Sprintf("%+.1f dB", at.Change), figure.Aperture)
	}
	v.row("mass added to each cone", v.text(e.AddedMass, quantity.Mass), figure.Aperture)
	v.row("fs in free air with it", v.hz(e.Resonance), figure.Aperture)
	v.row("cone area over mouth area", v.text(e.AreaRatio, quantity.Number), figure.Geometry)
	if numeric.Given(e.LimitSpeed) {
		v.row("air in the mouths at the displacement limit", fmt.Sprintf("%s at %s", v.text(e.LimitSpeed, quantity.Speed), v.hz(e.LimitAt)), figure.Aperture)
	}
	v.row("ways from cone to mouth differ by", v.text(e.Path.Spread, quantity.Length), figure.Geometry)
	v.row("which is a quarter wave at", v.hz(e.Path.Quarter), figure.Geometry)
}

// stack writes the levels of the stacks and what each size gains, at octaves.
func (v *boxView) stack(b *strings.Builder) error {
	t := v.stackTable()
	if t == nil {
		return nil
	}
	b.WriteString(v.stackTitle() + "\n")
	_, err := t.WriteTo(b)
	return err
}

func (v *boxView) stackTitle() string {
	return fmt.Sprintf("STACK at %s on every box, exact radiation: level on axis, gain on axis / in power, dB; trust: %s",
		v.text(v.s.Volts, quantity.Voltage), figure.Aperture)
}

// stackTable is nil without a stack.
func (v *boxView) stackTable() *Table {
	k := v.s.Stack
	if k == nil || len(k.Boxes) == 0 {
		return nil
	}
	t := &Table{}
	head := []string{""}
	for _, n := range k.Boxes {
		head = append(head, boxes(n))
	}
	for i := 1; i < len(k.Boxes); i++ {
		head = append(head, fmt.Sprintf("%d to %d", k.Boxes[i-1], k.Boxes[i]))
	}
	t.Row(head...)
	for _, j := range octaves(k.Frequency) {
		row := []string{"  " + v.hz(k.Frequency[j])}
		for i := range k.Boxes {
			row = append(row, fmt.Sprintf("%.1f", k.Points[i][j].Axis))
		}
		for i := 1; i < len(k.Boxes); i++ {
			axis, power := k.Gain(i, j)
			row = append(row, fmt.Sprintf("%+.1f / %+.1f", axis, power))
		}
		t.Row(row...)
	}
	return t
}

func boxes(n int) string {
	if n == 1 {
		return "1 box"
	}
	return fmt.Sprintf("%d boxes", n)
}

// octaves returns the indices nearest to 31.5 Hz and its octaves within f.
func octaves(f []float64) []int {
	var out []int
	for x := 31.25; x <= f[len(f)-1]*1.01; x *= 2 {
		i, _ := slices.BinarySearch(f, x)
		if i == len(f) || i > 0 && x/f[i-1] < f[i]/x {
			i--
		}
		if math.Abs(math.Log2(f[i]/x)) < 0.25 && !slices.Contains(out, i) {
			out = append(out, i)
		}
	}
	return out
}

// wooferName is the driver's own title or, without one, its size.
func (v *boxView) wooferName() string {
	w := &v.s.Design.Woofer
	switch {
	case w.Title != "":
		return w.Title
	case numeric.Given(w.Size):
		return v.text(w.Size, quantity.Length) + " driver"
	}
	return "driver"
}
