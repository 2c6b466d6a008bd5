package schema

import (
	"slices"

	"gapline/cabinet/design"
	"gapline/cabinet/field"
	"gapline/cabinet/filter"
	"gapline/internal/optional"
	"gapline/internal/quantity"
)

// hangingKeys say how the boxes hang.
var hangingKeys = []Key{
	choiceKey("line.hinge", func(d *design.Design) *field.Hinge { return &d.Hanging.Hinge },
		"rigging edge about which a box turns against the one above").or("front").called("edge that the boxes turn about"),
	listKey("line.splay_steps", quantity.Angle, 0, 30*degrees, func(d *design.Design) *[]float64 { return &d.Hanging.SplaySteps },
		"angles that the rigging allows between neighbours, for gapline line --aim; 0 to 10 deg in twelve steps unless given").called("splay steps of the rigging"),
	listKey("line.tilt_range", quantity.Angle, -60*degrees, 60*degrees, func(d *design.Design) *[]float64 { return &d.Hanging.TiltRange },
		"lowest and highest tilt of the top box that --aim may choose, positive upward; the tilt stays unless given").called("tilt range of the top box"),
	listKey("line.shading", quantity.Level, -40, 10, func(d *design.Design) *[]float64 { return &d.Hanging.Shading },
		"gain of each box from the top down; none unless given").called("gain of each box").foreach(eachBox),
	listKey("line.delays", quantity.Time, 0, 0.1, func(d *design.Design) *[]float64 { return &d.Hanging.Delays },
		"delay of each box from the top down; none unless given").called("delay of each box").foreach(eachBox),
	listKey("line.delay_steps", quantity.Time, 0, 0.1, func(d *design.Design) *[]float64 { return &d.Hanging.DelaySteps },
		"delays that --aim --delay may give a box; 0 to 1 ms in eight steps unless given").called("delay steps of a box"),
	listKey("line.gain_steps", quantity.Level, -20, 0, func(d *design.Design) *[]float64 { return &d.Hanging.GainSteps },
		"gains that --aim --shade may give a box; 0, -1, -2, -3 dB unless given").called("gain steps of a box"),
}

// bandKeys say where the mouths of each band sit and how loud, late and in which
// polarity they are.
var bandKeys = slices.Concat(
	placeKeys("woofer", "woofers", func(d *design.Design) *design.Place { return &d.Bands.Woofer }),
	placeKeys("mid", "mids", func(d *design.Design) *design.Place { return &d.Bands.Mid }),
	matchKeys("mid", "mids", "woofers", func(d *design.Design) *design.Place { return &d.Bands.Mid }),
	placeKeys("horn", "horn's mouth", func(d *design.Design) *design.Place { return &d.Bands.Horn }),
	[]Key{
		mountingKey("mid", "mids", "the woofers", func(d *design.Design) *design.Place { return &d.Bands.Mid }),
		mountingKey("horn", "horn", "the cones", func(d *design.Design) *design.Place { return &d.Bands.Horn }),
	},
	matchKeys("horn", "horn", "band below", func(d *design.Design) *design.Place { return &d.Bands.Horn }),
	outletKeys("vent", "vents", func(d *design.Design) *design.Outlet { return &d.Enclosure.VentPlace }),
	outletKeys("radiator", "passive radiators", func(d *design.Design) *design.Outlet { return &d.Enclosure.RadiatorPlace }),
	[]Key{
		lengthKey("enclosure.radiator_depth", 0.005, 1, func(d *design.Design) *optional.Float { return &d.Enclosure.RadiatorPlace.Depth },
			"depth of one passive radiator behind its flange").called("depth of a passive radiator"),
		hertzKey("crossover.low_frequency", 20, 20e3, func(d *design.Design) *optional.Float { return &d.Low.Frequency },
			"crossover frequency between woofers and mids; mid.lowest unless given").called("crossover of woofers and mids"),
		countKey("crossover.low_order", 1, 8, func(d *design.Design) *int { return &d.Low.Order },
			"order of the sections between woofers and mids; crossover.order unless given").called("order between woofers and mids"),
		choiceKey("crossover.low_alignment", func(d *design.Design) *filter.Alignment { return &d.Low.Alignment },
			"alignment of the sections between woofers and mids; crossover.alignment unless given").called("alignment between woofers and mids"),
	})

