package figure

import (
	"slices"

	"gapline/internal/quantity"
)

// Hung is the figures of a stack as it hangs and is driven.
type Hung struct {
	Ground, Drive, HalfSpaceFrom, SoundSpeed                                   *Def
	Boxes, Pitch, Length, Splay, TotalSplay, Tilt, Axis, Top, Lowest           *Def
	Shading, Delays, CornerX, CornerZ, BoxAngle, Turned, Delay, MouthY, MouthZ *Def
	PatternFrom, PatternTo, MouthsBelow, MouthsAbove                           *Def
}

// The stack that line sums, and that crossover does.
var (
	LineHung      = newHung("line")
	CrossoverHung = newHung("crossover")
)

func (h Hung) all() []*Def {
	return []*Def{h.Ground, h.Drive, h.HalfSpaceFrom, h.SoundSpeed, h.Boxes, h.Pitch, h.Length, h.Splay, h.TotalSplay, h.Tilt, h.Axis, h.Top, h.Lowest,
		h.Shading, h.Delays, h.CornerX, h.CornerZ, h.BoxAngle, h.Turned, h.Delay, h.MouthY, h.MouthZ,
		h.PatternFrom, h.PatternTo, h.MouthsBelow, h.MouthsAbove}
}

func newHung(command string) Hung {
	def := func(key, name, symbol string, k quantity.Kind, formula string, terms ...Term) *Def {
		return &Def{Key: command + "." + key, Name: name, Symbol: symbol, Kind: k, Trust: Geometry, Formula: formula, Terms: terms, Source: geometry}
	}
	corner := "corner of each box in the plane of the axis, origin under the top box's front"
	hang := From("line.boxes", "line.splay", "line.tilt", "line.top_height", "cabinet.pitch")
	h := Hung{
		Ground: def("conditions.ground_reflection", "reflection of the floor", "R", quantity.Number, "as given by --ground", From("line.top_height")...),
		Drive:  def("conditions.drive_v", "drive of each box", "U", quantity.Voltage, "drive.voltage, r.m.s.", From("drive.voltage")...),
		HalfSpaceFrom: def("conditions.half_space_from_hz", "half-space levels hold from", "f_h", quantity.Frequency, "c/(π·W)",
			Term{"W", "cabinet.width"}, Term{"c", "air.sound_speed_m_s"}),
		SoundSpeed: def("conditions.sound_speed_m_s", "speed of sound", "c", quantity.Speed, "as air.sound_speed_m_s", From("air.sound_speed_m_s")...),

		Boxes:      def("stack.boxes", "boxes", "N", quantity.Number, "line.boxes", From("line.boxes")...),
		Pitch:      def("stack.pitch_m", "pitch, box to box", "p", quantity.Length, "as coupling.pitch_m", From("coupling.pitch_m")...),
		Length:     def("stack.length_m", "length of the line", "L", quantity.Length, "as coupling.length_m", From("coupling.length_m")...),
		Splay:      def("stack.splay_deg", "splay of each joint", "α_i", quantity.Angle, "line.splay", From("line.splay")...),
		TotalSplay: def("stack.total_splay_deg", "splay from first to last box", "Σα", quantity.Angle, "sum of line.splay", From("line.splay")...),
		Tilt:       def("stack.tilt_deg", "tilt of the top box, positive up", "β", quantity.Angle, "line.tilt", From("line.tilt")...),
		Axis: def("stack.axis_deg", "axis of the stack, positive up", "γ", quantity.Angle, "mean direction of the boxes' axes, from the line.tilt and line.splay",
			From("line.tilt", "line.splay")...),
		Top:    def("stack.top_height_m", "height of the top of the stack", "h", quantity.Length, "line.top_height", From("line.top_height")...),
		Lowest: def("stack.lowest_m", "height of the lowest corner", "h_min", quantity.Length, "lowest corner of any box", hang...),

		Shading:  def("stack.shading_db", "gain of each box", "g_i", quantity.Level, "line.shading", From("line.shading")...),
		Delays:   def("stack.delays_s", "delay of each box", "τ_i", quantity.Time, "line.delays", From("line.delays")...),
		CornerX:  def("stack.outline.x_m", "corner, forward", "x", quantity.Length, corner, hang...),
		CornerZ:  def("stack.outline.z_m", "corner, above the ground", "z", quantity.Length, corner, hang...),
		BoxAngle: def("stack.outline.angle_deg", "direction of the box, positive up", "β_i", quantity.Angle, "tilt less the splay of the joints above", hang...),

		Turned: def("bands.turned_db", "gain that matches the band to the one below", "g", quantity.Level, "level of the band below at the crossover less the band's own there",
			From("crossover.frequency", "horn.sensitivity", "mid.sensitivity")...),
		Delay:       def("bands.delay_s", "delay of the band", "τ", quantity.Time, "woofer.delay, mid.delay or horn.delay", From("woofer.delay", "mid.delay", "horn.delay")...),
		MouthY:      def("bands.y_m", "place of each mouth in the box, to the left", "y", quantity.Length, "middles of the mouths of one box", From("woofer.per_box", "woofer.spacing")...),
		PatternFrom: def("bands.pattern_from_hz", "pattern of the box holds from", "f_p,1", quantity.Frequency, "lowest frequency of the run or of the measured polars", From("line.boxes")...),
		PatternTo:   def("bands.pattern_to_hz", "pattern of the box holds to", "f_p,2", quantity.Frequency, "highest frequency of the run or of the measured polars", From("line.boxes")...),
		MouthsBelow: def("bands.mouths_below_hz", "ideal mouths alone below", "f_m,1", quantity.Frequency, "f_p,1/2: over the octave between, the share of the mouths falls evenly in log f",
			Term{"f_p,1", command + ".bands.pattern_from_hz"}),
		MouthsAbove: def("bands.mouths_above_hz", "ideal mouths alone above", "f_m,2", quantity.Frequency, "2·f_p,2: over the octave between, the share of the mouths rises evenly in log f",
			Term{"f_p,2", command + ".bands.pattern_to_hz"}),
		MouthZ: def("bands.z_m", "place of each mouth in the box, up", "z", quantity.Length, "middles of the mouths of one box", From("woofer.per_box", "woofer.spacing")...),
	}
	h.HalfSpaceFrom.Trust, h.HalfSpaceFrom.Source = Rule, practice
	h.SoundSpeed.Trust, h.SoundSpeed.Source = AirSoundSpeed.Trust, AirSoundSpeed.Source
	h.Top.Style, h.Lowest.Style = InHall, InHall
	h.Turned.Style = quantity.Style{Verb: "%+.1f"}
	return h
}

