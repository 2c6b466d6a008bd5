package figure

import (
	"slices"
	"strings"
)

// Entry describes a term of the trade or of the program, which is no figure and no key by
// itself.
type Entry struct {
	Name    string   // small letters except for names: "half-wave", "crossover gap"
	Also    []string // other spellings and words for the same
	Text    string   // one to three sentences
	Formula string   // empty where there is none
	Symbol  string   // of what the formula gives
	Unit    string   // that it is printed in; empty: none
	Keys    []string // figures, keys of the design file and spoken words that it belongs to
	Source  string   // of a physical statement; empty for a word of the program or a plain definition
}

// Sources of the glossary alone.
const (
	smallOnly = "R. H. Small, JAES 20 (1972) 383-395"
	beranek   = "L. L. Beranek, Acoustics, 1954, chapter on directivity (from memory)"
)

// glossary lists the terms in groups, each from the ground up.
var glossary = slices.Concat(glossaryOfWaves, glossaryOfStacks, glossaryOfInserts, glossaryOfHorns, glossaryOfLevels, glossaryOfBoxes, glossaryOfProgram)

var glossaryOfWaves = []*Entry{
	{Name: "wavelength", Text: "The way that sound goes in one period. What is short against it acts as a point; what is long against it has a direction.",
		Formula: "c/f", Symbol: "λ", Unit: "m", Keys: []string{"air.sound_speed_m_s", "coupling.lower_hz"}, Source: "definition"},
	{Name: "octave", Also: []string{"oct"}, Text: "A ratio of two in frequency. Distances between two frequencies are told in octaves: 1 oct is twice the frequency, 0.5 oct 1.41 times.",
		Formula: "log2(f₂/f₁)", Symbol: "g", Unit: "oct", Keys: []string{"gap.open_oct", "gap.insert_oct", "targets.gap"}, Source: "definition"},
	{Name: "half-wave", Also: []string{"half-wave rule"}, Text: "The rule that neighbouring sources act as one as long as their centres are no farther apart than half a wavelength. It keeps the whole pattern clean, splayed or not; the first true lobe of a straight line comes an octave higher.",
		Formula: "c/(2·s)", Symbol: "f_½", Unit: "Hz", Keys: []string{"coupling.open.half_wave_hz", "coupling.insert.half_wave_hz", "targets.coupling"}, Source: practice},
	{Name: "near field", Text: "Where a line falls by about 3 dB for each doubling of distance instead of 6 dB. It reaches farther with the square of the length and with frequency, and ends gradually.",
		Formula: "L²/(2·λ)", Symbol: "d", Unit: "m", Keys: []string{"line.near_field_1khz_m", "line.distance.slope_db_per_doubling"}, Source: "M. S. Ureda, JAES 52 (2004) 467-495 (from memory)"},
	{Name: "far field", Text: "Where the pattern no longer changes with distance and the level falls by 6 dB for each doubling of it. Beamwidths and lobes are counted there.",
		Keys: []string{"line.polar.distance_m", "line.distance.laws_cross_m"}, Source: kinsler},
	{Name: "directivity factor", Also: []string{"directivity", "directivity index"}, Text: "Intensity on the axis over that of a source which sends the same power alike in all directions. The directivity index is ten times its logarithm, in dB.",
		Formula: "4π·|p_axis|²/∮|p|²dΩ", Symbol: "Q", Keys: []string{"coupling.open.efficiency", "coupling.insert.efficiency", "line.coupling.variants.directivity_index_db"}, Source: beranek},
	{Name: "beamwidth", Text: "Full angle between the two directions beside the main beam at which the level is 6 dB below the axis or the peak.",
		Formula: "φ_upper − φ_lower", Symbol: "θ", Unit: "°", Keys: []string{"line.polar.beamwidth_deg", "horn.horizontal_deg", "wave.beamwidth_deg", "woofers.horizontal_width_deg"}, Source: "definition"},
	{Name: "main beam", Text: "The part of a pattern round its loudest direction, to the first dip on either side. What rises again beyond the dips is a lobe.",
		Keys: []string{"line.polar.aim_deg", "line.polar.peak_db", "line.polar.upper_deg", "line.polar.lower_deg"}, Source: "definition"},
	{Name: "lobe", Also: []string{"grating lobe", "side lobe"}, Text: "A second direction in which a line is loud, because neighbours arrive there a whole wavelength apart and add again. It costs level in front and reaches people or walls that the line should not.",
		Formula: "sin θ_m = m·λ/p", Symbol: "θ_m", Unit: "°", Keys: []string{"coupling.open.lobe_hz", "coupling.open.first_lobe_db", "coupling.insert.residual_lobe_db", "line.polar.highest_lobe_db", "targets.lobe_level"}, Source: olson},
	{Name: "lobe criterion", Text: "The frequency up to which no lobe of an endless line of such boxes exceeds an allowed level. It counts the size of the mouths and the distances inside a box, where the half-wave rule knows only the largest distance of centres.",
		Keys: []string{"coupling.open.lobe_hz", "coupling.insert.lobe_hz", "coupling.mid.lobe_hz", "targets.lobe_level", "targets.coupling"}, Source: olson},
	{Name: "ripple", Text: "How far a curve swings up and down about its trend. Printed for the throat resistance of a horn, where it is the mouth's reflection; a line's near field has one too, of about ±2.5 dB.",
		Formula: "10·log10(R_max/R_min)", Symbol: "r", Unit: "dB", Keys: []string{"horn.ripple_db"}, Source: "definition"},
	{Name: "cross mode", Text: "Sound that runs across a guide instead of along it. It begins where half a wavelength fits across; from there the front is no longer even.",
		Formula: "c/(2·t)", Symbol: "f_t", Unit: "Hz", Keys: []string{"fold.cross_mode_hz", "wave.turns.cross_mode_hz", "fold.layer"}, Source: kinsler},
}

