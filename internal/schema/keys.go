package schema

import (
	"slices"
	"strings"

	"gapline/cabinet/design"
	"gapline/cabinet/filter"
	"gapline/internal/optional"
	"gapline/internal/quantity"
)

// Keys is the table of keys in the order in which a file is written.
var Keys = slices.Concat(topKeys, cabinetKeys, wooferKeys, midKeys, boxKeys, insertKeys, hornKeys, compressionDriverKeys, foldKeys, crossoverKeys, targetKeys, driveKeys, hangingKeys, bandKeys, audienceKeys, sectionKeys, measuredKeys, reviewKeys)

var topKeys = []Key{
	{Path: "title", Doc: "name of the design, printed on every output", Type: Text,
		text: free(func(d *design.Design) *string { return &d.Title })},
	airKey("air.temperature", quantity.Temperature, 233.15, 333.15,
		func(d *design.Design) *float64 { return &d.Air.Temperature }, "temperature of the air").or("20 degC"),
	airKey("air.humidity", quantity.Fraction, 0, 1,
		func(d *design.Design) *float64 { return &d.Air.Humidity }, "relative humidity").or("50 %"),
	airKey("air.pressure", quantity.Pressure, 50e3, 110e3,
		func(d *design.Design) *float64 { return &d.Air.Pressure }, "static pressure").or("101.325 kPa"),
}

var cabinetKeys = []Key{
	lengthKey("cabinet.height", 0.03, 3, func(d *design.Design) *optional.Float { return &d.Cabinet.Height }, "outside height of one box, along the line"),
	lengthKey("cabinet.width", 0.03, 3, func(d *design.Design) *optional.Float { return &d.Cabinet.Width }, "outside width of one box"),
	lengthKey("cabinet.depth", 0.03, 3, func(d *design.Design) *optional.Float { return &d.Cabinet.Depth }, "outside depth of one box"),
	lengthKey("cabinet.gap", 0, 1, func(d *design.Design) *optional.Float { return &d.Cabinet.Gap }, "distance between neighbouring boxes").or("0 mm").called("space between boxes"),
	lengthKey("cabinet.pitch", 0.03, 4, func(d *design.Design) *optional.Float { return &d.Cabinet.Pitch }, "distance from box to box; height plus gap unless given").called("pitch of the boxes"),
	lengthKey("cabinet.rear_height", 0.02, 3, func(d *design.Design) *optional.Float { return &d.Cabinet.RearHeight },
		"outside height of one box at its rear, of a box that tapers; cabinet.height unless given").called("rear height of the cabinet"),
	lengthKey("cabinet.wall", 0.001, 0.2, func(d *design.Design) *optional.Float { return &d.Cabinet.Wall },
		"thickness of the cabinet's panels; unless given nothing is taken off the volume and depth inside").called("thickness of the panels"),
	countKey("line.boxes", 1, 100, func(d *design.Design) *int { return &d.Line.Boxes }, "number of boxes in the line").called("boxes in the line"),
	listKey("line.splay", quantity.Angle, -10*degrees, 30*degrees, func(d *design.Design) *[]float64 { return &d.Line.Splay },
		"angles between neighbouring boxes from the top down, boxes − 1 of them").called("splay between boxes").foreach(eachPair),
	lengthKey("line.top_height", 0.05, 100, func(d *design.Design) *optional.Float { return &d.Line.TopHeight }, "height of the top of the line above the floor").called("height of the line's top"),
	quantityKey("line.tilt", quantity.Angle, -90*degrees, 90*degrees,
		func(d *design.Design) *optional.Float { return &d.Line.Tilt }, "tilt of the top box, positive upward").called("tilt of the top box"),
}