// Polar is the figures of a polar or a map over angle.
type Polar struct {
	Frequency, Distance, Axis, Angle, OnAxis, Level, Total, Beamwidth, Lobe, Phase *Def
	Peak, Aim, Upper, Lower, Dip, LobeAt                                           *Def
}

// SeatsSeen is the figures of the seats as seen from the middle of a stack.
type SeatsSeen struct{ Upper, Lower, Farthest, Under *Def }

func (s SeatsSeen) all() []*Def { return []*Def{s.Upper, s.Lower, s.Farthest, s.Under} }

// The seats beside the polars of both fineness.
var (
	LineSeatsSeen    = newSeatsSeen("line.polar")
	LineMapSeatsSeen = newSeatsSeen("line.angle_map")
)

func newSeatsSeen(group string) SeatsSeen {
	seen := func(key, name, symbol, formula string) *Def {
		return &Def{Key: group + ".seats." + key, Name: name, Symbol: symbol, Kind: quantity.Angle, Trust: Geometry, Formula: formula, Terms: seatTerms, Source: geometry}
	}
	return SeatsSeen{
		Upper:    seen("upper_deg", "highest direction of a seat, positive up", "φ_s,u", "largest elevation of an ear as seen from the middle of the mouths"),
		Lower:    seen("lower_deg", "lowest direction of a seat, positive up", "φ_s,l", "smallest elevation of an ear as seen from the middle of the mouths"),
		Farthest: seen("farthest_deg", "direction of the farthest seat, positive up", "φ_s,n", "elevation of the farthest ear as seen from the middle of the mouths"),
		Under: &Def{Key: group + ".seats.farthest_db", Name: "level towards the farthest seat against the beam", Symbol: "ΔL_n", Kind: quantity.Level, Trust: Aperture,
			Formula: "ΔL_n = L(φ_s,n) − L_b", Terms: []Term{{"L", group + ".level_db"}, {"φ_s,n", group + ".seats.farthest_deg"}, {"L_b", group + ".peak_db"}},
			Source: sumOfMouths, Domain: noShadow, Style: bareLevel},
	}
}