var glossaryOfStacks = []*Entry{
	{Name: "line array", Also: []string{"line source"}, Text: "Boxes hung one below the other so closely that, in a band of frequencies, they act as one tall source: narrow up and down, wide to the sides.",
		Keys: []string{"line.boxes", "coupling.lower_hz", "coupling.length_m"}, Source: heil},
	{Name: "pitch", Text: "Distance from one box of the stack to the next, middle to middle: the height of the cabinet and the gap between cabinets.",
		Formula: "cabinet.height + cabinet.gap", Symbol: "p", Unit: "mm", Keys: []string{"coupling.pitch_m", "cabinet.pitch", "cabinet.height", "cabinet.gap"}, Source: geometry},
	{Name: "spacing", Text: "Distance between neighbouring acoustic centres. The largest one anywhere in the stack, inside a box or across its edge, decides how far the line couples.",
		Formula: "max(d, p − (n − 1)·d) for n mouths d apart in each box", Symbol: "s", Unit: "mm", Keys: []string{"coupling.open.spacing_m", "coupling.insert.spacing_m", "insert.spacing"}, Source: geometry},
	{Name: "coupling", Text: "Neighbouring sources act as one: they arrive together within a fraction of a wavelength, and the line has one beam and no lobes. It starts where a wavelength is the line's length and ends where the spacing grows too long.",
		Formula: "c/(N·p) to c/(2·s)", Symbol: "f", Unit: "Hz", Keys: []string{"coupling.lower_hz", "coupling.open.half_wave_hz", "coupling.open.lobe_hz", "targets.coupling", "coupling.measured_hz"}, Source: practice},
	{Name: "radiating share", Also: []string{"active radiating factor"}, Text: "How much of the line's height radiates. From about 0.8 the lobes of a line of strips stay about 12 dB down; round cones need more.",
		Formula: "h/p", Symbol: "h/p", Keys: []string{"coupling.open.share", "coupling.insert.share", "horn.share"}, Source: heil},
	{Name: "ribbon", Text: "A source as one tall, narrow, even strip. A line of horns behaves as one where their mouths nearly touch and each front is flat; the figure is how far up that holds.",
		Keys: []string{"horn.flat_lobe_hz", "horn.share", "horn.flat_to_hz"}, Source: heil},
	{Name: "splay", Text: "Angle between two neighbouring boxes. It bends the stack so that its lower boxes look at nearer seats, and spreads its sound over more of them.",
		Formula: "Σα from the first box to the last", Symbol: "Σα", Unit: "°", Keys: []string{"line.splay", "line.splay_steps", "line.splay_total_deg"}, Source: geometry},
	{Name: "tilt", Text: "Angle of the top box against the horizontal, positive upward; all others follow from it and the splay.",
		Symbol: "β", Unit: "°", Keys: []string{"line.tilt", "line.tilt_range", "line.stack.tilt_deg"}},
	{Name: "hinge", Text: "The line about which neighbouring boxes turn when they are splayed. At the front the mouths stay together; at the rear they part in front.",
		Keys: []string{"line.hinge", "cabinet.rear_height"}, Source: geometry},
	{Name: "shading", Text: "Less drive for some boxes than for others, so that a front row is not louder than need be. It costs output that the boxes have.",
		Symbol: "g_i", Unit: "dB", Keys: []string{"line.shading", "line.gain_steps", "line.stack.shading_db"}},
	{Name: "spread", Text: "How unlike the seats are: the level at the loudest of them over that at the quietest.",
		Unit: "dB", Keys: []string{"line.audience.spread_db", "line.aim.best.spread_db"}},
}

