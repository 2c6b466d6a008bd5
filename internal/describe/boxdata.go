package describe

import (
	"fmt"
	"math/cmplx"

	"gapline/driver"
	"gapline/internal/figure"
	"gapline/internal/numeric"
	"gapline/internal/result"
)

// responseCurves are the curves at the study's drive and the limits of level.
func (b boxParts) responseCurves() []curve {
	point := func(f func(driver.Point) float64) []float64 { return each(b.Points, f) }
	limit := func(f func(driver.MaxPoint) float64) []float64 { return each(b.Max, f) }
	return []curve{
		{figure: figure.BoxFrequency, y: b.Frequency},
		{figure: figure.BoxLevel, y: point(driver.Point.Level)},
		{figure: figure.BoxPhase, y: point(driver.Point.Phase)},
		{figure: figure.BoxGroupDelay, y: b.Delay},
		{figure: figure.BoxExcursion, y: point(func(p driver.Point) float64 { return p.Excursion })},
		{figure: figure.BoxImpedance, y: point(func(p driver.Point) float64 { return cmplx.Abs(p.Impedance) })},
		{figure: figure.BoxImpedancePhase, y: point(func(p driver.Point) float64 { return cmplx.Phase(p.Impedance) })},
		{figure: figure.BoxVentSpeed, y: point(func(p driver.Point) float64 { return p.VentSpeed })},
		{figure: figure.BoxRadiatorExcursion, y: point(func(p driver.Point) float64 { return p.Radiator })},
		{figure: figure.BoxMouthSpeed, y: point(func(p driver.Point) float64 { return p.MouthSpeed })},
		{figure: figure.BoxMaxCurve, key: "max_spl_db", y: limit(func(m driver.MaxPoint) float64 { return m.Level })},
		{figure: figure.BoxMaxExcursion, y: limit(func(m driver.MaxPoint) float64 { return m.Excursion })},
		{figure: figure.BoxMaxRadiator, y: limit(func(m driver.MaxPoint) float64 { return m.Radiator }), maybe: true},
		{figure: figure.BoxMaxPower, y: limit(func(m driver.MaxPoint) float64 { return m.Power })},
	}
}

// speedCurves are the air speeds at the maximum level.
func (b boxParts) speedCurves() []curve {
	return []curve{
		{figure: figure.BoxMaxVentSpeed, y: each(b.Max, func(m driver.MaxPoint) float64 { return m.VentSpeed })},
		{figure: figure.BoxMaxMouthSpeed, y: each(b.Max, func(m driver.MaxPoint) float64 { return m.Mouth })},
	}
}

// insertCurves compare the levels with and without the insert.
func (b boxParts) insertCurves() []curve {
	change := func(f func(driver.Difference) float64) []float64 { return each(b.Insert.Change, f) }
	return []curve{
		{figure: figure.InsertWith, y: change(func(d driver.Difference) float64 { return d.With })},
		{figure: figure.InsertWithout, y: change(func(d driver.Difference) float64 { return d.Without })},
		{figure: figure.InsertChange, y: change(func(d driver.Difference) float64 { return d.Change })},
	}
}

// listing is every curve in one table, for CSV.
func (b boxParts) listing() result.Table {
	all := append(b.responseCurves(), b.speedCurves()...)
	if b.Insert != nil {
		compared := b.insertCurves()[:2]
		compared[0].key, compared[1].key = "spl_with_insert_db", "spl_without_insert_db"
		all = append(all, compared...)
	}
	if k := b.Stack; k != nil {
		for i, n := range k.Boxes {
			of := func(f func(driver.StackPoint) float64) []float64 { return each(k.Points[i], f) }
			all = append(all,
				curve{figure: figure.StackLevel, key: fmt.Sprintf("stack_%d_spl_db", n), y: of(func(p driver.StackPoint) float64 { return p.Axis })},
				curve{figure: figure.StackPowerLevel, key: fmt.Sprintf("stack_%d_power_level_db", n), y: of(func(p driver.StackPoint) float64 { return p.PowerLevel })})
		}
	}
	return listed(result.At(result.Listing), maybe(all))
}

