package describe

import (
	"fmt"
	"math/cmplx"
	"slices"

	"gapline/cabinet/design"
	"gapline/driver"
	"gapline/internal/figure"
	"gapline/internal/numeric"
	"gapline/internal/result"
	"gapline/internal/study/box"
)

// The views of a box.
const (
	BoxAll       = "all"
	BoxResponse  = "response"
	BoxImpedance = "impedance"
	BoxExcursion = "excursion"
	BoxMax       = "max"
	BoxStack     = "stack"
	BoxInsert    = "insert"
	BoxFull      = "full"
)

// BoxViews lists the views, the usual one first.
var BoxViews = []string{BoxAll, BoxResponse, BoxImpedance, BoxExcursion, BoxMax, BoxStack, BoxInsert, BoxFull}

// Box describes the low end of one box, what a stack of such boxes gains and what an
// insert costs. In the document the insert has a section of its own: see Insert.
func Box(st *box.Study, findings []result.Finding) *result.Result {
	b := boxParts{st}
	r := &result.Result{Title: st.Design.Title, Head: b.head()}
	r.Add(b.driver(), b.enclosure(), b.response())
	if numeric.Given(st.MaxAt.Level) {
		r.Add(b.maximum())
	}
	if st.Full != nil {
		r.Add(b.full()...)
	}
	if st.Insert != nil {
		r.Add(b.insert(result.Screen))
	}
	if st.Stack != nil {
		r.Add(b.stack())
	}
	r.Add(b.listing())
	r.Add(b.data()...)
	r.Add(b.charts()...)
	r.Add(result.Findings{Shown: result.At(result.People | result.Data), List: findings})
	return r
}

// Insert describes, for the document, the comparison with and without the insert of
// a study that holds one.
func Insert(st *box.Study) *result.Result {
	b := boxParts{st}
	r := &result.Result{Untitled: true}
	chart := b.insertChart()
	chart.Shown = result.At(result.Page)
	r.Add(chart, b.insert(result.Page))
	return r
}

type boxParts struct{ *box.Study }

// wooferName is the driver's own title or, without one, its size.
func wooferName(d *design.Design) result.Text {
	switch {
	case d.Woofer.Title != "":
		return result.Plain(d.Woofer.Title)
	case d.Woofer.Size.Given():
		return result.Say("%s driver", length(d.Woofer.Size.Value()))
	}
	return result.Plain("driver")
}

func (b boxParts) head() []result.Text {
	e := b.Circuit.Enclosure()
	drivers := wooferName(b.Design)
	if n := b.Setup.Count; n > 1 {
		drivers = result.Say("%s × %s in %s", result.Count(n), drivers, b.Setup.Wiring.String())
	}
	enclosure := result.Say("%s, %s", e.Kind.String(), result.Fig(figure.EnclosureVolume, e.Volume.Value()))
	if e.Tuning.Given() {
		enclosure = enclosure.And(result.Say(" tuned to %s", hertz(e.Tuning.Value())))
	}
	return []result.Text{
		result.Say("one box: %s; %s", drivers, enclosure),
		result.Say("drive %s (%s into %s); air %s", b.volts(), result.Fig(figure.BoxDrivePower, b.Watts),
			result.Fig(figure.BoxDriveNominal, b.Circuit.NominalResistance()), Air(b.Design, &b.Sizing)),
	}
}

func (b boxParts) volts() result.Cell { return result.Fig(figure.BoxDriveVoltage, b.Volts) }

// figures is a table of figures with their trust.
func figures(places result.Place, title result.Text, rows *result.List) result.Table {
	return result.Table{Shown: result.At(places), Title: title, Columns: []result.Column{value, trust}, Rows: rows.Rows()}
}

