package schema

import (
	"math"

	"gapline/cabinet/design"
	"gapline/internal/optional"
	"gapline/internal/quantity"
	"gapline/waveguide"
)

var hornKeys = []Key{
	quantityKey("horn.coverage", quantity.Angle, 1*degrees, 175*degrees,
		func(d *design.Design) *optional.Float { return &d.Horn.Coverage }, "nominal horizontal coverage, full angle"),
	lengthKey("horn.mouth_width", 0.01, 3, func(d *design.Design) *optional.Float { return &d.Horn.MouthWidth }, "width of the horn's mouth"),
	lengthKey("horn.mouth_height", 0.01, 3, func(d *design.Design) *optional.Float { return &d.Horn.MouthHeight }, "height of the horn's mouth, along the line"),
	lengthKey("horn.path_length", 0.01, 100, func(d *design.Design) *optional.Float { return &d.Horn.PathLength },
		"path from the apex of the vertical front to the mouth; a fold's own comes before it"),
	lengthKey("horn.throat", 0.005, 0.3, func(d *design.Design) *optional.Float { return &d.Horn.Throat }, "diameter of the throat"),
	choiceKey("horn.profile", func(d *design.Design) *waveguide.Profile { return &d.Horn.Profile }, "how the horn's area grows"),
	lengthKey("horn.length", 0.01, 10, func(d *design.Design) *optional.Float { return &d.Horn.Length }, "length of the air path along the horn's axis from the throat to the mouth, where side flares begin; with a fold the path through the fold is part of it"),
	quantityKey("horn.family", quantity.Number, 0, 5, func(d *design.Design) *optional.Float { return &d.Horn.Family },
		"family parameter T of the hyperbolic profile").or("0.6").called("family parameter of the horn"),
	listKey("horn.distances", quantity.Length, 0, 10, func(d *design.Design) *[]float64 { return &d.Horn.Distances },
		"profile by points: distances from the throat, rising, one for each of horn.areas").called("distances along the horn"),
	listKey("horn.areas", quantity.Area, 1e-6, 10, func(d *design.Design) *[]float64 { return &d.Horn.Areas },
		"profile by points: areas at horn.distances, the throat's first, not narrowing").called("areas along the horn"),
	hertzKey("horn.lowest", 20, 20e3, func(d *design.Design) *optional.Float { return &d.Horn.Lowest }, "lowest crossover frequency on the compression driver's data sheet").called("lowest crossover of the horn's driver"),
	lengthKey("horn.flare_length", 0.005, 2, func(d *design.Design) *optional.Float { return &d.Horn.Sides.Length },
		"side flares in front of the mouth, along the axis; they widen the horizontal exit only"),
	quantityKey("horn.flare_angle", quantity.Angle, 1*degrees, 170*degrees, func(d *design.Design) *optional.Float { return &d.Horn.Sides.Angle },
		"full angle between the side flares, which then is the coverage; horn.coverage unless given"),
	countKey("horn.flare_splitters", 1, 8, func(d *design.Design) *int { return &d.Horn.Sides.Splitters },
		"upright walls between the side flares; they keep the front curved to a higher frequency").called("splitters between the side flares"),
	lengthKey("horn.flare_splitter_width", 0, 0.3, func(d *design.Design) *optional.Float { return &d.Horn.Sides.SplitterWidth },
		"width of one splitter at the exit, by which it widens the exit").or("0 mm"),
}

