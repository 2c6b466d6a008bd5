package quantity

import (
	"math"
	"slices"
	"strings"
)

// Kind is what a value measures. It fixes the SI unit and which unit names
// are accepted.
type Kind int

// The kinds, each with the SI unit that values of it are held in.
const (
	Number      Kind = iota // dimensionless, no unit
	Length                  // m
	Area                    // m²
	Volume                  // m³
	Frequency               // Hz
	Angle                   // rad
	Time                    // s
	Temperature             // K
	Fraction                // 1, written in %
	Pressure                // Pa
	Resistance              // Ω
	Inductance              // H
	ForceFactor             // T·m
	Mass                    // kg
	Compliance              // m/N
	MechLoss                // kg/s
	Power                   // W
	Voltage                 // V
	Level                   // dB
	Octaves                 // oct
	Speed                   // m/s
	Density                 // kg/m³
	kindCount
)

// unit is one accepted unit: SI value = number·scale + offset. The first name
// is the one printed and listed in messages.
type unit struct {
	names  []string
	scale  float64
	offset float64
}

// Units in SI. (Inch alone is the system of units.)
const (
	OneInch = 0.0254        // m, by definition
	Foot    = 0.3048        // m, by definition
	Litre   = 1e-3          // m³
	Degree  = math.Pi / 180 // rad
)

type kindInfo struct {
	name  string
	units []unit // the first is the one used by Canonical
}

var kinds = [kindCount]kindInfo{
	Number: {name: "number"},
	Length: {"length", []unit{
		{names: []string{"mm", "millimetre", "millimeter"}, scale: 1e-3},
		{names: []string{"cm"}, scale: 1e-2},
		{names: []string{"m", "metre", "meter"}, scale: 1},
		{names: []string{"in", "″", `"`, "inch", "inches"}, scale: OneInch},
		{names: []string{"ft", "′", "'", "foot", "feet"}, scale: Foot},
	}},
	Area: {"area", []unit{
		{names: []string{"cm2", "cm²", "cm^2"}, scale: 1e-4},
		{names: []string{"mm2", "mm²", "mm^2"}, scale: 1e-6},
		{names: []string{"m2", "m²", "m^2"}, scale: 1},
		{names: []string{"in2", "in²", "in^2"}, scale: OneInch * OneInch},
	}},
	Volume: {"volume", []unit{
		{names: []string{"L", "l", "ℓ", "litre", "liter", "dm3", "dm³"}, scale: Litre},
		{names: []string{"cm3", "cm³", "cm^3", "ml", "mL"}, scale: 1e-6},
		{names: []string{"m3", "m³", "m^3"}, scale: 1},
		{names: []string{"ft3", "ft³", "ft^3"}, scale: Foot * Foot * Foot},
		{names: []string{"in3", "in³", "in^3"}, scale: OneInch * OneInch * OneInch},
	}},
	Frequency: {"frequency", []unit{
		{names: []string{"Hz"}, scale: 1},
		{names: []string{"kHz"}, scale: 1e3},
	}},
	Angle: {"angle", []unit{
		{names: []string{"deg", "°", "degree", "degrees"}, scale: Degree},
		{names: []string{"rad"}, scale: 1},
	}},
	Time: {"time", []unit{
		{names: []string{"ms"}, scale: 1e-3},
		{names: []string{"us", "µs", "μs"}, scale: 1e-6},
		{names: []string{"s"}, scale: 1},
	}},
	Temperature: {"temperature", []unit{
		{names: []string{"degC", "°C", "C", "℃"}, scale: 1, offset: 273.15},
		{names: []string{"degF", "°F", "F", "℉"}, scale: 5.0 / 9, offset: 273.15 - 32*5.0/9},
		{names: []string{"K"}, scale: 1},
	}},
	Fraction: {"share in per cent", []unit{
		{names: []string{"%", "percent"}, scale: 1e-2},
	}},
	Pressure: {"pressure", []unit{
		{names: []string{"kPa"}, scale: 1e3},
		{names: []string{"hPa", "mbar"}, scale: 1e2},
		{names: []string{"Pa"}, scale: 1},
	}},
	Resistance: {"resistance", []unit{
		{names: []string{"ohm", "Ω", "\u2126", "ohms"}, scale: 1},
	}},
	Inductance: {"inductance", []unit{
		{names: []string{"mH"}, scale: 1e-3},
		{names: []string{"uH", "µH", "μH"}, scale: 1e-6},
		{names: []string{"H"}, scale: 1},
	}},
	ForceFactor: {"force factor", []unit{
		{names: []string{"Tm", "T m", "T·m", "N/A"}, scale: 1},
	}},
	Mass: {"mass", []unit{
		{names: []string{"g"}, scale: 1e-3},
		{names: []string{"kg"}, scale: 1},
	}},
	Compliance: {"compliance", []unit{
		{names: []string{"mm/N"}, scale: 1e-3},
		{names: []string{"um/N", "µm/N", "μm/N"}, scale: 1e-6},
		{names: []string{"m/N"}, scale: 1},
	}},
	MechLoss: {"mechanical resistance", []unit{
		{names: []string{"kg/s", "N s/m", "N·s/m", "Ns/m"}, scale: 1},
	}},
	Power: {"power", []unit{
		{names: []string{"W"}, scale: 1},
		{names: []string{"kW"}, scale: 1e3},
	}},
	Voltage: {"voltage", []unit{
		{names: []string{"V"}, scale: 1},
	}},
	Level: {"level", []unit{
		{names: []string{"dB"}, scale: 1},
	}},
	Octaves: {"interval", []unit{
		{names: []string{"oct", "octave", "octaves"}, scale: 1},
	}},
	Speed: {"speed", []unit{
		{names: []string{"m/s"}, scale: 1},
		{names: []string{"ft/s"}, scale: Foot},
	}},
	Density: {"density", []unit{
		{names: []string{"kg/m3", "kg/m³"}, scale: 1},
	}},
}

// String returns the kind's name, such as "length".
func (k Kind) String() string { return kinds[k].name }

// Article returns the kind's name with its article: "a length", "an angle".
func (k Kind) Article() string {
	if strings.ContainsRune("aeiou", rune(kinds[k].name[0])) {
		return "an " + kinds[k].name
	}
	return "a " + kinds[k].name
}

// UnitNames lists the accepted units of k by their chief names, for messages:
// "mm, cm, m, in, ft".
func (k Kind) UnitNames() string {
	names := make([]string, len(kinds[k].units))
	for i, u := range kinds[k].units {
		names[i] = u.names[0]
	}
	return strings.Join(names, ", ")
}

// lookUp finds a unit of kind k by name, first to the letter, then without
// regard to case.
func (k Kind) lookUp(name string) (unit, bool) {
	for _, u := range kinds[k].units {
		if slices.Contains(u.names, name) {
			return u, true
		}
	}
	for _, u := range kinds[k].units {
		for _, n := range u.names {
			if strings.EqualFold(n, name) {
				return u, true
			}
		}
	}
	return unit{}, false
}

// kindOfUnit returns the first kind that knows a unit, to say what was given
// where something else was needed.
func kindOfUnit(name string) (Kind, bool) {
	for k := Length; k < kindCount; k++ {
		for _, u := range kinds[k].units {
			if slices.Contains(u.names, name) {
				return k, true
			}
		}
	}
	return Number, false
}

// In converts a value from SI into the named unit of k; the value as it is where k
// has no such unit.
func (k Kind) In(unit string, si float64) float64 {
	if u, ok := k.lookUp(unit); ok {
		return (si - u.offset) / u.scale
	}
	return si
}