var glossaryOfInserts = []*Entry{
	{Name: "insert", Also: []string{"plate"}, Text: "A plate close in front of the cones that leaves several mouths. It puts more centres on the line, so that it couples higher; its chamber, its added mass and its air speed are the price.",
		Keys: []string{"insert.mouths", "insert.spacing", "insert.chamber_volume", "coupling.insert.half_wave_hz", "gap.insert_oct"}, Source: olson},
	{Name: "mouth", Text: "The opening through which a part of the box radiates into the open: of the insert, of the horn. Its height along the line and its width to the sides shape the pattern.",
		Formula: "sin(x)/x, x = (k·h/2)·sin θ, is the pattern of a height h", Symbol: "h", Unit: "mm", Keys: []string{"insert.mouth_height", "insert.mouth_width", "horn.mouth_height", "horn.mouth_width"}, Source: kinsler},
	{Name: "chamber", Also: []string{"front chamber"}, Text: "The air between cones and plate, a spring on which the air in the mouths swings as a mass. Above its corner the output falls by 12 dB an octave, with a peak near it.",
		Formula: "(c/2π)·√(n·S/(V·l)), l the slot's depth and two end corrections", Symbol: "f_ch", Unit: "Hz", Keys: []string{"coupling.insert.chamber_hz", "coupling.insert.chamber_coupled_hz", "insert.chamber_volume", "box.insert.chamber_q"}, Source: "Helmholtz resonator; Rayleigh, Theory of Sound, vol. 2, §302"},
	{Name: "end correction", Text: "Air just outside an opening that swings with the air in it, counted as more length. An opening in a wall has one on each side, of a circle of radius r about 0.85·r.",
		Formula: "8·r/(3π)", Symbol: "Δl", Unit: "mm", Keys: []string{"coupling.insert.chamber_hz", "enclosure.vent_inner", "enclosure.vent_outer", "box.enclosure.vent_length_m"}, Source: "Rayleigh, Theory of Sound, vol. 2, §302"},
	{Name: "area ratio", Also: []string{"compression ratio"}, Text: "Area of the cones over that of the mouths. The air in the mouths is as many times faster than the cones.",
		Formula: "S_c/S_m", Symbol: "S_c/S_m", Keys: []string{"coupling.insert.area_ratio", "box.mouth_speed_m_s"}, Source: "volume flow is conserved in a chamber small against the wavelength"},
	{Name: "path spread", Text: "How unlike the ways are that sound has from its source to one mouth. A quarter of a wavelength is the rule's limit.",
		Formula: "Δ = l_max − l_min", Symbol: "Δ", Unit: "mm", Keys: []string{"coupling.insert.path_spread_m", "coupling.insert.in_phase_hz", "fold.path_spread_m"}, Source: practice},
}