var wooferKeys = []Key{
	lengthKey("woofer.size", 0.02, 0.8, func(d *design.Design) *optional.Float { return &d.Woofer.Size }, "nominal diameter of the woofer"),
	lengthKey("woofer.effective_diameter", 0.01, 0.8, func(d *design.Design) *optional.Float { return &d.Woofer.EffectiveDiameter },
		"diameter of the radiating piston; 0.82 times the size unless given").called("effective diameter of the woofer"),
	countKey("woofer.per_box", 1, 16, func(d *design.Design) *int { return &d.Woofer.PerBox }, "woofers in one box").or("1").called("woofers per box"),
	lengthKey("woofer.spacing", 0.01, 3, func(d *design.Design) *optional.Float { return &d.Woofer.Spacing },
		"vertical distance between the woofers of one box; leave it out when they sit side by side at one height").called("spacing of the woofers"),
	hertzKey("woofer.fs", 5, 2000, func(d *design.Design) *optional.Float { return &d.Woofer.Fs }, "free-air resonance").called("woofer resonance fs"),
	quantityKey("woofer.qes", quantity.Number, 0.02, 50, func(d *design.Design) *optional.Float { return &d.Woofer.Qes }, "electrical Q at fs").called("woofer Qes"),
	quantityKey("woofer.qms", quantity.Number, 0.1, 200, func(d *design.Design) *optional.Float { return &d.Woofer.Qms }, "mechanical Q at fs").called("woofer Qms"),
	quantityKey("woofer.vas", quantity.Volume, 1e-5, 10, func(d *design.Design) *optional.Float { return &d.Woofer.Vas }, "volume of air as stiff as the suspension").called("woofer Vas"),
	quantityKey("woofer.re", quantity.Resistance, 0.1, 200, func(d *design.Design) *optional.Float { return &d.Woofer.Re }, "voice-coil resistance").called("woofer resistance Re"),
	quantityKey("woofer.le", quantity.Inductance, 0, 0.1, func(d *design.Design) *optional.Float { return &d.Woofer.Le }, "voice-coil inductance").called("woofer inductance Le"),
	quantityKey("woofer.sd", quantity.Area, 1e-4, 1, func(d *design.Design) *optional.Float { return &d.Woofer.Sd }, "area of the radiating piston").called("woofer piston area Sd"),
	lengthKey("woofer.xmax", 1e-4, 0.1, func(d *design.Design) *optional.Float { return &d.Woofer.Xmax }, "one-way excursion limit").called("woofer excursion limit"),
	quantityKey("woofer.bl", quantity.ForceFactor, 0.1, 100, func(d *design.Design) *optional.Float { return &d.Woofer.Bl }, "force factor").called("woofer force factor Bl"),
	quantityKey("woofer.mms", quantity.Mass, 1e-4, 2, func(d *design.Design) *optional.Float { return &d.Woofer.Mms }, "moving mass with air load").called("woofer moving mass Mms"),
	quantityKey("woofer.power", quantity.Power, 0.1, 20e3, func(d *design.Design) *optional.Float { return &d.Woofer.Power }, "thermal power limit").called("woofer power limit"),

	lengthKey("mid.size", 0.01, 0.5, func(d *design.Design) *optional.Float { return &d.Mid.Size }, "nominal diameter of the mid drivers"),
	lengthKey("mid.effective_diameter", 0.005, 0.5, func(d *design.Design) *optional.Float { return &d.Mid.EffectiveDiameter },
		"diameter of the radiating piston; 0.82 times the size unless given").called("effective diameter of the mids"),
	countKey("mid.per_box", 1, 32, func(d *design.Design) *int { return &d.Mid.PerBox }, "mid drivers in one box").or("1").called("mids per box"),
	lengthKey("mid.spacing", 0.005, 3, func(d *design.Design) *optional.Float { return &d.Mid.Spacing }, "vertical distance between the mids of one box").called("spacing of the mids"),
	hertzKey("mid.lowest", 20, 10e3, func(d *design.Design) *optional.Float { return &d.Mid.Lowest }, "lowest crossover frequency of the mids").called("lowest crossover of the mids"),
}

