package figure

import (
	"slices"

	"gapline/internal/quantity"
)

// Sources, domains and terms of the largest levels.
const (
	linearUp   = "small signals up to the limits, no power compression, no limit of amplifiers; the circuit of a box alone"
	loudBox    = "circuits of package driver, compression driver on its horn; the nearest limit of any band"
	iecSignal  = "IEC 60268-1:1985, clause 7, table II"
	europeDose = "Directive 2003/10/EC of the European Parliament and of the Council, article 3"
	heardAir   = "Air speed is a limit of what is heard, 17 m/s by common practice; it harms nothing."
)

var (
	limitKeys = From("woofer.xmax", "woofer.power", "mid.xmax", "mid.power", "compression_driver.xmax", "compression_driver.power")
	bandKeys  = slices.Concat(limitKeys, From("woofer.sensitivity", "mid.sensitivity", "horn.sensitivity", "compression_driver.sensitivity", "enclosure.vent_area", "insert.mouth_width"))
	crossKeys = slices.Concat(limitKeys, From("crossover.frequency", "crossover.order", "crossover.alignment"))
)

// Maximum is the figures of the largest level of one box over the whole range.
type Maximum struct {
	Frequency, Sum, Raise                                *Def
	Alone, ByExcursion, ByRadiator, ByPower, ByVent      *Def
	ByMouths, Resistance, Rated                          *Def
	Crest, ProgrammeRaise, HarmlessRaise, Room           *Def
	Volts, Peak, Watts, Unweighted, AWeighted, CWeighted *Def
}

// The largest levels that line prints, and that box does.
var (
	LineMaximum = newMaximum("line.maximum")
	BoxFull     = newMaximum("box.full_range")
)

func (m Maximum) all() []*Def {
	return []*Def{m.Frequency, m.Sum, m.Raise, m.Alone, m.ByExcursion, m.ByRadiator, m.ByPower, m.ByVent, m.ByMouths, m.Resistance, m.Rated,
		m.Crest, m.ProgrammeRaise, m.HarmlessRaise, m.Room, m.Volts, m.Peak, m.Watts, m.Unweighted, m.AWeighted, m.CWeighted}
}