// The polars of the summary and the maps over many frequencies, in both planes.
var (
	LinePolar         = newPolar("line.polar", upAndDown)
	LineHorizontal    = newPolar("line.horizontal", leftAndRight)
	LineAngleMap      = newPolar("line.angle_map", upAndDown)
	LineHorizontalMap = newPolar("line.horizontal_map", leftAndRight)
)

func (p Polar) all() []*Def {
	return []*Def{p.Frequency, p.Distance, p.Axis, p.Angle, p.OnAxis, p.Level, p.Total, p.Beamwidth, p.Lobe, p.Phase,
		p.Peak, p.Aim, p.Upper, p.Lower, p.Dip, p.LobeAt}
}

// sides are the words of a plane.
type sides struct{ both, upper, lower, positive string }

var (
	upAndDown    = sides{"up and down", "upper", "lower", "from the horizontal, positive up"}
	leftAndRight = sides{"to the left and right", "left", "right", "positive to the left"}
)

func newPolar(group string, side sides) Polar {
	set := func(key, name, symbol string, k quantity.Kind, formula string) *Def {
		return &Def{Key: group + "." + key, Name: name, Symbol: symbol, Kind: k, Trust: Geometry, Formula: formula, Terms: stackTerms, Source: ofRun}
	}
	heard := func(key, name, symbol string, k quantity.Kind, formula string, st quantity.Style, terms ...Term) *Def {
		return &Def{Key: group + "." + key, Name: name, Symbol: symbol, Kind: k, Trust: Aperture, Formula: formula, Terms: terms, Source: sumOfMouths,
			Domain: noShadow, Style: st}
	}
	plain := slices.Clone(stackTerms)
	level, peak := Term{"L", group + ".level_db"}, Term{"L_b", group + ".peak_db"}
	edge := "farthest direction within 6.000 dB of L_b of the stretches that hold it or meet the directions of the boxes"
	p := Polar{
		Peak:   heard("peak_db", "level of the beam re axis", "L_b", quantity.Level, "largest L in front", bareLevel, level),
		Aim:    heard("aim_deg", "aim of the beam, "+side.positive, "φ_b", quantity.Angle, "direction of L_b", quantity.Style{}, level, peak),
		Upper:  heard(side.upper+"_deg", side.upper+" −6 dB edge of the beam, "+side.positive, "φ_u", quantity.Angle, edge, quantity.Style{}, level, peak),
		Lower:  heard(side.lower+"_deg", side.lower+" −6 dB edge of the beam, "+side.positive, "φ_l", quantity.Angle, edge, quantity.Style{}, level, peak),
		Dip:    heard("dip_db", "lowest level within the beam, against it", "L_d", quantity.Level, "least L between the edges less L_b", bareLevel, level, peak),
		LobeAt: heard("highest_lobe_deg", "direction of the highest lobe, "+side.positive, "φ_s", quantity.Angle, "direction of L_s", quantity.Style{}, Term{"L_s", group + ".highest_lobe_db"}),

		Frequency: set("frequency_hz", "frequency", "f", quantity.Frequency, "as asked for by --frequencies"),
		Distance:  set("distance_m", "distance", "r", quantity.Length, "as given by --at; null: far field, levels referred to 1 m"),
		Axis:      set("axis_deg", "axis of the stack, positive up", "γ", quantity.Angle, "direction in which angles are 0"),
		Angle:     set("angle_deg", "angle "+side.both, "φ", quantity.Angle, "equal steps of φ"),
		OnAxis: heard("on_axis_db", "level on axis", "L₀", quantity.Level, "L₀ = 20·log10 |p| on the axis, averaged over bands as energy where --average asks for it",
			bareLevel, plain...),
		Level: heard("level_db", "level re axis", "L(φ)", quantity.Level, "L(φ) = 20·log10 |p(φ)| − L₀", bareLevel, Term{"L₀", group + ".on_axis_db"}, Term{"φ", group + ".angle_deg"}),
		Total: heard("total_db", "level at the angle", "L₀ + L(φ)", quantity.Level, "L₀ + L(φ); level_db in CSV", bareLevel, Term{"L₀", group + ".on_axis_db"}, Term{"L(φ)", group + ".level_db"}),
		Beamwidth: heard("beamwidth_deg", "−6 dB beam "+side.both, "θ", quantity.Angle, "θ = φ_u − φ_l, between the edges of the main beam",
			quantity.Style{}, Term{"φ_u", group + "." + side.upper + "_deg"}, Term{"φ_l", group + "." + side.lower + "_deg"}),
		Lobe: heard("highest_lobe_db", "highest lobe against the beam", "L_s", quantity.Level, "highest L beyond a dip beside the main beam and beside the seats, less L_b",
			bareLevel, level, peak),
		Phase: heard("phase_deg", "phase", "arg p", quantity.Angle, "arg p at the distance; in the far field referred to the middle of the stack", quantity.Style{}, plain...),
	}
	p.Beamwidth.Note = "Null where the level does not fall by 6 dB within ±90°, on the screen \"over 180°\"."
	p.Upper.Note, p.Lower.Note = "Null where the level does not fall by 6 dB within 90°.", "Null where the level does not fall by 6 dB within 90°."
	p.Lobe.Note = "Null where there is only the main beam. A rise of less than 0.5 dB is a shoulder."
	if side == leftAndRight {
		p.Level.Note = "Of a curved stack the energy mean over the directions that its boxes point into: in the one plane through the axis they meet in phase at the sides and not ahead."
	}
	p.Phase.Note = "Given for tones only, not for averages over bands."
	return p
}

