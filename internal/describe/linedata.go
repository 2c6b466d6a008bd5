package describe

import (
	"math/cmplx"

	"gapline/cabinet/field"
	"gapline/internal/figure"
	"gapline/internal/result"
	"gapline/internal/study/line"
)

// under is a row of a table for programs: a cell under a key.
func under(key string, c result.Cell) result.Row {
	return result.Row{Key: key, Cells: []result.Cell{c}}
}

// fact is a row under the last part of the figure's key.
func fact(f *figure.Def, si float64) result.Row { return under(f.Leaf(), result.Fig(f, si)) }

// list is a row of many values.
func list(f *figure.Def, si []float64) result.Row { return under(f.Leaf(), result.Figs(f, si)) }

// levels are values over two variables for programs, rows of rows.
func levels(f *figure.Def, z [][]float64) result.Grid {
	return result.Grid{Shown: result.At(result.Data), Fig: f, Z: z}
}

// records is an array of objects.
func records(key string, columns []result.Column, rows result.List) result.Table {
	return result.Table{Shown: result.At(result.Data), Key: key, As: result.Records, Columns: columns, Rows: rows.Rows()}
}

func columnsOf(figures ...*figure.Def) []result.Column {
	out := make([]result.Column, len(figures))
	for i, f := range figures {
		out[i] = result.Column{Fig: f}
	}
	return out
}

// data is the stack and every view for programs. Views that were not asked for have
// no key.
func (v lineParts) data() []result.Part {
	r := v.r
	out := append(v.hung.data(), object(list(figure.LineFrequency, r.Few.Hz)))
	if r.Polar != nil {
		out = append(out, polarData("polar", r.Polar, figure.LinePolar), polarData("horizontal", r.Horizontal, figure.LineHorizontal))
	}
	if r.Map != nil {
		out = append(out, polarData("angle_map", r.Map, figure.LineAngleMap))
	}
	if r.HorizontalMap != nil {
		out = append(out, polarData("horizontal_map", r.HorizontalMap, figure.LineHorizontalMap))
	}
	if r.Distance != nil {
		out = append(out, distanceData(r.Distance))
	}
	if r.Audience != nil {
		out = append(out, v.audienceData())
	}
	if r.Side != nil {
		s := r.Side
		level := levels(figure.SideLevel, s.Level)
		level.Split = len(s.X)
		out = append(out, group("side", object(list(figure.SideFrequency, s.Hz), under("spectrum", result.Word(s.Words())),
			list(figure.SideX, s.X), list(figure.SideZ, s.Z), under("air_absorption", result.Yes(s.Absorbed))), level))
	}
	if r.Coupling != nil {
		out = append(out, couplingData(r.Coupling))
	}
	if r.Maximum != nil {
		out = append(out, v.loudestData())
	}
	if r.Spots != nil {
		out = append(out, spotData(r.Spots))
	}
	return out
}