var compressionDriverKeys = []Key{
	quantityKey("compression_driver.re", quantity.Resistance, 0.5, 100, func(d *design.Design) *optional.Float { return &d.HornDrive.Driver.Re }, "voice-coil resistance").called("compression driver resistance Re"),
	quantityKey("compression_driver.le", quantity.Inductance, 0, 0.01, func(d *design.Design) *optional.Float { return &d.HornDrive.Driver.Le }, "voice-coil inductance").or("0 mH").called("compression driver inductance Le"),
	quantityKey("compression_driver.bl", quantity.ForceFactor, 0.5, 60, func(d *design.Design) *optional.Float { return &d.HornDrive.Driver.Bl }, "force factor").called("compression driver force factor Bl"),
	quantityKey("compression_driver.mms", quantity.Mass, 1e-5, 0.05, func(d *design.Design) *optional.Float { return &d.HornDrive.Driver.Mms }, "moving mass without air load").called("compression driver moving mass Mms"),
	hertzKey("compression_driver.fs", 50, 5e3, func(d *design.Design) *optional.Float { return &d.HornDrive.Driver.Fs },
		"resonance of moving mass and suspension alone").called("compression driver resonance fs"),
	quantityKey("compression_driver.qms", quantity.Number, 0.1, 100, func(d *design.Design) *optional.Float { return &d.HornDrive.Driver.Qms }, "mechanical Q of that resonance; no loss unless given").called("compression driver Qms"),
	quantityKey("compression_driver.sd", quantity.Area, 1e-5, 0.05, func(d *design.Design) *optional.Float { return &d.HornDrive.Driver.Sd }, "area of the diaphragm").called("compression driver diaphragm area Sd"),
	quantityKey("compression_driver.front_volume", quantity.Volume, 0, 0.01, func(d *design.Design) *optional.Float { return &d.HornDrive.Driver.FrontVolume },
		"air between diaphragm and throat").or("0 L"),
	quantityKey("compression_driver.rear_volume", quantity.Volume, 1e-7, 0.1, func(d *design.Design) *optional.Float { return &d.HornDrive.Driver.RearVolume },
		"air behind the diaphragm; unlimited unless given"),
	lengthKey("compression_driver.depth", 0.005, 1, func(d *design.Design) *optional.Float { return &d.HornDrive.Depth },
		"outside depth of the compression driver from its throat to its back"),
	lengthKey("compression_driver.diameter", 0.01, 1, func(d *design.Design) *optional.Float { return &d.HornDrive.Diameter },
		"outside diameter of the compression driver"),
	quantityKey("compression_driver.power", quantity.Power, 0.1, 5e3, func(d *design.Design) *optional.Float { return &d.HornDrive.Power }, "thermal power limit").called("compression driver power limit"),
	lengthKey("compression_driver.xmax", 1e-4, 0.01, func(d *design.Design) *optional.Float { return &d.HornDrive.Xmax },
		"largest displacement of the diaphragm, one way").called("compression driver excursion limit"),
	quantityKey("compression_driver.sensitivity", quantity.Level, 80, 180, func(d *design.Design) *optional.Float { return &d.HornDrive.Sensitivity },
		"level in a plane-wave tube of the throat's area at 2.83 V, where bl, mms and the rest are not known").called("compression driver sensitivity"),
	quantityKey("compression_driver.voltage", quantity.Voltage, 0.01, 200, func(d *design.Design) *optional.Float { return &d.HornDrive.Voltage },
		"r.m.s. voltage at which it is worked out").or("2.83 V"),
}

var foldKeys = []Key{
	lengthKey("fold.throat_to_wall", 0.005, 3, func(d *design.Design) *optional.Float { return &d.Fold.ThroatToWall },
		"distance from the throat to the wall's vertex; fold solves for it when it is not given").called("throat to wall of the fold"),
	{Path: "fold.virtual_path", label: "virtual path of the fold", Doc: `path behind the mouth from which the folded front seems to come; "flat" for a plane front; unless given, what targets.flat_to needs`,
		Type: Quantity, Kind: quantity.Length, Min: 0.01, Max: 1000, Words: map[string]float64{"flat": math.Inf(1)},
		float: func(d *design.Design) *optional.Float { return &d.Fold.VirtualPath }},
	choiceKey("fold.wall", func(d *design.Design) *waveguide.FoldWall { return &d.Fold.Wall },
		"curved, or straight for a plain mirror whose virtual path follows").or("curved"),
	lengthKey("fold.layer", 0.001, 0.5, func(d *design.Design) *optional.Float { return &d.Fold.Layer }, "thickness of each layer of the folded path, inside").called("layer thickness of the fold"),
	lengthKey("fold.mouth_distance", 0.002, 2, func(d *design.Design) *optional.Float { return &d.Fold.MouthDistance },
		"mouth plane in front of the throat's centre; throat radius plus one layer unless given"),
	lengthKey("fold.throat_height", -1, 1, func(d *design.Design) *optional.Float { return &d.Fold.ThroatHeight },
		"throat above the mouth's middle").or("0 mm"),
	lengthKey("fold.bend_radius", 0, 0.2, func(d *design.Design) *optional.Float { return &d.Fold.BendRadius },
		"inner radius of the turn, half the plate between the layers").or("0 mm"),
	lengthKey("fold.rear_allowance", 0, 0.5, func(d *design.Design) *optional.Float { return &d.Fold.RearAllowance },
		"material and clearance behind the turn").or("0 mm"),
	lengthKey("fold.wall_material", 0.0005, 0.1, func(d *design.Design) *optional.Float { return &d.Fold.WallMaterial },
		"thickness of the strip that is drawn for the wall").or("12 mm"),
	lengthKey("fold.available_depth", 0.005, 3, func(d *design.Design) *optional.Float { return &d.Fold.Depth },
		"depth that the fold may take, mouth plane to the rear; cabinet.depth unless given").called("depth for the fold"),
	quantityKey("fold.widest_fan", quantity.Angle, 10*degrees, 180*degrees, func(d *design.Design) *optional.Float { return &d.Fold.WidestFan },
		"widest fan of rays at the throat that fold may choose, full angle").or("180 deg").called("widest fan of the fold"),
}
