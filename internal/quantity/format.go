package quantity

import (
	"math"
	"strconv"
	"strings"
)

// System is the choice of units for printed text.
type System int

// The two unit systems of the --units flag, and the metric one as a document writes it:
// lengths of a metre and more in metres, and each number in one form, in pictures too.
const (
	Metric System = iota
	Inch
	Document
)

// Canonical returns the value as text that Parse reads back to the same
// value, to within a rounding of the last digit: "230 mm".
func Canonical(si float64, k Kind) string {
	if k == Number {
		return formatNumber(si)
	}
	u := kinds[k].units[0]
	return formatNumber(roundSignificant((si-u.offset)/u.scale, 14)) + " " + u.names[0]
}

// Format returns the value as a person would write it: three significant
// digits or so, in the unit that suits its size. NaN is "-", and an infinity
// is "∞" without a unit.
func Format(si float64, k Kind, sys System) string { return signed(format(si, k, sys), sys) }

// signed gives a number the sign − of print in a document, where pictures have it too.
func signed(text string, sys System) string {
	if rest, negative := strings.CutPrefix(text, "-"); negative && rest != "" && sys == Document {
		return "−" + rest
	}
	return text
}

func format(si float64, k Kind, sys System) string {
	v, name := Display(si, k, sys)
	switch {
	case math.IsNaN(v):
		return "-"
	case math.IsInf(v, 1):
		return "∞"
	case math.IsInf(v, -1):
		return "-∞"
	}
	if sys == Document && k == Length && name == "m" && math.Abs(v) < 10 {
		return join(trimZeros(strconv.FormatFloat(v, 'f', 3, 64)), name) // to the millimetre
	}
	return join(trimDisplay(v, k, name), name)
}

func trimZeros(s string) string { return strings.TrimRight(strings.TrimRight(s, "0"), ".") }

// FormatDifference is Format for the difference of two values of kind k, which
// matters for temperatures: 5 K is "5 °C" and not "-268.2 °C".
func FormatDifference(si float64, k Kind, sys System) string {
	if k != Temperature {
		return Format(si, k, sys)
	}
	v, name := si, "°C"
	if sys == Inch {
		v, name = si*9/5, "°F"
	}
	return join(trimDisplay(v, k, name), name)
}

func join(number, name string) string {
	if name == "" || name == "°" {
		return number + name
	}
	return number + " " + name
}

// Unit returns the unit in which a system shows the kind whatever the size, as on an
// axis: mm for lengths, Hz for frequencies.
func (k Kind) Unit(sys System) string {
	if k == Frequency {
		return "Hz"
	}
	_, name := Display(0, k, sys)
	return name
}

// Display returns the number and the unit name in which a value is shown.
func Display(si float64, k Kind, sys System) (float64, string) {
	switch k {
	case Number:
		return si, ""
	case Length:
		if sys == Inch {
			return si / OneInch, "in"
		}
		if math.Abs(si) >= 10 || sys == Document && math.Abs(si) >= 1 {
			return si, "m"
		}
		return si * 1e3, "mm"
	case Area:
		if sys == Inch {
			return si / (OneInch * OneInch), "in²"
		}
		return si * 1e4, "cm²"
	case Volume:
		if sys == Inch {
			return si / (Foot * Foot * Foot), "ft³"
		}
		return si * 1e3, "L"
	case Frequency:
		if math.Abs(si) >= 9999.5 {
			return si / 1e3, "kHz"
		}
		return si, "Hz"
	case Temperature:
		if sys == Inch {
			return (si-273.15)*9/5 + 32, "°F"
		}
		return si - 273.15, "°C"
	case Angle:
		return si / Degree, "°"
	case Resistance:
		return si, "Ω"
	}
	u := kinds[k].units[0]
	return (si - u.offset) / u.scale, strings.ReplaceAll(strings.ReplaceAll(u.names[0], "m3", "m³"), "cm2", "cm²")
}

// trimDisplay chooses the digits of a displayed number.
func trimDisplay(v float64, k Kind, name string) string {
	decimals := 3 - int(math.Floor(math.Log10(math.Max(math.Abs(v), 1e-9)))) - 1
	switch k {
	case Level, Temperature, Speed:
		decimals = 1
	case Octaves:
		decimals = 2
	case Angle:
		decimals = min(decimals, 1)
	case Length:
		if name == "in" {
			decimals = min(max(decimals, 1), 3)
		} else {
			decimals = min(max(decimals, 0), 1)
		}
	}
	decimals = min(max(decimals, 0), 6)
	if math.Abs(v) >= hugeNumber {
		return ShortNumber(v)
	}
	s := strconv.FormatFloat(v, 'f', decimals, 64)
	if k != Octaves && k != Level && strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		s = "0"
	}
	return s
}

// hugeNumber is where digits give way to a power of ten: far above any value of a
// design, so that only what is typed wrongly comes here.
const hugeNumber = 1e10

// ShortNumber writes a number in six significant digits, for messages.
func ShortNumber(v float64) string { return strconv.FormatFloat(v, 'g', 6, 64) }

func formatNumber(v float64) string { return strconv.FormatFloat(v, 'g', -1, 64) }

// roundSignificant rounds v to n significant digits, which takes off the
// rounding noise of a unit conversion.
func roundSignificant(v float64, n int) float64 {
	r, err := strconv.ParseFloat(strconv.FormatFloat(v, 'g', n, 64), 64)
	if err != nil {
		return v
	}
	return r
}

// InDegrees is an angle in degrees, for programs: rounded to 1e-9 so that the way from
// and to radians does not show.
func InDegrees(rad float64) float64 { return math.Round(rad*(180/math.Pi)*1e9) / 1e9 }