// data is conditions, stack and bands for programs.
func (h hung) data() []result.Part {
	f, st := h.figs, &h.Model.Stack
	boundary := "free"
	if h.Conditions.Boundary == field.Baffled {
		boundary = "baffle"
	}
	// 0 - x in place of -x: an angle of nothing has no sign.
	stack := []result.Row{
		fact(f.Boxes, float64(len(st.Boxes))), fact(f.Pitch, h.Design.Pitch()), fact(f.Length, h.Design.Length()),
		list(f.Splay, st.Splay), fact(f.TotalSplay, h.TotalSplay()), fact(f.Tilt, 0-st.Tilt), fact(f.Axis, 0-h.AxisDown()),
		fact(f.Top, st.TopHeight), fact(f.Lowest, h.Lowest()),
	}
	if st.Shading != nil {
		stack = append(stack, list(f.Shading, st.Shading))
	}
	if st.Delays != nil {
		stack = append(stack, list(f.Delays, st.Delays))
	}
	var boxes, bands result.List
	for _, b := range h.Outlines() {
		corner := func(of func(field.Vec) float64) []float64 { return each(b.Corner[:], of) }
		boxes.Row(result.Text{}, result.Figs(f.CornerX, corner(func(c field.Vec) float64 { return c.X })),
			result.Figs(f.CornerZ, corner(func(c field.Vec) float64 { return c.Z })), result.Fig(f.BoxAngle, 0-b.Angle))
	}
	for i := range h.Model.Bands {
		b := &h.Model.Bands[i]
		ends := patternEnds(b)
		bands.Row(result.Text{}, result.Name(b.Name), result.Name(b.What), result.Name(b.Origin), result.Fig(f.Turned, b.Turned),
			result.Fig(f.Delay, b.Path.Delay), result.Yes(b.Path.Invert), result.Name(patternKind(b)), result.Name(patternName(b)),
			result.Fig(f.PatternFrom, ends[0]), result.Fig(f.PatternTo, ends[1]), result.Fig(f.MouthsBelow, ends[2]), result.Fig(f.MouthsAbove, ends[3]),
			result.Figs(f.MouthY, each(b.Mouths, func(m field.Mouth) float64 { return m.Position.Y })),
			result.Figs(f.MouthZ, each(b.Mouths, func(m field.Mouth) float64 { return m.Position.Z })))
	}
	return []result.Part{
		group("conditions", object(under("trust", result.Word(figure.Aperture.String())), under("boundary", result.Word(boundary)),
			fact(f.Ground, h.Conditions.Ground), under("absolute", result.Yes(h.Model.Absolute)), under("reference", result.Word(h.Model.Reference())),
			fact(f.Drive, h.Model.Voltage), fact(f.HalfSpaceFrom, h.Model.HalfSpaceFrom), fact(f.SoundSpeed, h.SoundSpeed()))),
		group("stack", object(stack...), records("outline", columnsOf(f.CornerX, f.CornerZ, f.BoxAngle), boxes)),
		records("bands", []result.Column{{Key: "name"}, {Key: "what"}, {Key: "level_from"}, {Fig: f.Turned}, {Fig: f.Delay}, {Key: "inverted"},
			{Key: "pattern"}, {Key: "pattern_name"}, {Fig: f.PatternFrom}, {Fig: f.PatternTo}, {Fig: f.MouthsBelow}, {Fig: f.MouthsAbove}, {Fig: f.MouthY}, {Fig: f.MouthZ}}, bands),
	}
}

func polarData(key string, p *line.Polar, f figure.Polar) result.Section {
	of := func(get func(field.Beam) float64) []float64 { return each(p.Beam, get) }
	s := group(key, object(list(f.Frequency, p.Hz), under("spectrum", result.Word(p.Words())), fact(f.Distance, p.Distance),
		fact(f.Axis, 0-p.Axis), list(f.Angle, p.Angle), list(f.OnAxis, p.OnAxis)),
		levels(f.Level, p.Level), object(list(f.Beamwidth, p.Beamwidth), list(f.Lobe, of(lobeOf)), list(f.LobeAt, p.Directions(lobeAt)),
			list(f.Peak, of(peakOf)), list(f.Aim, p.Directions(aimOf)), list(f.Upper, p.Directions(upperOf)), list(f.Lower, p.Directions(lowerOf)),
			list(f.Dip, of(func(b field.Beam) float64 { return b.Dip }))))
	if p.Pressure != nil {
		s.Parts = append(s.Parts, levels(f.Phase, phases(p)))
	}
	if d := p.Seats; d != nil {
		seen := figure.LineSeatsSeen
		if key == "angle_map" {
			seen = figure.LineMapSeatsSeen
		}
		s.Parts = append(s.Parts, group("seats", object(fact(seen.Upper, d.Highest-p.Axis), fact(seen.Lower, d.Lowest-p.Axis),
			fact(seen.Farthest, d.TowardsFarthest-p.Axis), list(seen.Under, d.FarthestUnderBeam))))
	}
	return s
}

// phases are those of the pressures of a polar, rad.
func phases(p *line.Polar) [][]float64 {
	out := make([][]float64, len(p.Pressure))
	for i, pressures := range p.Pressure {
		out[i] = each(pressures, cmplx.Phase)
	}
	return out
}

