package figure

import "gapline/internal/quantity"

// The figures of the air.
var (
	AirSoundSpeed = &Def{
		Key: "air.sound_speed_m_s", Name: "speed of sound", Symbol: "c", Kind: quantity.Speed, Trust: Aperture,
		Formula: "16-term polynomial in temperature, pressure, humidity and CO2 (400 ppm); moist ideal gas outside 0 to 30 °C",
		Hand: []string{
			"t = T − 273.15; °C",
			"p_s = exp(1.2811805e-5·T² − 1.9509874e-2·T + 34.04926034 − 6353.6311/T); pressure of saturated vapour",
			"e = 1.00062 + 3.14e-8·p + 5.6e-7·t²; real air holds a little more",
			"x = h_r·e·p_s/p; share of water vapour",
			"y = 0.0004; share of CO2",
			"a = 331.5024 + 0.603055·t − 0.000528·t²",
			"a_x = 51.471935 + 0.1495874·t − 0.000782·t²",
			"a_p = −1.82e-7 + 3.73e-8·t − 2.93e-10·t²",
			"a_y = −85.20931 − 0.228525·t + 5.91e-5·t²",
			"c = a + a_x·x + a_p·p + a_y·y − 2.835149·x² − 2.15e-13·p² + 29.179762·y² + 0.000486·x·p·y",
			"(outside 0 to 30 °C and 75 to 102 kPa: c of the nearest edge, and what √(γ·R·T/M) changes from there)",
		},
		Terms:  []Term{{"T", "air.temperature"}, {"h_r", "air.humidity"}, {"p", "air.pressure"}},
		Source: "O. Cramer, JASA 93 (1993) 2510-2516, eq. 15",
		Domain: "polynomial: 0 to 30 °C, 75 to 102 kPa; outside it the ideal gas carries on",
	}

	AirDensity = &Def{
		Key: "air.density_kg_m3", Name: "density of air", Symbol: "ρ", Kind: quantity.Density, Trust: Aperture,
		Formula: "p·M/(R·T), M the molar mass of moist air",
		Hand: []string{
			"p_s = exp(1.2378847e-5·T² − 1.9121316e-2·T + 33.93711047 − 6343.1645/T); pressure of saturated vapour",
			"x = h_r·p_s/p; share of water vapour",
			"M = (1 − x)·0.0289647 + x·0.01801528; kg/mol",
			"ρ = p·M/(8.314462618·T)",
		},
		Terms:  []Term{{"T", "air.temperature"}, {"h_r", "air.humidity"}, {"p", "air.pressure"}},
		Source: "ideal gas; vapour pressure of CIPM-2007 (A. Picard et al., Metrologia 45 (2008) 149-155)",
		Domain: "moist air as an ideal gas",
	}
)