// Candidate is the figures of one stack that the search for a splay tried.
type Candidate struct{ Splay, Tilt, Shading, Spread, Back, OverRow, Cost, Octaves, Bands, Zone, Delays *Def }

// The stacks that the search shows.
var (
	AimBefore   = newCandidate("line.aim.before", "the stack as the file hangs it")
	AimBest     = newCandidate("line.aim.best", "the best stack found")
	AimArc      = newCandidate("line.aim.best_arc", "the best stack whose joints are all alike")
	AimStraight = newCandidate("line.aim.straight", "the straight stack with most level at the back")
)

func (c Candidate) all() []*Def {
	return []*Def{c.Splay, c.Tilt, c.Shading, c.Spread, c.Back, c.OverRow, c.Cost, c.Octaves, c.Bands, c.Zone, c.Delays}
}

func newCandidate(group, what string) Candidate {
	found := func(key, name, symbol string, k quantity.Kind, trust Trust, formula string, st quantity.Style) *Def {
		return &Def{Key: group + "." + key, Name: name + ", " + what, Symbol: symbol, Kind: k, Trust: trust, Formula: formula, Terms: seatTerms,
			Source: sumOfMouths, Domain: seats, Style: st}
	}
	return Candidate{
		Splay:   found("splay_deg", "splay of each joint", "α_i", quantity.Angle, Geometry, "of line.splay_steps", quantity.Style{}),
		Tilt:    found("tilt_deg", "tilt, positive up", "β", quantity.Angle, Geometry, "within line.tilt_range", quantity.Style{}),
		Shading: found("shading_db", "gain of each box", "g_i", quantity.Level, Geometry, "of line.gain_steps", quantity.Style{}),
		Spread: found("spread_db", "spread over the seats", "ΔL_A", quantity.Level, Aperture, "max L_A − min L_A over the seats, against the slope of audience.fall",
			quantity.Style{}),
		Octaves: found("octaves_db", "mean spread of the octaves that the stack steers", "ΔL_o", quantity.Level, Aperture,
			"mean of the spreads by octave from line.aim.octaves_from_hz up", quantity.Style{}),
		Delays: found("delays_s", "delay of each box", "τ_i", quantity.Time, Geometry, "of line.delay_steps", quantity.Style{}),
		Bands: found("octave_spread_db", "spread over the seats by octave", "ΔL_f", quantity.Level, Aperture,
			"largest less smallest level of each octave over the seats, against the slope of audience.fall", bareLevel),
		Zone: found("quiet_db", "loudest place of the quiet zone against the mean of the seats", "ΔL_z", quantity.Level, Aperture,
			"largest L_A in the quiet zone less the mean of L_A over the seats", quantity.Style{Verb: "%+.1f"}),
		Back: found("back_dba", "level at the last seat", "L_A,n", quantity.Level, Aperture, "L_A at the last seat", bareLevel),
		OverRow: found("over_row_db", "level over the last row", "ΔL_o", quantity.Level, Aperture, "mean level over the last row less that at the last seat",
			quantity.Style{Verb: "%+.1f"}),
		Cost: found("cost_db", "what the search makes small", "J", quantity.Level, Aperture,
			"spread and mean spread of the octaves, with penalties for a back below audience.back_level, for sound over the last row beyond audience.over_row and in the quiet zone beyond audience.quiet_level", quantity.Style{}),
	}
}

