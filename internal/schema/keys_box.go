package schema

import (
	"gapline/cabinet/design"
	"gapline/driver"
	"gapline/internal/optional"
	"gapline/internal/quantity"
)

// boxKeys describe the driver beyond its size, and the enclosure behind it.
var boxKeys = []Key{
	quantityKey("woofer.qts", quantity.Number, 0.02, 50, func(d *design.Design) *optional.Float { return &d.Woofer.Qts }, "total Q at fs").called("woofer Qts"),
	quantityKey("woofer.cms", quantity.Compliance, 1e-6, 0.1, func(d *design.Design) *optional.Float { return &d.Woofer.Cms }, "compliance of the suspension").called("woofer compliance Cms"),
	quantityKey("woofer.rms", quantity.MechLoss, 1e-3, 500, func(d *design.Design) *optional.Float { return &d.Woofer.Rms }, "mechanical resistance of the suspension").called("woofer mechanical resistance Rms"),
	quantityKey("woofer.le_exponent", quantity.Number, 0.5, 1, func(d *design.Design) *optional.Float { return &d.Woofer.LeExponent },
		"exponent of the voice coil's impedance against frequency: 1 a plain inductance, 0.5 a semi-inductor with woofer.le its value at 1 kHz").or("1").called("exponent of the woofer's inductance"),
	choiceKey("woofer.wiring", func(d *design.Design) *driver.Wiring { return &d.Woofer.Wiring },
		"how the woofers of one box are connected").or("parallel"),
	{Path: FileKey, label: "woofer's driver file", Doc: "driver file with the woofer's parameters, beside the design file; keys of [woofer] override it", Type: Text, File: true,
		text: free(func(d *design.Design) *string { return &d.Woofer.File })},

	choiceKey("enclosure.kind", func(d *design.Design) *driver.EnclosureKind { return &d.Enclosure.Kind },
		"what loads the woofer's back; unless given vented when a tuning or vent is, passive radiator when radiator_sd is, else closed").called("kind of enclosure"),
	quantityKey("enclosure.volume", quantity.Volume, 1e-5, 10, func(d *design.Design) *optional.Float { return &d.Enclosure.Volume }, "net volume behind the woofers of one box"),
	hertzKey("enclosure.tuning", 5, 1000, func(d *design.Design) *optional.Float { return &d.Enclosure.Tuning }, "resonance of vent or passive radiator with the box"),
	quantityKey("enclosure.leak_q", quantity.Number, 0.5, 1000, func(d *design.Design) *optional.Float { return &d.Enclosure.LeakQ },
		"Q of the leakage losses at the tuning (closed box: at its resonance); no leak unless given").called("Q of the leakage"),
	quantityKey("enclosure.absorption_q", quantity.Number, 0.5, 1000, func(d *design.Design) *optional.Float { return &d.Enclosure.AbsorptionQ },
		"Q of the losses in the filling at the tuning (closed box: at its resonance); none unless given").called("Q of the filling"),
	quantityKey("enclosure.vent_q", quantity.Number, 0.5, 1000, func(d *design.Design) *optional.Float { return &d.Enclosure.VentQ },
		"Q of the friction in the vent at the tuning; none unless given").called("Q of the vent"),

	countKey("enclosure.vents", 1, 16, func(d *design.Design) *int { return &d.Enclosure.Vent.Count }, "number of equal vents in one box").or("1").called("vents per box"),
	quantityKey("enclosure.vent_area", quantity.Area, 1e-5, 2, func(d *design.Design) *optional.Float { return &d.Enclosure.Vent.Area }, "cross section of one vent"),
	lengthKey("enclosure.vent_diameter", 0.004, 1, func(d *design.Design) *optional.Float { return &d.Enclosure.VentDiameter }, "diameter of one round vent"),
	lengthKey("enclosure.vent_width", 0.002, 3, func(d *design.Design) *optional.Float { return &d.Enclosure.Vent.Width }, "width of one rectangular vent"),
	lengthKey("enclosure.vent_height", 0.002, 3, func(d *design.Design) *optional.Float { return &d.Enclosure.Vent.Height }, "height of one rectangular vent"),
	lengthKey("enclosure.vent_length", 0.001, 3, func(d *design.Design) *optional.Float { return &d.Enclosure.Vent.Length },
		"length of the vent itself, without end corrections; from the tuning unless given"),
	choiceKey("enclosure.vent_inner", func(d *design.Design) *driver.VentEnd { return &d.Enclosure.Vent.Inner }, "how the vent's inner end lies").or("free").called("inner end of the vent"),
	choiceKey("enclosure.vent_outer", func(d *design.Design) *driver.VentEnd { return &d.Enclosure.Vent.Outer }, "how the vent's outer end lies").or("flanged").called("outer end of the vent"),
	lengthKey("enclosure.vent_distance", 0.01, 5, func(d *design.Design) *optional.Float { return &d.Enclosure.Vent.Distance },
		"distance from the vent (or passive radiator) to the woofer, centre to centre; unless given the mean over those whose places in the front are given, and without places they do not load each other in a stack").called("distance from vent to woofer"),

	countKey("enclosure.radiators", 1, 16, func(d *design.Design) *int { return &d.Enclosure.Radiator.Count }, "number of equal passive radiators in one box").or("1").called("passive radiators per box"),
	quantityKey("enclosure.radiator_sd", quantity.Area, 1e-4, 1, func(d *design.Design) *optional.Float { return &d.Enclosure.Radiator.Sd }, "piston area of one passive radiator").called("passive radiator area Sd"),
	quantityKey("enclosure.radiator_cms", quantity.Compliance, 1e-6, 0.1, func(d *design.Design) *optional.Float { return &d.Enclosure.Radiator.Cms }, "compliance of one passive radiator").called("passive radiator compliance Cms"),
	quantityKey("enclosure.radiator_vas", quantity.Volume, 1e-5, 10, func(d *design.Design) *optional.Float { return &d.Enclosure.RadiatorVas },
		"volume of air as stiff as one passive radiator, in place of radiator_cms").called("passive radiator Vas"),
	quantityKey("enclosure.radiator_mms", quantity.Mass, 1e-4, 5, func(d *design.Design) *optional.Float { return &d.Enclosure.Radiator.Mms },
		"moving mass of one passive radiator with air load; from the tuning unless given").called("passive radiator moving mass Mms"),
	quantityKey("enclosure.radiator_qms", quantity.Number, 0.1, 200, func(d *design.Design) *optional.Float { return &d.Enclosure.Radiator.Qms },
		"mechanical Q of a passive radiator at its own resonance; no loss unless given").called("passive radiator Qms"),
	lengthKey("enclosure.radiator_xmax", 1e-4, 0.2, func(d *design.Design) *optional.Float { return &d.Enclosure.Radiator.Xmax }, "one-way excursion limit of a passive radiator").called("passive radiator excursion limit"),
}