func (b boxParts) enclosure() result.Table {
	c, e, sum := b.Circuit, b.Circuit.Enclosure(), &b.Summary
	var rows result.List
	rows.Add(given(result.Fig(figure.EnclosureCompliance, c.Alpha()), result.Fig(figure.EnclosureTuningRatio, e.Tuning.Value()/b.Setup.Driver.Fs.Value()),
		result.Fig(figure.BoxFc, sum.Fc), result.Fig(figure.BoxQtc, sum.Qtc))...)
	switch e.Kind {
	case driver.Vented:
		rows.Add(given(result.Fig(figure.EnclosureVentTotal, float64(e.Vent.Count)*e.Vent.Area.Value()), result.Fig(figure.EnclosureVentLength, e.Vent.Length.Value()))...)
	case driver.PassiveRadiator:
		rows.Add(given(result.Fig(figure.EnclosureRadiatorMass, e.Radiator.Mms.Value()))...)
	}
	t := figures(result.People, result.Plain("ENCLOSURE"), &rows)
	t.Columns = []result.Column{value, headed(trust, "trust")}
	return t
}

func (b boxParts) response() result.Table {
	sum := &b.Summary
	load, with := "air in front of the cones", ""
	if b.Insert != nil {
		load, with = load+", insert left out", ", with the insert"
	}
	named := func(words string) result.Cell { return result.Word(words).Trusted(figure.Aperture) }
	alignment := sum.Alignment.Name
	if alignment == "" {
		alignment = "none of the classical ones"
	}
	var rows result.List
	rows.Row(result.Plain(load), named("as mass only"))
	rows.Row(result.Plain("alignment"), named(alignment))
	rows.If(result.Plain("f3, half power"), result.Fig(figure.BoxF3, sum.F3))
	rows.Add(given(result.Fig(figure.BoxF6, sum.F6), result.Fig(figure.BoxF10, sum.F10), b.passband())...)
	if numeric.Given(sum.PeakFrequency) && sum.Peak >= leastPeak {
		rows.Add(result.FigureRow(result.FigAt(figure.BoxPeak, sum.Peak, hertz(sum.PeakFrequency))))
	}
	low, wide := lowestImpedance(b.Points), b.Points[b.Widest()]
	rows.Row(result.Plain("lowest impedance"+with), result.FigAt(figure.BoxImpedance, cmplx.Abs(low.Impedance), hertz(low.Frequency)))
	rows.Row(result.Plain("largest excursion above f10"+with), result.FigAt(figure.BoxExcursion, wide.Excursion, hertz(wide.Frequency)))
	return figures(result.People, result.Say("RESPONSE at 1 m in half space, at %s", b.volts()), &rows)
}

// leastPeak is the lowest peak worth a row, dB: lower ones read 0.0.
const leastPeak = 0.05

func (b boxParts) passband() result.Cell {
	return result.Fig(figure.BoxPassband, b.Summary.Passband+numeric.DB(b.Volts))
}

func lowestImpedance(ps []driver.Point) driver.Point {
	return slices.MinFunc(ps, func(a, b driver.Point) int {
		if cmplx.Abs(a.Impedance) < cmplx.Abs(b.Impedance) {
			return -1
		}
		return 1
	})
}

func (b boxParts) maximum() result.Table {
	var rows result.List
	at := result.Say("at %s", hertz(b.LevelAt))
	if b.Insert != nil {
		// The one figure box.max_spl_db of size and all that compares designs.
		rows.If(at.And(result.Plain(" without the insert")), result.Fig(figure.BoxMaxSPL, b.Sizing.Box.MaxLevel))
		at = at.And(result.Plain(" with it"))
	}
	rows.Row(at.And(result.Plain(", limited by "+b.MaxAt.Limit.String())), result.Fig(figure.BoxMaxThere, b.MaxAt.Level))
	rows.If(result.Plain("voltage for it"), result.Fig(figure.BoxMaxVoltage, b.MaxAt.Volts))
	rows.If(result.Plain("swept volume, one way"), result.Fig(figure.BoxSweptVolume, b.Circuit.SweptVolume()))
	for _, c := range b.Crossings {
		rows.Row(result.Plain(fmt.Sprintf("limits cross: %s below, %s above", c.Below, c.Above)), result.Fig(figure.BoxCrossing, c.Frequency))
	}
	if i := b.Fastest(); i >= 0 {
		m := b.Max[i]
		rows.Row(result.Plain("fastest air in the vent above f10"), result.FigAt(figure.BoxMaxVentSpeed, m.VentSpeed, hertz(m.Frequency)))
	}
	return figures(result.People, result.Plain("MAXIMUM LEVEL, power compression left out"), &rows)
}