func newMaximum(group string) Maximum {
	def := func(key, name, symbol string, k quantity.Kind, trust Trust, formula, source, note string, terms ...Term) *Def {
		d := &Def{Key: group + "." + key, Name: name, Symbol: symbol, Kind: k, Trust: trust, Formula: formula, Terms: terms, Source: source, Note: note}
		if trust == Aperture {
			d.Domain = linearUp
		}
		if k == quantity.Level {
			d.Style = bareLevel
		}
		return d
	}
	stop := func(key, what, where string, terms ...Term) *Def {
		return def("bands.by_"+key+"_db", "level of the band stopped by "+what+" alone", "L_"+key, quantity.Level, Aperture,
			"L of a tone at the voltage at which "+where, loudBox, "Null where the band has no such limit.", terms...)
	}
	return Maximum{
		Frequency: def("frequency_hz", "frequency", "f", quantity.Frequency, Geometry, "twelfths of an octave of IEC 61260-1, 20 Hz to 20 kHz; the same whatever the crossover", ofRun, "", From("crossover.frequency")...),
		Sum: def("box_db", "largest level of one box", "L_max", quantity.Level, Aperture,
			"L_max = 20·log10 |Σ p| + g: bands through the crossover on the axis at 1 m in half space, raised by g until the first of them meets a limit", loudBox,
			"Null where a band that is heard has no limit in the file. "+heardAir, append(slices.Clone(crossKeys), Term{"g", group + ".raise_db"})...),
		Raise: def("raise_db", "by how much a tone may be raised over the design's drive", "g", quantity.Level, Aperture,
			"g = −20·log10 of the largest share of a limit that a tone at U takes, over all bands and causes", loudBox, "", append(slices.Clone(crossKeys), Term{"U", "drive.voltage"})...),
		Alone: def("bands.box_db", "largest level of one band of a box by itself", "L_b", quantity.Level, Aperture,
			"L_b = least of the levels at which travel, heat and air speed meet their limits; without the crossover, on the axis at 1 m in half space", loudBox,
			heardAir, bandKeys...),
		ByExcursion: stop("excursion", "excursion", "the travel of its cones or diaphragm meets xmax", From("woofer.xmax", "mid.xmax", "compression_driver.xmax")...),
		ByRadiator:  stop("radiator", "the passive radiator", "the travel of the passive radiator meets enclosure.radiator_xmax", From("enclosure.radiator_xmax")...),
		ByPower:     stop("power", "power", "the power into Re of all its drivers meets their power", From("woofer.power", "mid.power", "compression_driver.power", "woofer.re")...),
		ByVent:      stop("vent_air", "the air in the vent", "the air in the vent meets 17 m/s, peak", From("enclosure.vent_area")...),
		ByMouths:    stop("mouth_air", "the air in the insert's mouths", "the air in the insert's mouths meets 17 m/s, peak", From("insert.mouth_width", "insert.mouth_height")...),
		Resistance: def("bands.resistance_ohm", "resistance that the band's power counts into", "R", quantity.Resistance, Geometry,
			"Re of all drivers of the band as wired; 8 Ω unless given", geometry, "", From("woofer.re", "mid.re", "compression_driver.re")...),
		Rated: def("bands.rated_w", "power of all drivers of the band", "P", quantity.Power, Geometry, "number of drivers times their power", geometry, "",
			From("woofer.power", "mid.power", "compression_driver.power")...),

		Crest: def("programme.crest_db", "crest factor of the programme", "C", quantity.Level, Geometry, "C as given by --crest; 20·log10 2 otherwise",
			"IEC 60268-7:2010, 8.3.2: peak to r.m.s. of 1.8 to 2.2; IEC 60268-5 likewise (from memory)", "Programme itself has 12 dB and more (common practice, no source).", From("drive.voltage")...),
		ProgrammeRaise: def("programme.raise_db", "by how much programme may be raised over the design's drive", "g_P", quantity.Level, Aperture,
			"g_P = −20·log10 of the largest share of a limit: heat by the mean power over the spectrum, travel and air by its r.m.s. value times C, at U", iecSignal+"; "+loudBox,
			heardAir, append(slices.Clone(crossKeys), Term{"C", group + ".programme.crest_db"}, Term{"U", "drive.voltage"})...),
		HarmlessRaise: def("programme.harmless_raise_db", "the same until a driver is harmed", "g_H", quantity.Level, Aperture,
			"g_H as g_P without air speeds", iecSignal+"; "+loudBox, "Exposure counts with this raise.", Term{"g_P", group + ".programme.raise_db"}),
		Room: def("programme.limits.room_db", "by how much a limit stands above the first one", "r", quantity.Level, Aperture,
			"r = own raise less g_P", loudBox, "", Term{"g_P", group + ".programme.raise_db"}),
		Volts: def("programme.bands.voltage_v", "voltage of the band at the largest level of programme", "U_P", quantity.Voltage, Aperture,
			"U_P = r.m.s. value over the spectrum behind crossover and equaliser, raised by g_P", loudBox, "", Term{"g_P", group + ".programme.raise_db"}),
		Peak: def("programme.bands.peak_v", "peak voltage of the band at the largest level of programme", "Û", quantity.Voltage, Aperture,
			"Û = U_P·10^(C/20)", loudBox, "What an amplifier must put out without clipping.", Term{"U_P", group + ".programme.bands.voltage_v"}, Term{"C", group + ".programme.crest_db"}),
		Watts: def("programme.bands.power_w", "mean power of the band at the largest level of programme", "P_P", quantity.Power, Aperture,
			"P_P = U_P²/R", loudBox, "", Term{"U_P", group + ".programme.bands.voltage_v"}, Term{"R", group + ".bands.resistance_ohm"}),
		Unweighted: def("programme.box_db", "largest level of programme of one box", "L_P", quantity.Level, Aperture,
			"L_P = 10·log10 of the mean of |Σ p|² over the spectrum, + g_P; on the axis at 1 m in half space", iecSignal+"; "+loudBox, "", Term{"g_P", group + ".programme.raise_db"}),
		AWeighted: def("programme.box_dba", "the same, A-weighted", "L_P,A", quantity.Level, Aperture, "as L_P with the A-weighting", weighting, "", Term{"L_P", group + ".programme.box_db"}),
		CWeighted: def("programme.box_dbc", "the same, C-weighted", "L_P,C", quantity.Level, Aperture, "as L_P with the C-weighting", weighting, "", Term{"L_P", group + ".programme.box_db"}),
	}
}

