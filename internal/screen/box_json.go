package screen

import (
	"math"
	"math/cmplx"
	"slices"

	"gapline/driver"
	"gapline/internal/advice"
	"gapline/internal/designfile"
	"gapline/internal/figure"
	"gapline/internal/numeric"
	"gapline/internal/render/machine"
	"gapline/internal/study/box"
)

// BoxObject is the JSON of the box command.
func BoxObject(s *box.Study) *Object {
	o := &Object{}
	o.Set("schema_version", SchemaVersion).Set("title", s.Design.Title).Set("trust", figure.Aperture)
	o.Path(figure.AirSoundSpeed.Key, Number(s.Sizing.Air.SoundSpeed))
	o.Path(figure.AirDensity.Key, Number(s.Sizing.Air.Density))
	o.Path("drive.voltage_v", Number(s.Volts))
	o.Path("drive.power_w", Number(s.Watts))
	o.Path("drive.nominal_ohm", Number(s.Circuit.NominalResistance()))
	boxCurves(o, s)
	boxFigures(o, s)
	o.Set("driver", driverObject(&s.Setup.Driver))
	o.Set("enclosure", enclosureObject(s))
	o.Set("suggestions", suggestionObjects(s))
	o.Set("insert", insertObject(s))
	o.Set("stack", stackObject(s))
	o.Set("findings", machine.Findings(advice.BoxFindings(s)))
	return o
}

// curve returns one value for each of n places; null when none of them exists.
func curve(n int, at func(int) float64) any {
	out := make([]float64, n)
	any := false
	for i := range out {
		out[i] = at(i)
		any = any || numeric.Given(out[i])
	}
	if !any {
		return nil
	}
	return Numbers(out)
}

const toDegrees = 180 / math.Pi

// boxCurves sets everything that is given for each frequency.
func boxCurves(o *Object, s *box.Study) {
	n := len(s.Frequency)
	set := func(key string, at func(int) float64) { o.Set(key, curve(n, at)) }
	o.Set("frequency_hz", Numbers(s.Frequency))
	set("spl_db", func(i int) float64 { return s.Points[i].Level() })
	set("phase_deg", func(i int) float64 { return s.Points[i].Phase() * toDegrees })
	set("group_delay_s", func(i int) float64 { return s.Delay[i] })
	set("excursion_m", func(i int) float64 { return s.Points[i].Excursion })
	set("impedance_ohm", func(i int) float64 { return cmplx.Abs(s.Points[i].Impedance) })
	set("impedance_phase_deg", func(i int) float64 { return cmplx.Phase(s.Points[i].Impedance) * toDegrees })
	set("vent_speed_m_s", func(i int) float64 { return s.Points[i].VentSpeed })
	set("radiator_excursion_m", func(i int) float64 { return s.Points[i].Radiator })
	set("mouth_speed_m_s", func(i int) float64 { return s.Points[i].MouthSpeed })
	set("max_spl_db", func(i int) float64 { return s.Max[i].Level })
	set("max_spl_excursion_db", func(i int) float64 { return s.Max[i].Excursion })
	set("max_spl_power_db", func(i int) float64 { return s.Max[i].Power })
	limits := make([]string, n)
	for i := range limits {
		limits[i] = s.Max[i].Limit.String()
	}
	o.Set("max_limit", limits)
	set("max_voltage_v", func(i int) float64 { return s.Max[i].Volts })
	set("max_vent_speed_m_s", func(i int) float64 { return s.Max[i].VentSpeed })
	set("max_mouth_speed_m_s", func(i int) float64 { return s.Max[i].Mouth })
}

// boxFigures sets the single figures of the box.
func boxFigures(o *Object, s *box.Study) {
	sum := &s.Summary
	for _, x := range []struct {
		key   string
		value float64
	}{
		{"f3_hz", sum.F3}, {"f6_hz", sum.F6}, {"f10_hz", sum.F10}, {"qtc", sum.Qtc}, {"fc_hz", sum.Fc},
		{"passband_db", sum.Passband + numeric.DB(s.Volts)}, {"peak_db", sum.Peak}, {"peak_hz", sum.PeakFrequency},
		{"max_spl_at_hz", s.LevelAt}, {"max_spl_there_db", s.MaxAt.Level}, {"swept_volume_m3", s.Circuit.SweptVolume()},
	} {
		o.Set(x.key, Number(x.value))
	}
	var name any
	if sum.Alignment.Name != "" {
		name = sum.Alignment.Name
	}
	o.Set("alignment", name)
	crossings := []*Object{}
	for _, c := range s.Crossings {
		x := &Object{}
		crossings = append(crossings, x.Set("frequency_hz", Number(c.Frequency)).Set("below", c.Below.String()).Set("above", c.Above.String()))
	}
	o.Set("limit_crossings", crossings)
}