// insert lists what the insert does to the box.
func (b boxParts) insert(places result.Place) result.Table {
	e, i, most := &b.Insert.Effect, &b.Design.Insert, &b.Insert.Most
	var rows result.List
	rows.Add(given(result.Fig(figure.CouplingInsertChamber, b.Sizing.Coupling.Insert.Chamber),
		result.Fig(figure.InsertChamber, e.Chamber.Corner), result.Fig(figure.InsertChamberQ, e.Chamber.Q),
		result.FigAt(figure.InsertPeak, e.Peak, hertz(e.PeakFrequency)), result.FigAt(figure.InsertMost, most.Change, hertz(most.Frequency)),
		result.Fig(figure.InsertSensitivity, e.Sensitivity))...)
	if at := b.Insert.AtHorn; numeric.Given(at.Frequency) {
		rows.Row(result.Say("change at %s, the horn's lower limit", hertz(at.Frequency)), result.Fig(figure.InsertChange, at.Change))
	}
	rows.Add(given(result.Fig(figure.InsertAddedMass, e.AddedMass), result.Fig(figure.InsertResonance, e.Resonance),
		result.Fig(figure.InsertAreaRatio, e.AreaRatio), result.FigAt(figure.InsertLimitSpeed, e.LimitSpeed, hertz(e.LimitAt)),
		result.Fig(figure.InsertPathSpread, e.Path.Spread), result.Fig(figure.InsertPathQuarter, e.Path.Quarter))...)
	return figures(places, result.Say("INSERT, %s mouths of %s × %s", result.Count(i.Mouths), length(i.MouthWidth.Value()), length(i.MouthHeight.Value())), &rows)
}

// stack lists the levels of the stacks and what each size gains, at octaves.
func (b boxParts) stack() result.Section {
	k := b.Stack
	var t result.Table
	t.Shown = result.At(result.People)
	for _, n := range k.Boxes {
		t.Columns = append(t.Columns, headed(value, boxes(n)))
	}
	for i := 1; i < len(k.Boxes); i++ {
		t.Columns = append(t.Columns, headed(value, fmt.Sprintf("%d to %d", k.Boxes[i-1], k.Boxes[i])))
	}
	var rows result.List
	for _, j := range atOctaves(k.Frequency) {
		var cells []result.Cell
		for i := range k.Boxes {
			cells = append(cells, result.Fig(figure.StackLevel, k.Points[i][j].Axis))
		}
		for i := 1; i < len(k.Boxes); i++ {
			axis, power := k.Gain(i, j)
			cells = append(cells, result.Phrase(result.Say("%s / %s", result.Fig(figure.StackAxisGain, axis), result.Fig(figure.StackPowerGain, power))))
		}
		rows.Row(result.Say("%s", hertz(k.Frequency[j])), cells...)
	}
	t.Rows = rows.Rows()
	return result.Section{Shown: result.At(result.People), Parts: []result.Part{t},
		Title: result.Say("STACK at %s on every box, exact radiation: level on axis, gain on axis / in power, dB; trust: "+figure.Aperture.String(), b.volts())}
}

func boxes(n int) string {
	if n == 1 {
		return "1 box"
	}
	return fmt.Sprintf("%d boxes", n)
}