func placeKeys(table, what string, of func(*design.Design) *design.Place) []Key {
	keys := []Key{
		lengthKey(table+".offset", -1.5, 1.5, func(d *design.Design) *optional.Float { return &of(d).Offset },
			"how far the middle of the "+what+" sits left of the middle of the front, seen from behind the box; bands stand beside each other unless given"),
		quantityKey(table+".sensitivity", quantity.Level, 40, 140, func(d *design.Design) *optional.Float { return &of(d).Sensitivity },
			"level of the "+what+" of one box on axis at 1 m in half space and 2.83 V"),
		quantityKey(table+".delay", quantity.Time, 0, 0.1, func(d *design.Design) *optional.Float { return &of(d).Delay },
			"delay of the "+what+", counted at the mouths: what a processor must give beside it for the way inside the boxes gapline crossover prints").or("0 ms"),
	}
	if table == "horn" {
		return keys
	}
	driver := what[:len(what)-1]
	return append(keys, lengthKey(table+".lateral_spacing", 0.005, 3, func(d *design.Design) *optional.Float { return &of(d).Lateral },
		"horizontal distance between the "+what+" that stand side by side at one height; the diameter unless given").called(what+" side by side, spacing"),
		lengthKey(table+".rise", -1.5, 1.5, func(d *design.Design) *optional.Float { return &of(d).Rise },
			"how far the middle of the "+what+" sits above the middle of the front").or("0 mm"),
		countKey(table+".columns", 1, 16, func(d *design.Design) *int { return &of(d).Columns },
			"how many "+what+" of a box stand side by side; rows follow from "+table+".per_box. Unless given 1 with "+table+".spacing, else all").called("columns of "+what),
		lengthKey(table+".setback", 0, 3, func(d *design.Design) *optional.Float { return &of(d).Setback },
			"how far the middle of each cone's mouth sits behind the front").or("0 mm").called(what+" behind the front"),
		quantityKey(table+".turn", quantity.Angle, -90*degrees, 90*degrees, func(d *design.Design) *optional.Float { return &of(d).Turn },
			"angle by which the axis of each "+driver+" is turned outward about the upright line through the middle of its mouth: those left of the middle to the left, those right of it to the right; a column on the middle turns left, or right by a negative angle").or("0 deg").called("turn of the "+what),
		lengthKey(table+".depth", 0.005, 1, func(d *design.Design) *optional.Float { return &of(d).Depth },
			"depth of one "+driver+" from its flange to the back of its magnet").called("depth of a "+driver),
	)
}

// mountingKey says whether the parts of a band may stand in the room of others.
func mountingKey(table, what, others string, of func(*design.Design) *design.Place) Key {
	return choiceKey(table+".mounting", func(d *design.Design) *design.Mounting { return &of(d).Mounting },
		"beside the other parts, or coaxial: the "+what+" sits in front of or inside "+others+", and the two may share their room").or("beside").called("mounting of the " + what)
}

// outletKeys say where vents or passive radiators open.
func outletKeys(one, many string, of func(*design.Design) *design.Outlet) []Key {
	return []Key{
		choiceKey("enclosure."+one+"_panel", func(d *design.Design) *design.Panel { return &of(d).Panel },
			"panel that the "+many+" open in; those in the sides stand left and right in turn").or("front").called("panel of the " + many),
		lengthKey("enclosure."+one+"_offset", -1.5, 3, func(d *design.Design) *optional.Float { return &of(d).Offset },
			"how far the middle of the "+many+" sits left of the middle of the front or rear, seen from behind; in the sides how far behind the front").called("place of the " + many),
		lengthKey("enclosure."+one+"_rise", -1.5, 1.5, func(d *design.Design) *optional.Float { return &of(d).Rise },
			"how far the middle of the "+many+" sits above the middle of the front").or("0 mm").called("rise of the " + many),
	}
}