// The search itself.
var (
	AimCost = &Def{Key: "line.aim.curvature_cost_db", Name: "what curvature costs at the back", Symbol: "ΔL", Kind: quantity.Level, Trust: Aperture,
		Formula: "ΔL = L_s − L_b at the last seat", Terms: []Term{{"L_s", "line.aim.straight.back_dba"}, {"L_b", "line.aim.best.back_dba"}}, Source: sumOfMouths, Domain: seats}
	AimTried = &Def{Key: "line.aim.evaluations", Name: "stacks tried", Symbol: "n", Kind: quantity.Number, Trust: Geometry,
		Formula: "stacks whose seats were summed", Terms: From("line.splay_steps", "line.tilt_range"), Source: ofRun}
	AimSteps = &Def{Key: "line.aim.splay_steps_deg", Name: "splay allowed at each joint", Symbol: "α", Kind: quantity.Angle, Trust: Geometry,
		Formula: "line.splay_steps", Terms: From("line.splay_steps"), Source: geometry}
	AimOctaves = &Def{Key: "line.aim.octaves_from_hz", Name: "octaves count from", Symbol: "f_s", Kind: quantity.Frequency, Trust: Rule,
		Formula: "f_s = 2·c/L: below, the beam is wider than the seats whatever the curve", Terms: []Term{{"c", "air.sound_speed_m_s"}, {"L", "coupling.length_m"}}, Source: practice}
	AimTilts = &Def{Key: "line.aim.tilts_deg", Name: "tilts allowed, positive up", Symbol: "β", Kind: quantity.Angle, Trust: Geometry,
		Formula: "line.tilt_range in steps of 0.5°", Terms: From("line.tilt_range"), Source: geometry}
)