func distanceData(d *line.Distance) result.Section {
	of := func(f func(field.Transition) float64) []float64 { return each(d.Transition, f) }
	out := group("distance", object(list(figure.DistanceFrequency, d.Hz), under("spectrum", result.Word(d.Words())), list(figure.DistanceAt, d.Metre)),
		levels(figure.DistanceLevel, d.Level), levels(figure.DistanceSlope, d.Slope),
		object(list(figure.DistanceCrossing, d.Crossing), under("air_absorption", result.Yes(d.Absorbed)),
			list(figure.DistanceHalfRule, of(func(t field.Transition) float64 { return t.HalfRule })),
			list(figure.DistanceHeilUrban, of(func(t field.Transition) float64 { return t.HeilUrban })),
			list(figure.DistanceQuarter, of(func(t field.Transition) float64 { return t.Quarter })),
			list(figure.DistanceLawsCross, of(func(t field.Transition) float64 { return t.Asymptote })),
			fact(figure.DistanceWindow, line.SlopeWindow)),
		levels(figure.DistanceSmooth, d.Smooth), levels(figure.DistancePasses, d.Passes))
	if s := d.Seats; s != nil {
		out.Parts = append(out.Parts, group("seats", object(list(figure.DistanceSeatsAt, s.Metre), list(figure.DistanceSeatsX, each(s.Seat, seatX))),
			levels(figure.DistanceSeatsLevel, s.Level), levels(figure.DistanceSeatsSmooth, s.Smooth), levels(figure.DistanceSeatsPasses, s.Passes)))
	}
	return out
}

func (v lineParts) audienceData() result.Section {
	a := v.r.Audience
	exposure := group("exposure")
	if e := a.Exposure; e != nil {
		exposure.Parts = []result.Part{object(fact(figure.ExposureLevel, e.Level), fact(figure.ExposureTime, e.Time),
			fact(figure.ExposureMargin, e.VenueMargin), under("over_venue_limit", result.Yes(e.OverVenue)))}
	} else {
		exposure.Null = true
	}
	return group("audience", object(list(figure.AudienceFrequency, each(a.Bands, func(b field.Band) float64 { return b.Mid })),
		list(figure.AudienceTones, each(a.Tones, func(n int) float64 { return float64(n) })), under("tones_settled", result.Yes(a.Settled)),
		list(figure.AudienceX, each(a.Seat, seatX)), list(figure.AudienceZ, each(a.Seat, seatZ))),
		levels(figure.AudienceLevel, a.Level),
		object(list(figure.AudienceWeighted, a.AWeighted), fact(figure.AudienceSpread, a.Spread), fact(figure.AudienceDeviation, a.Deviation),
			fact(figure.AudienceFront, a.Front), fact(figure.AudienceBack, a.Back), fact(figure.AudienceNearest, float64(a.Nearest)),
			under("air_absorption", result.Yes(a.Absorbed))), exposure, v.byMouthsData())
}

func seatX(s field.Vec) float64 { return s.X }
func seatZ(s field.Vec) float64 { return s.Z }

func couplingData(c *line.Coupling) result.Section {
	var rows result.List
	for i := range c.Variants {
		v := &c.Variants[i]
		rows.Row(result.Text{}, result.Name(v.Name), result.Fig(figure.VariantPitch, v.Pitch), result.Fig(figure.VariantSpacing, v.Spacing),
			result.Fig(figure.VariantHalfWave, v.Half), result.Fig(figure.VariantLimit, v.UpTo),
			result.Figs(figure.VariantLobe, v.Lobe), result.Figs(figure.VariantIndex, v.Index))
	}
	columns := append([]result.Column{{Key: "name"}}, columnsOf(figure.VariantPitch, figure.VariantSpacing, figure.VariantHalfWave,
		figure.VariantLimit, figure.VariantLobe, figure.VariantIndex)...)
	return group("coupling", object(list(figure.VariantFrequency, c.Hz), fact(figure.VariantTarget, c.Target)), records("variants", columns, rows))
}

func spotData(s *line.Spots) result.Section {
	var rows result.List
	for _, p := range s.Spot {
		rows.Row(result.Text{}, result.Fig(figure.SpotX, p.At.X), result.Fig(figure.SpotY, p.At.Y), result.Fig(figure.SpotZ, p.At.Z),
			result.Figs(figure.SpotLevel, p.Level))
	}
	return group("points", object(list(figure.SpotFrequency, s.Hz), under("spectrum", result.Word(s.Words()))),
		records("spots", columnsOf(figure.SpotX, figure.SpotY, figure.SpotZ, figure.SpotLevel), rows))
}