func matchKeys(table, what, below string, of func(*design.Design) *design.Place) []Key {
	return []Key{
		quantityKey(table+".gain", quantity.Level, -40, 40, func(d *design.Design) *optional.Float { return &of(d).Gain },
			"level of the "+what+" against that which matches the "+below+" on axis at the crossover").or("0 dB"),
		choiceKey(table+".polarity", func(d *design.Design) *filter.Polarity { return &of(d).Polarity },
			"polarity of the "+what+"; normal is the one in which the bands add in phase at the crossover"),
	}
}

// audienceKeys say where people sit. Lists have one entry for each straight
// stretch of seats.
var audienceKeys = []Key{
	listKey("audience.start", quantity.Length, -1000, 1000, func(d *design.Design) *[]float64 { return &d.Audience.Start },
		"distance of the first row of each stretch of seats from the upper front edge of the top box").called("first row of the seats"),
	listKey("audience.end", quantity.Length, -1000, 1000, func(d *design.Design) *[]float64 { return &d.Audience.End },
		"distance of the last row of each stretch").called("last row of the seats"),
	listKey("audience.start_floor", quantity.Length, -50, 100, func(d *design.Design) *[]float64 { return &d.Audience.StartFloor },
		"height of the floor under the first row of each stretch above the ground under the stack").or("0 mm").called("floor under the first row"),
	listKey("audience.end_floor", quantity.Length, -50, 100, func(d *design.Design) *[]float64 { return &d.Audience.EndFloor },
		"height of the floor under the last row of each stretch").or("0 mm").called("floor under the last row"),
	lengthKey("audience.ear_height", 0, 3, func(d *design.Design) *optional.Float { return &d.Audience.EarHeight }, "height of the ears above the floor").or("1.2 m"),
	lengthKey("audience.step", 0.05, 100, func(d *design.Design) *optional.Float { return &d.Audience.Step }, "distance between the seats that are computed").or("1 m").called("distance between seats"),
	quantityKey("audience.back_level", quantity.Level, -200, 200, func(d *design.Design) *optional.Float { return &d.Audience.BackLevel },
		"least A-weighted level that --aim wants at the last row").called("level wanted at the last row"),
	quantityKey("audience.fall", quantity.Level, -20, 40, func(d *design.Design) *optional.Float { return &d.Audience.Fall },
		"how far the level may fall from the nearest seat to the farthest, evenly over log distance, for --aim").or("0 dB").called("fall wanted over the seats"),
	listKey("audience.quiet_from", quantity.Length, -1000, 1000, func(d *design.Design) *[]float64 { return &d.Audience.QuietFrom },
		"near end of each stretch that --aim keeps sound off, such as a stage or neighbours").called("near end of the quiet zone"),
	listKey("audience.quiet_to", quantity.Length, -1000, 1000, func(d *design.Design) *[]float64 { return &d.Audience.QuietTo },
		"far end of each such stretch").called("far end of the quiet zone"),
	listKey("audience.quiet_height", quantity.Length, 0, 300, func(d *design.Design) *[]float64 { return &d.Audience.QuietHeight },
		"height of each such stretch above the ground under the stack; 1.5 m unless given").called("height of the quiet zone"),
	quantityKey("audience.quiet_level", quantity.Level, -80, 20, func(d *design.Design) *optional.Float { return &d.Audience.QuietLevel },
		"most that the sound there may reach against the mean of the seats before --aim counts it").or("-12 dB").called("level allowed in the quiet zone"),
	quantityKey("audience.over_row", quantity.Level, -60, 60, func(d *design.Design) *optional.Float { return &d.Audience.OverRow },
		"most that the sound 4 to 24 deg over the last row may reach against it before --aim counts it as spill").or("-6 dB").called("spill over the last row"),
}