var insertKeys = []Key{
	countKey("insert.mouths", 1, 16, func(d *design.Design) *int { return &d.Insert.Mouths }, "openings one above the other through which the woofers of a box radiate; woofers side by side have as many each").called("insert mouths per box"),
	lengthKey("insert.spacing", 0.005, 3, func(d *design.Design) *optional.Float { return &d.Insert.Spacing },
		"distance between neighbouring mouths of one box; pitch divided by mouths unless given").called("spacing of the insert's mouths"),
	lengthKey("insert.mouth_height", 0.002, 3, func(d *design.Design) *optional.Float { return &d.Insert.MouthHeight }, "height of one mouth, along the line"),
	lengthKey("insert.mouth_width", 0.002, 3, func(d *design.Design) *optional.Float { return &d.Insert.MouthWidth }, "width of one mouth"),
	lengthKey("insert.slot_depth", 0, 0.5, func(d *design.Design) *optional.Float { return &d.Insert.SlotDepth }, "thickness of the plate at the mouths"),
	quantityKey("insert.chamber_volume", quantity.Volume, 1e-7, 1, func(d *design.Design) *optional.Float { return &d.Insert.ChamberVolume },
		"air between the cones of one box and the plate"),
	lengthKey("insert.plate_width", 0.01, 3, func(d *design.Design) *optional.Float { return &d.Insert.PlateWidth },
		"outside width of the plate; the woofer's size unless given"),
	lengthKey("insert.plate_height", 0.01, 3, func(d *design.Design) *optional.Float { return &d.Insert.PlateHeight },
		"outside height of the plate; the cabinet's height unless given"),
}

var crossoverKeys = []Key{
	hertzKey("crossover.frequency", 20, 20e3, func(d *design.Design) *optional.Float { return &d.Crossover.Frequency }, "crossover frequency"),
	countKey("crossover.order", 1, 8, func(d *design.Design) *int { return &d.Crossover.Order }, "order of the crossover sections"),
	choiceKey("crossover.alignment", func(d *design.Design) *filter.Alignment { return &d.Crossover.Alignment }, "alignment of the crossover sections"),
}

var targetKeys = []Key{
	choiceKey("targets.coupling", func(d *design.Design) *design.Basis { return &d.Targets.Coupling },
		"basis of the gap: the half-wave rule or the lobe criterion").or("half-wave").called("basis of the gap"),
	quantityKey("targets.lobe_level", quantity.Level, -60, -0.5, func(d *design.Design) *optional.Float { return &d.Targets.LobeLevel },
		"highest lobe allowed against the axis").or("-12 dB").called("highest lobe allowed"),
	quantityKey("targets.gap", quantity.Octaves, -5, 5, func(d *design.Design) *optional.Float { return &d.Targets.Gap }, "widest crossover gap allowed").or("0 oct").called("widest gap allowed"),
	choiceKey("targets.trust", func(d *design.Design) *design.Deciding { return &d.Targets.Trust },
		"level of trust that decides the verdict; unless given rule and aperture decide, wave where gapline wave has been run, and measured where [measured] names traces").called("level that decides"),
	hertzKey("targets.flat_to", 100, 40e3, func(d *design.Design) *optional.Float { return &d.Targets.FlatTo }, "frequency up to which the horn's front must be flat").called("front flat up to"),
	hertzKey("targets.lowest", 5, 5e3, func(d *design.Design) *optional.Float { return &d.Targets.Lowest }, "frequency from which the line must couple; the maximum level is judged there too unless targets.level_at is given").called("coupling wanted from"),
}

// FindKey returns the key with the given path, nil when there is none.
func FindKey(path string) *Key {
	for i := range Keys {
		if Keys[i].Path == path {
			return &Keys[i]
		}
	}
	return nil
}

// Tables returns the tables that hold keys, in order.
func Tables() []string {
	var out []string
	for i := range Keys {
		if t := Keys[i].Table(); t != "" && !slices.Contains(out, t) {
			out = append(out, t)
		}
	}
	return out
}

// leavesOf returns the keys of a table without its name.
func leavesOf(table string) []string {
	var out []string
	for i := range Keys {
		if k := &Keys[i]; table != "" && k.Table() == table {
			out = append(out, strings.TrimPrefix(k.Path, table+"."))
		}
	}
	return out
}