var glossaryOfHorns = []*Entry{
	{Name: "throat", Text: "The narrow end of the horn, where the compression driver's sound enters.",
		Symbol: "d", Unit: "mm", Keys: []string{"horn.throat", "horn.throat_resistance", "fold.throat_to_wall"}},
	{Name: "compression driver", Text: "A small stiff diaphragm that works through a narrow throat into a horn. Its data sheet says how low it may be crossed over.",
		Keys: []string{"horn.lowest", "compression_driver.sd", "horn.driver_lowest_hz"}},
	{Name: "coverage", Text: "Angle to the sides that the horn is made for, both sides together. At its edges the level is to be 6 dB below the axis.",
		Symbol: "θ", Unit: "°", Keys: []string{"horn.coverage", "horn.exit_coverage_deg", "woofers.covers_to_hz"}},
	{Name: "pattern control", Text: "From this frequency up the horn's beam is no wider than its coverage; below it the mouth is too narrow for the wavelength and the sound spreads.",
		Formula: "10⁶/(W·θ), W in inches, θ in degrees", Symbol: "f_W", Unit: "Hz", Keys: []string{"horn.pattern_rule_hz", "horn.pattern_computed_hz", "horn.pattern_wave_hz", "horn.pattern_measured_hz"}, Source: keele},
	{Name: "midrange narrowing", Text: "Just above the frequency of pattern control the beam of a mouth with a curved front gets narrower than the coverage, before it widens to it again.",
		Unit: "°", Keys: []string{"horn.narrowest_deg", "horn.narrowest_hz"}, Source: "aperture integral with a circular phase front"},
	{Name: "flare cutoff", Text: "Frequency below which an endless horn of that growth takes no power from its driver. A horn is used from about 1.2 times it upward.",
		Formula: "m·c/(4π), area growing as e^{m·x}", Symbol: "f_c", Unit: "Hz", Keys: []string{"horn.cutoff_hz", "horn.flare_limit_hz", "horn.profile"}, Source: "A. G. Webster, Proc. Nat. Acad. Sci. 5 (1919) 275; the factor 1.2: " + practice},
	{Name: "flares", Also: []string{"side flares"}, Text: "Side walls in front of the horn's mouth that widen its exit to the sides only, so that it holds its pattern lower and the front up and down stays as it is.",
		Keys: []string{"horn.flare_length", "horn.flare_angle", "horn.flare_splitters", "horn.exit_width_m"}},
	{Name: "sagitta", Also: []string{"bulge"}, Text: "How far the middle of a curved front is ahead of its edges at the mouth. A quarter of a wavelength of it is the rule's limit for a front that counts as flat.",
		Formula: "√(L² + (h/2)²) − L, about h²/(8·L)", Symbol: "sagitta", Unit: "mm", Keys: []string{"horn.sagitta_m", "horn.flat_to_hz", "horn.path_m", "horn.mouth_height"}, Source: "plane geometry; the quarter wave: " + heil},
	{Name: "folded horn", Also: []string{"folding"}, Text: "A horn whose way goes back to a wall and forward again in a second layer. It makes the front as flat as a far longer straight horn would, in the depth of a cabinet.",
		Formula: "r = 2·a/(1 + cos φ), the parabola of a flat front", Symbol: "r", Unit: "mm", Keys: []string{"fold.depth_m", "fold.depth_saved_m", "fold.throat_to_wall", "fold.virtual_path", "fold.wall"}, Source: "focal property of conic sections"},
	{Name: "fan", Also: []string{"fan angle"}, Text: "Angle between the outermost rays that leave the throat of a folded horn towards the edges of its mouth. A flat front comes from a parabola, where it follows from the mouth's height and the distance from throat to wall.",
		Formula: "2·φ_max, h/2 = 2·a·tan(φ_max/2)", Symbol: "2φ_max", Unit: "°", Keys: []string{"fold.fan_deg", "fold.widest_fan", "fold.throat_to_wall"}, Source: "polar equation of the parabola"},
	{Name: "taper", Text: "How much weaker the edges of a mouth radiate than its middle. A fold has it because rays that leave the throat sideways arrive farther apart.",
		Formula: "10·log10(I_min/I_max), I ∝ 1 + cos φ for a parabola", Symbol: "A", Unit: "dB", Keys: []string{"fold.taper_db"}, Source: "ray density"},
	{Name: "loading", Text: "How much a horn resists its driver, and so how much power it takes from it: the throat resistance against that of a tube without end.",
		Symbol: "R", Keys: []string{"horn.throat_resistance", "horn.half_loaded_hz", "horn.efficiency", "horn.ripple_db"}, Source: "A. G. Webster, Proc. Nat. Acad. Sci. 5 (1919) 275"},
}

