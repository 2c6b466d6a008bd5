package schema

import (
	"gapline/cabinet/design"
	"gapline/driver"
	"gapline/internal/optional"
	"gapline/internal/quantity"
)

// midKeys describe the mids' driver beyond its size, as those of the woofer do, and the
// closed box behind it.
var midKeys = []Key{
	hertzKey("mid.fs", 5, 5000, func(d *design.Design) *optional.Float { return &d.Mid.Fs }, "free-air resonance of one mid").called("mid resonance fs"),
	quantityKey("mid.qes", quantity.Number, 0.02, 50, func(d *design.Design) *optional.Float { return &d.Mid.Qes }, "electrical Q at fs").called("mid Qes"),
	quantityKey("mid.qms", quantity.Number, 0.1, 200, func(d *design.Design) *optional.Float { return &d.Mid.Qms }, "mechanical Q at fs").called("mid Qms"),
	quantityKey("mid.qts", quantity.Number, 0.02, 50, func(d *design.Design) *optional.Float { return &d.Mid.Qts }, "total Q at fs").called("mid Qts"),
	quantityKey("mid.vas", quantity.Volume, 1e-6, 1, func(d *design.Design) *optional.Float { return &d.Mid.Vas }, "volume of air as stiff as the suspension").called("mid Vas"),
	quantityKey("mid.re", quantity.Resistance, 0.1, 200, func(d *design.Design) *optional.Float { return &d.Mid.Re }, "voice-coil resistance of one mid").called("mid resistance Re"),
	quantityKey("mid.le", quantity.Inductance, 0, 0.1, func(d *design.Design) *optional.Float { return &d.Mid.Le }, "voice-coil inductance").called("mid inductance Le"),
	quantityKey("mid.le_exponent", quantity.Number, 0.5, 1, func(d *design.Design) *optional.Float { return &d.Mid.LeExponent },
		"exponent of the voice coil's impedance against frequency, as woofer.le_exponent").or("1").called("exponent of the mid's inductance"),
	quantityKey("mid.sd", quantity.Area, 1e-5, 0.3, func(d *design.Design) *optional.Float { return &d.Mid.Sd }, "area of the radiating piston of one mid").called("mid piston area Sd"),
	lengthKey("mid.xmax", 1e-4, 0.05, func(d *design.Design) *optional.Float { return &d.Mid.Xmax }, "one-way excursion limit").called("mid excursion limit"),
	quantityKey("mid.bl", quantity.ForceFactor, 0.1, 100, func(d *design.Design) *optional.Float { return &d.Mid.Bl }, "force factor").called("mid force factor Bl"),
	quantityKey("mid.mms", quantity.Mass, 1e-5, 1, func(d *design.Design) *optional.Float { return &d.Mid.Mms }, "moving mass with air load").called("mid moving mass Mms"),
	quantityKey("mid.cms", quantity.Compliance, 1e-7, 0.1, func(d *design.Design) *optional.Float { return &d.Mid.Cms }, "compliance of the suspension").called("mid compliance Cms"),
	quantityKey("mid.rms", quantity.MechLoss, 1e-4, 500, func(d *design.Design) *optional.Float { return &d.Mid.Rms }, "mechanical resistance of the suspension").called("mid mechanical resistance Rms"),
	quantityKey("mid.power", quantity.Power, 0.1, 20e3, func(d *design.Design) *optional.Float { return &d.Mid.Power }, "thermal power limit of one mid").called("mid power limit"),
	choiceKey("mid.wiring", func(d *design.Design) *driver.Wiring { return &d.Mid.Wiring }, "how the mids of one box are connected").or("parallel").called("wiring of the mids"),
	quantityKey("mid.volume", quantity.Volume, 1e-6, 1, func(d *design.Design) *optional.Float { return &d.Mid.Volume },
		"net closed volume behind all mids of one box; unless given the parameters hold as the mids are built, with their own backs").called("volume behind the mids"),
	{Path: MidFileKey, label: "mids' driver file", Doc: "driver file with the mids' parameters, beside the design file; keys of [mid] override it", Type: Text, File: true,
		text: free(func(d *design.Design) *string { return &d.Mid.File })},
}

// MidFileKey names the mids' driver file.
const MidFileKey = "mid.file"
