package screen

import (
	"math"
	"math/cmplx"

	"gapline/cabinet/field"
	"gapline/internal/figure"
	"gapline/internal/study/line"
)

// LineObject is the JSON of the line command. Views that were not asked for have
// no key.
func LineObject(r *line.Result) *Object {
	o := &Object{}
	o.Set("schema_version", SchemaVersion).Set("title", r.Design.Title)
	o.Set("conditions", conditionsObject(r.Study)).Set("stack", hungObject(r.Study)).Set("bands", drivenObjects(r.Study))
	o.Set("frequency_hz", Numbers(r.Few.Hz))
	if r.Polar != nil {
		o.Set("polar", polarObject(r.Polar)).Set("horizontal", polarObject(r.Horizontal))
	}
	if r.Map != nil {
		o.Set("angle_map", polarObject(r.Map))
	}
	if r.HorizontalMap != nil {
		o.Set("horizontal_map", polarObject(r.HorizontalMap))
	}
	if r.Distance != nil {
		o.Set("distance", distanceObject(r.Distance))
	}
	if r.Audience != nil {
		o.Set("audience", audienceObject(r.Audience))
	}
	if r.Side != nil {
		o.Set("side", sideObject(r.Side))
	}
	if r.Coupling != nil {
		o.Set("coupling", couplingObject(r.Coupling))
	}
	if r.Spots != nil {
		o.Set("points", spotsObject(r.Spots))
	}
	if r.Aimed != nil {
		o.Set("aim", aimObject(r.Aimed))
	}
	return o.Set("findings", LineFindings(r, 0))
}

// spectrumInto adds the frequencies of a view.
func spectrumInto(o *Object, s *line.Spectrum) *Object {
	return o.Set("frequency_hz", Numbers(s.Hz)).Set("spectrum", s.Words())
}

func rows(xs [][]float64) [][]Number {
	out := make([][]Number, len(xs))
	for i := range xs {
		out[i] = Numbers(xs[i])
	}
	return out
}

func allDegrees(rad []float64, sign float64) []Number {
	out := make([]Number, len(rad))
	for i, x := range rad {
		out[i] = inDegrees(sign * x)
	}
	return out
}

// inDegrees is an angle in degrees with all its digits, whole ones without the
// rounding of the conversion.
func inDegrees(rad float64) Number { return Number(figure.LineSplayTotal.Machine(rad) + 0) }

// tidy takes the rounding noise of a unit conversion off, and the sign of a zero.
func tidy(x float64) float64 { return math.Round(x*1e9)/1e9 + 0 }

func conditionsObject(s *line.Study) *Object {
	boundary := "free"
	if s.Conditions.Boundary == field.Baffled {
		boundary = "baffle"
	}
	o := &Object{}
	return o.Set("trust", "aperture").Set("boundary", boundary).Set("ground_reflection", s.Conditions.Ground).
		Set("absolute", s.Model.Absolute).Set("reference", s.Model.Reference()).Set("drive_v", Number(s.Model.Voltage)).
		Set("half_space_from_hz", Number(s.Model.HalfSpaceFrom)).Set("sound_speed_m_s", Number(s.SoundSpeed()))
}

func hungObject(s *line.Study) *Object {
	st := &s.Model.Stack
	o := &Object{}
	o.Set("boxes", len(st.Boxes)).Set("pitch_m", Number(s.Design.Pitch())).Set("length_m", Number(s.Design.Length())).
		Set("splay_deg", allDegrees(st.Splay, 1)).Set("total_splay_deg", inDegrees(s.TotalSplay())).
		Set("tilt_deg", inDegrees(-st.Tilt)).Set("axis_deg", inDegrees(-s.AxisDown())).
		Set("top_height_m", Number(st.TopHeight)).Set("lowest_m", Number(s.Lowest()))
	if st.Shading != nil {
		o.Set("shading_db", Numbers(st.Shading))
	}
	var boxes []*Object
	for _, b := range s.Outlines() {
		var x, z []Number
		for _, c := range b.Corner {
			x, z = append(x, Number(c.X)), append(z, Number(c.Z))
		}
		box := &Object{}
		boxes = append(boxes, box.Set("x_m", x).Set("z_m", z).Set("angle_deg", inDegrees(-b.Angle)))
	}
	return o.Set("outline", boxes)
}

func drivenObjects(s *line.Study) []*Object {
	var out []*Object
	for i := range s.Model.Bands {
		b := &s.Model.Bands[i]
		var y, z []Number
		for _, m := range b.Mouths {
			y, z = append(y, Number(m.Position.Y)), append(z, Number(m.Position.Z))
		}
		o := &Object{}
		out = append(out, o.Set("name", b.Name).Set("what", b.What).Set("level_from", b.Origin).Set("turned_db", Number(b.Turned)).
			Set("delay_s", b.Way.Delay).Set("inverted", b.Way.Invert).Set("y_m", y).Set("z_m", z))
	}
	return out
}