var glossaryOfLevels = []*Entry{
	{Name: "crossover", Also: []string{"crossover frequency"}, Text: "Where one band hands over to the next, and the filters that do it. It belongs where both bands still do their work.",
		Formula: "√(f_couple·f_horn) inside an overlap", Symbol: "f_x", Unit: "Hz", Keys: []string{"crossover.frequency", "crossover.order", "crossover.alignment", "gap.crossover_hz"}, Source: practice},
	{Name: "crossover gap", Also: []string{"gap to the horn", "overlap"}, Text: "Distance from the highest frequency up to which the woofers couple to the lowest at which the horn holds its pattern. Positive, it is open: in between neither does its work. Negative, it is an overlap, and the crossover belongs inside it.",
		Formula: "log2(f_horn/f_couple)", Symbol: "g", Unit: "oct", Keys: []string{"gap.open_oct", "gap.insert_oct", "gap.low_hz", "gap.high_hz", "gap.verdict", "targets.gap"}, Source: "definition"},
	{Name: "dB", Also: []string{"decibel", "level"}, Text: "Twenty times the logarithm of a ratio of pressures: 6 dB is twice the pressure, 20 dB ten times. Levels in air are against 20 µPa.",
		Formula: "20·log10(p/p₀)", Symbol: "L", Unit: "dB", Keys: []string{"box.spl_db", "box.max_spl_db"}, Source: "definition"},
	{Name: "dBA", Also: []string{"A-weighting", "A-weighted"}, Text: "Level of the whole sound with low and very high frequencies counted less, about as the ear does at low levels. Limits for the hearing are stated in it; dBC counts the bass nearly in full.",
		Unit: "dB", Keys: []string{"line.audience.level_dba", "line.maximum.programme.box_dba", "line.maximum.programme.box_dbc", "audience.back_level"}, Source: weighting},
	{Name: "programme", Text: "Noise with the spectrum and the peaks that music may have, as against a single tone. How loud a box or stack can play is worked out for it.",
		Keys: []string{"line.maximum.programme.raise_db", "line.maximum.programme.box_db", "box.full_range.programme.box_db", "line.maximum.programme.crest_db"}, Source: "IEC 60268-1:1985, clause 7"},
	{Name: "crest factor", Also: []string{"crest"}, Text: "How far the peaks of a signal rise above its effective value. A sine has 3 dB, test noise 6 dB, music 12 dB and more.",
		Formula: "20·log10(x_peak/x_rms)", Symbol: "C", Unit: "dB", Keys: []string{"line.maximum.programme.crest_db", "box.full_range.programme.crest_db"}, Source: "definition; noise: IEC 60268-5 (from memory); music: " + practice},
	{Name: "exposure", Also: []string{"dose"}, Text: "How loud and for how long: at 85 dBA the daily dose is full after 8 hours, and in half the time for every 3 dB more. Local rules decide.",
		Formula: "8 h·2^((85 dB − L)/3 dB)", Symbol: "T", Unit: "h", Keys: []string{"line.maximum.programme.exposure.level_dba", "line.maximum.programme.exposure.doses.time_s", "line.audience.exposure.venue_margin_db"}, Source: "NIOSH publication 98-126, 1998"},
}

