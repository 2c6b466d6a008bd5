package figure

import "gapline/internal/quantity"

// The figures of the air.
var (
	AirSoundSpeed = &Def{
		Key: "air.sound_speed_m_s", Name: "speed of sound", Symbol: "c", Kind: quantity.Speed, Trust: Aperture,
		Formula: "16-term polynomial in temperature, pressure, humidity and CO2 (400 ppm); moist ideal gas outside 0 to 30 °C",
		Terms:   From("air.temperature", "air.humidity", "air.pressure"),
		Source:  "O. Cramer, JASA 93 (1993) 2510-2516, eq. 15",
		Domain:  "polynomial: 0 to 30 °C, 75 to 102 kPa; outside it the ideal gas carries on",
	}

	AirDensity = &Def{
		Key: "air.density_kg_m3", Name: "density of air", Symbol: "ρ", Kind: quantity.Density, Trust: Aperture,
		Formula: "p·M/(R·T), M the molar mass of moist air",
		Terms:   []Term{{"T", "air.temperature"}, {"", "air.humidity"}, {"p", "air.pressure"}},
		Source:  "ideal gas; vapour pressure of CIPM-2007 (A. Picard et al., Metrologia 45 (2008) 149-155)",
		Domain:  "moist air as an ideal gas",
	}
)