// driveKeys are the signal, the low-end targets and the prices.
var driveKeys = []Key{
	hertzKey("targets.level_at", 5, 5e3, func(d *design.Design) *optional.Float { return &d.Targets.LevelAt },
		"frequency at which the maximum level is judged and designs are compared; targets.lowest unless given, and without both the box's own f3").called("frequency of the level wanted"),
	quantityKey("targets.level", quantity.Level, 40, 200, func(d *design.Design) *optional.Float { return &d.Targets.Level },
		"maximum level that one box must reach there, at 1 m in half space").called("maximum level wanted"),

	quantityKey("drive.voltage", quantity.Voltage, 1e-3, 1e3, func(d *design.Design) *optional.Float { return &d.Drive.Voltage },
		"rms voltage at the terminals of one box").or("2.83 V"),
	quantityKey("drive.power", quantity.Power, 1e-3, 100e3, func(d *design.Design) *optional.Float { return &d.Drive.Power },
		"power into the nominal resistance (Re of all woofers as wired), in place of drive.voltage"),

	costKey("cost.woofer", func(d *design.Design) *optional.Float { return &d.Cost.Woofer }, "price of one woofer, in any currency").called("price of a woofer"),
	costKey("cost.mid", func(d *design.Design) *optional.Float { return &d.Cost.Mid }, "price of one mid driver").called("price of a mid"),
	costKey("cost.horn", func(d *design.Design) *optional.Float { return &d.Cost.Horn }, "price of one compression driver with its horn").called("price of horn and driver"),
	costKey("cost.crossover", func(d *design.Design) *optional.Float { return &d.Cost.Crossover }, "price of one crossover point in one box: filter, amplifier channel, wiring").called("price of a crossover point"),
	costKey("cost.cabinet", func(d *design.Design) *optional.Float { return &d.Cost.Cabinet }, "price of one cabinet").or("0").called("price of a cabinet"),
	costKey("cost.insert", func(d *design.Design) *optional.Float { return &d.Cost.Insert }, "price of the insert of one box").or("0").called("price of an insert"),
}

// FileKey names the driver file.
const FileKey = "woofer.file"

// maxCost bounds prices, so that sums stay printable.
const maxCost = 1e9

func costKey(path string, at fl, doc string) Key {
	return quantityKey(path, quantity.Number, 0, maxCost, at, doc)
}