// data is everything, for JSON.
func (b boxParts) data() []result.Part {
	at := result.At(result.Data)
	limits := result.Table{Shown: at, As: result.ByColumn, Columns: []result.Column{{Key: "max_limit"}}}
	var words result.List
	for _, m := range b.Max {
		words.Row(result.Text{}, result.Word(m.Limit.String()))
	}
	limits.Rows = words.Rows()
	volts := curve{figure: figure.BoxMaxVoltage, y: each(b.Max, func(m driver.MaxPoint) float64 { return m.Volts })}
	return []result.Part{
		object(entry("trust", result.Word(figure.Aperture.String())),
			entry(figure.AirSoundSpeed.Key, result.Fig(figure.AirSoundSpeed, b.Sizing.Air.SoundSpeed)),
			entry(figure.AirDensity.Key, result.Fig(figure.AirDensity, b.Sizing.Air.Density))),
		group("drive", facts(b.volts(), result.Fig(figure.BoxDrivePower, b.Watts), result.Fig(figure.BoxDriveNominal, b.Circuit.NominalResistance()))),
		listed(at, maybe(b.responseCurves())), limits, listed(at, maybe(append([]curve{volts}, b.speedCurves()...))),
		b.summaryData(), b.crossingData(), b.driverData(), b.enclosureData(), b.suggestionData(), b.insertData(), b.stackData(), b.fullData(),
	}
}

// summaryData are the single figures.
func (b boxParts) summaryData() result.Table {
	sum := &b.Summary
	rows := leaves(result.Fig(figure.BoxF3, sum.F3), result.Fig(figure.BoxF6, sum.F6), result.Fig(figure.BoxF10, sum.F10),
		result.Fig(figure.BoxQtc, sum.Qtc), result.Fig(figure.BoxFc, sum.Fc), b.passband(),
		result.Fig(figure.BoxPeak, sum.Peak), result.Fig(figure.BoxPeakAt, sum.PeakFrequency),
		result.Fig(figure.BoxMaxSPLAt, b.LevelAt), result.Fig(figure.BoxMaxThere, b.MaxAt.Level),
		result.Fig(figure.BoxSweptVolume, b.Circuit.SweptVolume()))
	return object(append(rows, entry("alignment", result.Word(sum.Alignment.Name)))...)
}

// crossingData is where the limits cross.
func (b boxParts) crossingData() result.Table {
	var rows result.List
	for _, c := range b.Crossings {
		rows.Row(result.Text{}, result.Fig(figure.BoxCrossing, c.Frequency), result.Word(c.Below.String()), result.Word(c.Above.String()))
	}
	return result.Table{Shown: result.At(result.Data), Key: "limit_crossings", As: result.Records,
		Columns: []result.Column{{Fig: figure.BoxCrossing}, {Key: "below"}, {Key: "above"}}, Rows: rows.Rows()}
}

func (b boxParts) enclosureData() result.Section {
	e := b.Circuit.Enclosure()
	rows := append([]result.Row{entry("kind", result.Word(e.Kind.String()))},
		leaves(result.Fig(figure.EnclosureVolume, e.Volume.Value()), result.Fig(figure.EnclosureTuning, e.Tuning.Value()), result.Fig(figure.EnclosureCompliance, b.Circuit.Alpha()))...)
	switch e.Kind {
	case driver.Vented:
		rows = append(rows, leaves(result.Fig(figure.EnclosureVents, float64(e.Vent.Count)), result.Fig(figure.EnclosureVentArea, e.Vent.Area.Value()),
			result.Fig(figure.EnclosureVentLength, e.Vent.Length.Value()))...)
	case driver.PassiveRadiator:
		rows = append(rows, leaves(result.Fig(figure.EnclosureRadiators, float64(e.Radiator.Count)), result.Fig(figure.EnclosureRadiatorMass, e.Radiator.Mms.Value()))...)
	}
	return group("enclosure", object(rows...))
}