// driverObject lists the driver's parameters, each with where it comes from.
func driverObject(d *driver.Complete) *Object {
	o := &Object{}
	for _, p := range parameters {
		x := p.of(&d.Parameters)
		from := "given"
		switch {
		case !numeric.Given(x):
			continue
		case slices.Contains(d.Derived, p.key):
			from = "derived"
		}
		name, _ := designfile.FindKey("woofer." + p.key).Column()
		entry := &Object{}
		o.Set(name[len("woofer."):], entry.Set("value", Number(x)).Set("from", from))
	}
	o.Set("efficiency", Number(d.Efficiency()))
	o.Set("level_1w_1m_db", Number(d.Sensitivity(math.Sqrt(d.Re))))
	contradictions := []*Object{}
	for _, c := range d.Contradictions {
		x := &Object{}
		contradictions = append(contradictions, x.Set("key", c.Key).Set("value", Number(c.Value)).Set("predicted", Number(c.Predicted)).Set("keys", c.Keys))
	}
	return o.Set("contradictions", contradictions)
}

func enclosureObject(s *box.Study) *Object {
	e := s.Circuit.Enclosure()
	o := &Object{}
	o.Set("kind", e.Kind.String()).Set("volume_m3", Number(e.Volume)).Set("tuning_hz", Number(e.Tuning))
	o.Set("compliance_ratio", Number(s.Circuit.Alpha()))
	if e.Kind == driver.Vented {
		o.Set("vents", e.Vent.Count).Set("vent_area_m2", Number(e.Vent.Area)).Set("vent_length_m", Number(e.Vent.Length))
	}
	if e.Kind == driver.PassiveRadiator {
		o.Set("radiators", e.Radiator.Count).Set("radiator_mms_kg", Number(e.Radiator.Mms))
	}
	return o
}

func suggestionObjects(s *box.Study) []*Object {
	out := []*Object{}
	for _, x := range s.Suggested {
		o := &Object{}
		o.Set("alignment", x.Alignment.Name).Set("kind", x.Kind.String()).Set("volume_m3", Number(x.Volume)).Set("tuning_hz", Number(x.Tuning)).Set("f3_hz", Number(x.F3))
		if x.Kind == driver.Vented {
			o.Set("leak_q", Number(s.LeakQ))
		}
		out = append(out, o)
	}
	return out
}

func insertObject(s *box.Study) any {
	if s.Insert == nil {
		return nil
	}
	e, n := &s.Insert.Effect, len(s.Frequency)
	o := &Object{}
	for _, x := range []struct {
		key   string
		value float64
	}{
		{"chamber_hz", e.Chamber.Corner}, {"chamber_q", e.Chamber.Q}, {"peak_hz", e.PeakFrequency}, {"peak_db", e.Peak},
		{"sensitivity_change_db", e.Sensitivity}, {"added_mass_kg", e.AddedMass}, {"resonance_hz", e.Resonance}, {"area_ratio", e.AreaRatio},
		{"limit_mouth_speed_m_s", e.LimitSpeed}, {"limit_mouth_speed_at_hz", e.LimitAt},
		{"path_spread_m", e.Path.Spread}, {"path_quarter_hz", e.Path.Quarter},
	} {
		o.Set(x.key, Number(x.value))
	}
	o.Set("largest_change_hz", Number(s.Insert.Most.Frequency)).Set("largest_change_db", Number(s.Insert.Most.Change))
	o.Set("spl_with_db", curve(n, func(i int) float64 { return s.Insert.Change[i].With }))
	o.Set("spl_without_db", curve(n, func(i int) float64 { return s.Insert.Change[i].Without }))
	o.Set("change_db", curve(n, func(i int) float64 { return s.Insert.Change[i].Change }))
	return o
}

// stackObject holds a row for each size of the stack; the gains of the first are
// null.
func stackObject(s *box.Study) any {
	k := s.Stack
	if k == nil {
		return nil
	}
	n := len(k.Frequency)
	rows := func(at func(i, j int) float64) []any {
		out := make([]any, len(k.Boxes))
		for i := range k.Boxes {
			out[i] = curve(n, func(j int) float64 { return at(i, j) })
		}
		return out
	}
	o := &Object{}
	o.Set("boxes", k.Boxes).Set("pitch_m", Number(s.Design.Pitch()))
	o.Set("spl_db", rows(func(i, j int) float64 { return k.Points[i][j].Axis }))
	o.Set("power_level_db", rows(func(i, j int) float64 { return k.Points[i][j].PowerLevel }))
	o.Set("radiated_w", rows(func(i, j int) float64 { return k.Points[i][j].Radiated }))
	o.Set("axis_gain_db", rows(func(i, j int) float64 { axis, _ := k.Gain(i, j); return axis }))
	o.Set("power_gain_db", rows(func(i, j int) float64 { _, power := k.Gain(i, j); return power }))
	return o
}