var glossaryOfBoxes = []*Entry{
	{Name: "Thiele-Small", Also: []string{"Thiele-Small parameters", "small-signal parameters"}, Text: "The few numbers that describe a driver at low frequencies and small signals: its resonance, its losses, its suspension and its area. From them and the box follow response, excursion and impedance.",
		Keys: []string{"woofer.fs", "woofer.qes", "woofer.qms", "woofer.vas", "woofer.sd", "woofer.re"}, Source: "A. N. Thiele, JAES 19 (1971) 382-392; " + smallOnly},
	{Name: "resonance", Text: "Frequency at which moving mass and spring of a driver swing by themselves. A closed box stiffens the spring and raises it.",
		Formula: "1/(2π·√(M_ms·C_ms))", Symbol: "f_s", Unit: "Hz", Keys: []string{"woofer.fs", "box.driver.fs_hz", "box.fc_hz"}, Source: smallOnly},
	{Name: "Q", Also: []string{"quality factor", "Qts"}, Text: "How little a resonance is damped: of a driver electrically by its motor, mechanically by its suspension, and both together. A closed box with 0.707 in all falls off without a peak.",
		Formula: "1/Q_ts = 1/Q_es + 1/Q_ms", Symbol: "Q_ts", Keys: []string{"woofer.qes", "woofer.qms", "woofer.qts", "box.qtc", "box.driver.qts"}, Source: smallOnly},
	{Name: "Vas", Text: "The volume of air that is as stiff, behind the cone, as its suspension. A box much larger leaves the driver alone; one much smaller decides for it.",
		Formula: "ρ·c²·S_d²·C_ms", Symbol: "V_as", Unit: "L", Keys: []string{"woofer.vas", "box.driver.vas_m3", "box.enclosure.compliance_ratio"}, Source: smallOnly},
	{Name: "excursion", Also: []string{"displacement"}, Text: "How far the cone moves from its rest. For the same level it grows fourfold for each octave lower.",
		Formula: "√2·|U|/(ω·S_d)", Symbol: "x", Unit: "mm", Keys: []string{"box.excursion_m", "horn.excursion_m", "box.max_spl_excursion_db"}, Source: smallOnly},
	{Name: "xmax", Text: "The largest excursion, one way, that the driver is good for. It limits the level at low frequencies, power above them.",
		Symbol: "x_max", Unit: "mm", Keys: []string{"woofer.xmax", "box.driver.xmax_m", "compression_driver.xmax"}, Source: smallOnly},
	{Name: "swept volume", Text: "The air that all cones of a box move at xmax, one way. Where excursion limits the level, nothing else sets it.",
		Formula: "n·S_d·x_max", Symbol: "V_d", Unit: "cm³", Keys: []string{"box.swept_volume_m3", "woofer.per_box", "woofer.sd", "woofer.xmax"}, Source: smallOnly},
	{Name: "closed box", Also: []string{"sealed box"}, Text: "A box without an opening. Its air is a spring beside that of the suspension; below the resonance the output falls by 12 dB an octave.",
		Formula: "f_s·√(1 + V_as/V_b)", Symbol: "f_c", Unit: "Hz", Keys: []string{"enclosure.kind", "enclosure.volume", "box.fc_hz", "box.qtc"}, Source: smallOnly},
	{Name: "vent", Also: []string{"port", "vented box"}, Text: "An opening with a length of air that swings against the air of the box. Near the tuning it radiates in place of the cone; air too fast in it is heard.",
		Formula: "U_v/S_v, U_v the flow of air", Symbol: "v", Unit: "m/s", Keys: []string{"enclosure.vents", "enclosure.vent_area", "enclosure.vent_length", "box.vent_speed_m_s"}, Source: smallOnly},
	{Name: "passive radiator", Text: "A cone without a motor in place of a vent: its mass swings against the air of the box, without the noise of air, and with an excursion of its own that has a limit.",
		Keys: []string{"enclosure.radiators", "enclosure.radiator_mms", "enclosure.radiator_xmax", "box.radiator_excursion_m"}, Source: smallOnly},
	{Name: "tuning", Text: "Frequency at which vent or passive radiator and the air of the box swing. There the cone hardly moves.",
		Formula: "(c/2π)·√(S_v/(V_b·l_v)), l_v with its end corrections", Symbol: "f_b", Unit: "Hz", Keys: []string{"enclosure.tuning", "box.enclosure.tuning_hz", "box.suggestions.tuning_hz"}, Source: "Helmholtz resonator; " + smallOnly},
	{Name: "f3", Also: []string{"low end", "half power"}, Text: "Frequency at which the level of a box has fallen to half the power of its passband.",
		Symbol: "f₃", Unit: "Hz", Keys: []string{"box.f3_hz", "box.f6_hz", "box.f10_hz"}, Source: smallOnly},
	{Name: "maximum level", Text: "The level of a box at 1 m at the voltage at which excursion or power reaches its limit, whichever comes first. Heat raises the coil's resistance in practice, which is not counted.",
		Symbol: "L_max", Unit: "dB", Keys: []string{"box.max_spl_db", "box.max_spl_at_hz", "targets.level", "targets.level_at"}, Source: smallOnly},
}

