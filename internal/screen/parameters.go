package screen

import "gapline/driver"

// parameter is one of a driver's parameters: its key under [woofer], its name,
// and its value, SI.
type parameter struct {
	key, name string
	of        func(*driver.Parameters) float64
}

// parameters lists the driver's parameters in the order of the screen.
var parameters = []parameter{
	{"fs", "resonance in free air", func(p *driver.Parameters) float64 { return p.Fs }},
	{"qes", "electrical Q at fs", func(p *driver.Parameters) float64 { return p.Qes }},
	{"qms", "mechanical Q at fs", func(p *driver.Parameters) float64 { return p.Qms }},
	{"qts", "total Q at fs", func(p *driver.Parameters) float64 { return p.Qts }},
	{"vas", "volume as stiff as the suspension", func(p *driver.Parameters) float64 { return p.Vas }},
	{"sd", "piston area", func(p *driver.Parameters) float64 { return p.Sd }},
	{"effective_diameter", "piston diameter", func(p *driver.Parameters) float64 { return p.EffectiveDiameter }},
	{"re", "voice-coil resistance", func(p *driver.Parameters) float64 { return p.Re }},
	{"le", "voice-coil inductance", func(p *driver.Parameters) float64 { return p.Le }},
	{"le_exponent", "exponent of the inductance", func(p *driver.Parameters) float64 { return p.LeExponent }},
	{"bl", "force factor", func(p *driver.Parameters) float64 { return p.Bl }},
	{"mms", "moving mass with air load", func(p *driver.Parameters) float64 { return p.Mms }},
	{"cms", "compliance", func(p *driver.Parameters) float64 { return p.Cms }},
	{"rms", "mechanical resistance", func(p *driver.Parameters) float64 { return p.Rms }},
	{"xmax", "excursion limit, one way", func(p *driver.Parameters) float64 { return p.Xmax }},
	{"power", "power rating", func(p *driver.Parameters) float64 { return p.Power }},
}