func polarObject(p *line.Polar) *Object {
	o := &Object{}
	spectrumInto(o, &p.Spectrum)
	o.Set("distance_m", Number(p.Distance)).Set("axis_deg", inDegrees(-p.Axis)).Set("angle_deg", allDegrees(p.Angle, 1)).
		Set("on_axis_db", Numbers(p.OnAxis)).Set("level_db", rows(p.Level)).Set("beamwidth_deg", allDegrees(p.Beamwidth, 1)).
		Set("highest_lobe_db", Numbers(p.Lobe))
	if p.Pressure != nil {
		phase := make([][]Number, len(p.Pressure))
		for i, row := range p.Pressure {
			for _, q := range row {
				phase[i] = append(phase[i], inDegrees(cmplx.Phase(q)))
			}
		}
		o.Set("phase_deg", phase)
	}
	return o
}

func distanceObject(d *line.Distance) *Object {
	o := &Object{}
	spectrumInto(o, &d.Spectrum)
	o.Set("m", Numbers(d.Metre)).Set("spl_db", rows(d.Level)).Set("slope_db_per_doubling", rows(d.Slope)).
		Set("crossing_m", Numbers(d.Crossing)).Set("air_absorption", d.Absorbed)
	var half, heil, quarter, laws []Number
	for _, t := range d.Transition {
		half, heil = append(half, Number(t.HalfRule)), append(heil, Number(t.HeilUrban))
		quarter, laws = append(quarter, Number(t.Quarter)), append(laws, Number(t.Asymptote))
	}
	return o.Set("half_rule_m", half).Set("heil_urban_m", heil).Set("quarter_wave_m", quarter).Set("laws_cross_m", laws)
}

func audienceObject(a *line.Audience) *Object {
	o := &Object{}
	var x, z, mid []Number
	for _, s := range a.Seat {
		x, z = append(x, Number(s.X)), append(z, Number(s.Z))
	}
	for _, b := range a.Bands {
		mid = append(mid, Number(b.Mid))
	}
	o.Set("frequency_hz", mid).Set("tones", a.Tones).Set("tones_settled", a.Settled).Set("x_m", x).Set("z_m", z).Set("level_db", rows(a.Level)).Set("level_dba", Numbers(a.AWeighted)).
		Set("spread_db", Number(a.Spread)).Set("deviation_db", Number(a.Deviation)).Set("front_dba", Number(a.Front)).
		Set("back_dba", Number(a.Back)).Set("nearest_seat", a.Nearest).Set("air_absorption", a.Absorbed)
	if e := a.Exposure; e != nil {
		x := &Object{}
		o.Set("exposure", x.Set("level_dba", Number(e.Level)).Set("occupational_time_s", Number(e.Time)).
			Set("venue_margin_db", Number(e.VenueMargin)).Set("over_venue_limit", e.OverVenue))
	} else {
		o.Set("exposure", nil)
	}
	return o
}

func sideObject(s *line.Side) *Object {
	o := &Object{}
	spectrumInto(o, &s.Spectrum)
	o.Set("x_m", Numbers(s.X)).Set("z_m", Numbers(s.Z)).Set("air_absorption", s.Absorbed)
	var maps [][][]Number
	nx := len(s.X)
	for _, level := range s.Level {
		var grid [][]Number
		for iz := range s.Z {
			grid = append(grid, Numbers(level[iz*nx:(iz+1)*nx]))
		}
		maps = append(maps, grid)
	}
	return o.Set("level_db", maps)
}

func couplingObject(c *line.Coupling) *Object {
	o := &Object{}
	o.Set("frequency_hz", Numbers(c.Hz)).Set("lobe_target_db", Number(c.Target))
	var list []*Object
	for i := range c.Variants {
		v := &c.Variants[i]
		x := &Object{}
		list = append(list, x.Set("name", v.Name).Set("pitch_m", Number(v.Pitch)).Set("spacing_m", Number(v.Spacing)).
			Set("half_wave_hz", Number(v.Half)).Set("lobe_limit_hz", Number(v.UpTo)).
			Set("highest_lobe_db", Numbers(v.Lobe)).Set("directivity_index_db", Numbers(v.Index)))
	}
	return o.Set("variants", list)
}

func spotsObject(s *line.Spots) *Object {
	o := &Object{}
	spectrumInto(o, &s.Spectrum)
	var list []*Object
	for _, p := range s.Spot {
		x := &Object{}
		list = append(list, x.Set("x_m", p.At.X).Set("y_m", p.At.Y).Set("z_m", p.At.Z).Set("level_db", Numbers(p.Level)))
	}
	return o.Set("spots", list)
}

func aimObject(a *line.Aimed) *Object {
	o := &Object{}
	if a.Before != nil {
		o.Set("before", candidateObject(a.Before))
	}
	return o.Set("best", candidateObject(&a.Best)).Set("best_arc", candidateObject(&a.BestArc)).
		Set("straight", candidateObject(&a.Straight)).Set("curvature_cost_db", Number(a.CurvatureCost)).
		Set("evaluations", a.Evaluations).Set("rising", a.Rising).Set("splay_steps_deg", allDegrees(a.Steps, 1)).
		Set("tilts_deg", allDegrees(a.Tilts, -1))
}

func candidateObject(c *field.Candidate) *Object {
	o := &Object{}
	o.Set("splay_deg", allDegrees(c.Splay, 1)).Set("tilt_deg", inDegrees(-c.Tilt))
	if c.Shading != nil {
		o.Set("shading_db", Numbers(c.Shading))
	}
	return o.Set("spread_db", Number(c.Spread)).Set("back_dba", Number(c.Back)).Set("over_row_db", Number(c.OverRow)).Set("cost_db", Number(c.Cost))
}