var glossaryOfProgram = []*Entry{
	{Name: "trust", Also: []string{"level of trust"}, Text: "How far a figure can be believed: rule, aperture, wave, measured, in this order; geometry is as true as the file. A higher level never replaces a lower one without a word: they stand side by side.",
		Keys: []string{"targets.trust", "gap.by_trust.rule.oct", "gap.by_trust.aperture.oct", "gap.by_trust.wave.oct", "gap.by_trust.measured.oct"}},
	{Name: "rule", Text: "The lowest level of trust: the trade's one-line estimate, instant, with a known bias.",
		Keys: []string{"gap.by_trust.rule.oct", "coupling.open.half_wave_hz", "horn.pattern_rule_hz"}},
	{Name: "aperture", Text: "An opening that radiates, and the level of trust that is named after it: closed forms and integrals over mouths in a rigid wall or in the open.",
		Keys: []string{"gap.by_trust.aperture.oct", "coupling.open.lobe_hz", "horn.pattern_computed_hz"}},
	{Name: "wave", Also: []string{"boundary elements"}, Text: "The level of trust of a numerical solution of the wave equation on the geometry that the file gives. It comes from a stored run of gapline wave and stays with the design that it was run for.",
		Keys: []string{"gap.by_trust.wave.oct", "horn.pattern_wave_hz", "coupling.lobe_wave_hz", "gap.by_trust.wave.run_sha256"}},
	{Name: "measured", Text: "The highest level of trust: from traces that were taken on the design as it stands and are named in its file. All else that the program prints is predicted.",
		Keys: []string{"measured.stack", "measured.axis", "gap.by_trust.measured.oct", "coupling.measured_hz"}},
	{Name: "divided", Text: "A verdict: one deciding level of trust closes the gap and another leaves it open. The design is not safe until a higher level decides.",
		Keys: []string{"gap.verdict", "targets.trust", "findings.severity"}},
	{Name: "misfit", Text: "Stated parts that cannot be built together, because they need more room than there is. It comes before all other verdicts, with the values that would mend it.",
		Keys: []string{"misfits.text", "misfits.fits", "gap.verdict"}},
	{Name: "lever", Text: "A change that would close the gap, applied with its links, laid out and sized again before it is printed, with what it leaves and what it costs.",
		Keys: []string{"levers.text", "levers.set", "levers.gap_oct.rule"}},
	{Name: "follow", Also: []string{"link"}, Text: "A line under [follow] in the design file: one key is a factor times another and an offset, and moves with it whatever changes that one. --unlink sets all links aside.",
		Formula: "key = factor·of + offset", Keys: []string{"insert.spacing", "horn.mouth_width", "cabinet.pitch"}, Source: geometry},
	{Name: "targets", Text: "What the design has to reach, under [targets] in its file: the widest gap, the highest lobe, how low, how flat, how loud. Every target is judged met, missed or unknown.",
		Keys: []string{"targets.gap", "targets.lobe_level", "targets.lowest", "targets.flat_to", "targets.level", "findings.severity"}},
	{Name: "sweep", Text: "The design sized again for each of many values of one key, or of two, so that a curve or a map shows how a figure follows them.",
		Keys: []string{"sweep.vary.values"}},
	{Name: "tolerance", Text: "How far a built box may be off the file, under [tolerance]: evenly within plus or minus a value, or normal with a sigma. Many designs drawn within it tell how far each figure may move.",
		Keys: []string{"tolerance.figures.p05", "tolerance.figures.median", "tolerance.figures.p95", "tolerance.effects.moves_oct", "tolerance.targets.chance"}},
	{Name: "search", Text: "Designs drawn within the ranges under [search] in the file, sorted out by what fits and by the limits, and the best of them by the goals, improved step by step.",
		Keys: []string{"search.designs", "search.feasible", "search.best.values", "search.best.goals"}},
	{Name: "trace", Text: "A measured curve of level against frequency, read from a text file, beside which the prediction is laid.",
		Keys: []string{"trace.traces.level_db", "trace.traces.difference_db", "measured.smoothing"}},
}

// FindEntry returns the term with the given name, or another spelling of it; nil when there
// is none. Case is ignored, and so is whether words are joined by blanks or hyphens.
func FindEntry(name string) *Entry {
	name = plainTerm(name)
	for _, e := range glossary {
		for _, spelling := range e.Spellings() {
			if plainTerm(spelling) == name {
				return e
			}
		}
	}
	return nil
}

// plainTerm is a term in small letters with one blank between its words.
func plainTerm(name string) string {
	return strings.Join(strings.FieldsFunc(strings.ToLower(name), func(r rune) bool { return r == ' ' || r == '-' || r == '_' }), " ")
}

// Spellings lists the term and the other words for it.
func (e *Entry) Spellings() []string { return append([]string{e.Name}, e.Also...) }

// Glossary lists the terms in order.
func Glossary() []*Entry { return slices.Clone(glossary) }