// suggestionData are the classical alignments.
func (b boxParts) suggestionData() result.Section {
	s := group("suggestions")
	s.List = true
	for _, x := range b.Suggested {
		rows := append([]result.Row{entry("alignment", result.Word(x.Alignment.Name)), entry("kind", result.Word(x.Kind.String()))},
			leaves(result.Fig(figure.SuggestedVolume, x.Volume), result.Fig(figure.SuggestedTuning, x.Tuning), result.Fig(figure.SuggestedF3, x.F3))...)
		if x.Kind == driver.Vented {
			rows = append(rows, leaves(result.Fig(figure.SuggestedLeak, b.LeakQ))...)
		}
		s.Parts = append(s.Parts, group("", object(rows...)))
	}
	return s
}

func (b boxParts) insertData() result.Section {
	s := groupIf(b.Insert != nil, "insert")
	if b.Insert == nil {
		return s
	}
	e, most := &b.Insert.Effect, &b.Insert.Most
	s.Parts = []result.Part{
		facts(result.Fig(figure.InsertChamber, e.Chamber.Corner), result.Fig(figure.InsertChamberQ, e.Chamber.Q),
			result.Fig(figure.InsertPeakAt, e.PeakFrequency), result.Fig(figure.InsertPeak, e.Peak),
			result.Fig(figure.InsertSensitivity, e.Sensitivity), result.Fig(figure.InsertAddedMass, e.AddedMass),
			result.Fig(figure.InsertResonance, e.Resonance), result.Fig(figure.InsertAreaRatio, e.AreaRatio),
			result.Fig(figure.InsertLimitSpeed, e.LimitSpeed), result.Fig(figure.InsertLimitAt, e.LimitAt),
			result.Fig(figure.InsertPathSpread, e.Path.Spread), result.Fig(figure.InsertPathQuarter, e.Path.Quarter),
			result.Fig(figure.InsertMostAt, most.Frequency), result.Fig(figure.InsertMost, most.Change)),
		listed(result.At(result.Data), maybe(b.insertCurves())),
	}
	return s
}

// stackData holds a row for each size of the stack; the gains of the first are null.
func (b boxParts) stackData() result.Section {
	k := b.Stack
	s := groupIf(k != nil, "stack")
	if k == nil {
		return s
	}
	sizes := make([]float64, len(k.Boxes))
	for i, n := range k.Boxes {
		sizes[i] = float64(n)
	}
	s.Parts = []result.Part{object(entry(figure.StackBoxes.Leaf(), result.Figs(figure.StackBoxes, sizes)),
		entry(figure.StackPitch.Leaf(), result.Fig(figure.StackPitch, b.Design.Pitch())))}
	for _, x := range []struct {
		figure *figure.Def
		at     func(i, j int) float64
	}{
		{figure.StackLevel, func(i, j int) float64 { return k.Points[i][j].Axis }},
		{figure.StackPowerLevel, func(i, j int) float64 { return k.Points[i][j].PowerLevel }},
		{figure.StackRadiated, func(i, j int) float64 { return k.Points[i][j].Radiated }},
		{figure.StackAxisGain, func(i, j int) float64 { axis, _ := k.Gain(i, j); return axis }},
		{figure.StackPowerGain, func(i, j int) float64 { _, power := k.Gain(i, j); return power }},
	} {
		g := result.Grid{Shown: result.At(result.Data), Fig: x.figure, Z: make([][]float64, len(k.Boxes)),
			X: result.Values{Fig: figure.BoxFrequency, SI: k.Frequency}, Y: result.Values{Fig: figure.StackBoxes, SI: sizes}}
		for i := range g.Z {
			row := make([]float64, len(k.Frequency))
			for j := range row {
				row[j] = x.at(i, j)
			}
			if numeric.AnyGiven(row) {
				g.Z[i] = row
			}
		}
		s.Parts = append(s.Parts, g)
	}
	return s
}