// The largest levels of a stack and at its seats.
var (
	MaximumStack = &Def{Key: "line.maximum.stack_db", Name: "largest level of the stack", Symbol: "L_N", Kind: quantity.Level, Trust: Aperture,
		Formula: "L_N = 20·log10 |Σ p| of all boxes in the far field on the axis, referred to 1 m, raised by g less the highest gain of any box",
		Terms:   with(stackTerms, "", Term{"g", "line.maximum.raise_db"}), Source: sumOfMouths, Domain: noShadow + "; " + linearUp, Style: bareLevel, Note: heardAir}
	MaximumStackBand = &Def{Key: "line.maximum.bands.stack_db", Name: "largest level of one band of the stack by itself", Symbol: "L_N,b", Kind: quantity.Level, Trust: Aperture,
		Formula: "L_N,b = L_b and what the stack adds to one box on its axis", Terms: []Term{{"L_b", "line.maximum.bands.box_db"}},
		Source: sumOfMouths, Domain: noShadow + "; " + linearUp, Style: bareLevel}

	ProgrammeFrequency = &Def{Key: "line.maximum.programme.seats.frequency_hz", Name: "middles of the octaves", Symbol: "f_m", Kind: quantity.Frequency, Trust: Geometry,
		Formula: "1 kHz·10^(0.3k), 16 Hz to 16 kHz", Terms: From("audience.start"), Source: "IEC 61260-1"}
	ProgrammeX = &Def{Key: "line.maximum.programme.seats.x_m", Name: "distance of the seat from the stack", Symbol: "x", Kind: quantity.Length, Trust: Geometry,
		Formula: "as line.audience.x_m", Terms: From("line.audience.x_m"), Source: geometry, Style: InHall}
	ProgrammeZ = &Def{Key: "line.maximum.programme.seats.z_m", Name: "height of the ears", Symbol: "z", Kind: quantity.Length, Trust: Geometry,
		Formula: "as line.audience.z_m", Terms: From("line.audience.z_m"), Source: geometry, Style: InHall}
	ProgrammeLevel = &Def{Key: "line.maximum.programme.seats.level_db", Name: "largest octave level of programme at the seat", Symbol: "L_P,o", Kind: quantity.Level, Trust: Aperture,
		Formula: "L_P,o = 10·log10 of the sum over the third octaves of their share of the power times the mean of |p|², + g_P", Terms: programmeTerms,
		Source: iecSignal + "; " + sumOfMouths, Domain: noShadow + "; " + seats + "; " + linearUp, Style: bareLevel}
	ProgrammeA = &Def{Key: "line.maximum.programme.seats.level_dba", Name: "largest A-weighted level of programme at the seat", Symbol: "L_P,A", Kind: quantity.Level, Trust: Aperture,
		Formula: "L_P,A: sum over the third octaves with the A-weighting at their middles, + g_P", Terms: programmeTerms, Source: weighting + "; " + iecSignal, Domain: noShadow + "; " + seats + "; " + linearUp, Style: bareLevel}
	ProgrammeC = &Def{Key: "line.maximum.programme.seats.level_dbc", Name: "largest C-weighted level of programme at the seat", Symbol: "L_P,C", Kind: quantity.Level, Trust: Aperture,
		Formula: "L_P,C: as L_P,A with the C-weighting, + g_P", Terms: slices.Concat(programmeTerms, []Term{{"L_P,A", "line.maximum.programme.seats.level_dba"}}), Source: "C-weighting of IEC 61672-1; " + iecSignal, Domain: noShadow + "; " + seats + "; " + linearUp, Style: bareLevel}
	ProgrammeTones = &Def{Key: "line.maximum.programme.seats.tones", Name: "tones that stand for each third octave", Symbol: "n_t", Kind: quantity.Number, Trust: Geometry,
		Formula: "doubled until no octave's level moves by more than 0.02 dB at any seat", Terms: seatTerms, Source: ofRun}
	ProgrammeLoudest = &Def{Key: "line.maximum.programme.seats.loudest_seat", Name: "number of the loudest seat, from 0", Symbol: "i", Kind: quantity.Number, Trust: Aperture,
		Formula: "seat of the largest L_P,A", Terms: []Term{{"L_P,A", "line.maximum.programme.seats.level_dba"}}, Source: sumOfMouths, Domain: seats}
	ProgrammeExposure = &Def{Key: "line.maximum.programme.exposure.level_dba", Name: "level at the loudest seat until a driver is harmed", Symbol: "L_E", Kind: quantity.Level, Trust: Aperture,
		Formula: "L_E = L_P,A at the loudest seat + g_H − g_P", Source: sumOfMouths, Domain: seats + "; " + linearUp, Style: bareLevel,
		Terms: []Term{{"L_P,A", "line.maximum.programme.seats.level_dba"}, {"g_H", "line.maximum.programme.harmless_raise_db"}, {"g_P", "line.maximum.programme.raise_db"}}}
	ProgrammePeak = &Def{Key: "line.maximum.programme.exposure.peak_dbc", Name: "C-weighted peak there", Symbol: "L_C,pk", Kind: quantity.Level, Trust: Rule,
		Formula: "L_C,pk = L_P,C at the loudest seat + g_H − g_P + C", Source: "peak of the programme by its crest factor", Domain: seats + "; " + linearUp, Style: bareLevel,
		Terms: []Term{{"L_P,C", "line.maximum.programme.seats.level_dbc"}, {"g_H", "line.maximum.programme.harmless_raise_db"}, {"g_P", "line.maximum.programme.raise_db"}, {"C", "line.maximum.programme.crest_db"}},
		Note:  "The stack may shift the phases of the programme so that its crest is another."}
	ProgrammeDose = &Def{Key: "line.maximum.programme.exposure.doses.time_s", Name: "time until a daily dose is reached", Symbol: "T", Kind: quantity.Time, Trust: Rule,
		Formula: "T = 8 h·2^((L₈ − L_E)/3), L₈ of each dose", Terms: []Term{{"L_E", "line.maximum.programme.exposure.level_dba"}}, Source: niosh + "; " + europeDose,
		Domain: "80 dBA and above", Note: "Guidance for work; local rules decide."}
	ProgrammeDoseLevel = &Def{Key: "line.maximum.programme.exposure.doses.level_dba", Name: "level of a daily dose over 8 h", Symbol: "L₈", Kind: quantity.Level, Trust: Rule,
		Formula: "L₈ as published, beside line.maximum.programme.exposure.level_dba", Terms: From("line.maximum.programme.exposure.level_dba"), Source: niosh + "; " + europeDose, Note: "Local rules decide."}
	ProgrammeDosePeak = &Def{Key: "line.maximum.programme.exposure.doses.peak_dbc", Name: "highest peak of a daily dose", Symbol: "L_pk", Kind: quantity.Level, Trust: Rule,
		Formula: "20·log10 of 112, 140 or 200 Pa over 20 µPa, beside line.maximum.programme.exposure.peak_dbc", Terms: From("line.maximum.programme.exposure.peak_dbc"), Source: europeDose, Note: "Null where the dose has none. Local rules decide."}
	ProgrammeVenue = &Def{Key: "line.maximum.programme.exposure.venue_margin_db", Name: "room to the venue limit", Symbol: "M", Kind: quantity.Level, Trust: Rule,
		Formula: "M = 100 dB − L_E", Terms: []Term{{"L_E", "line.maximum.programme.exposure.level_dba"}}, Source: who, Domain: "LAeq over 15 min at that level", Note: "Negative: over the limit. Local rules decide."}

	programmeTerms = slices.Concat(seatTerms, []Term{{"g_P", "line.maximum.programme.raise_db"}})
)

// maximumStudy lists the largest levels of line and box.
var maximumStudy = slices.Concat(LineMaximum.all(), []*Def{
	MaximumStack, MaximumStackBand, ProgrammeFrequency, ProgrammeX, ProgrammeZ, ProgrammeLevel, ProgrammeA, ProgrammeC, ProgrammeTones, ProgrammeLoudest,
	ProgrammeExposure, ProgrammePeak, ProgrammeDoseLevel, ProgrammeDosePeak, ProgrammeDose, ProgrammeVenue,
}, BoxFull.all())
