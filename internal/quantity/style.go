package quantity

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Style says how people read a number where its kind's own form does not do. The
// zero value is the kind's own form.
type Style struct {
	Verb string // for fmt, of the number in its unit, such as "%+.1f"; empty: the kind's own digits
	Inch string // the verb for inches, where it differs
	Unit string // a metric unit of the kind, such as "mm"; empty: the one that suits the size
	Bare bool   // without the unit, which stands in the head of the column
	// Difference is that of two values of the kind, which matters for temperatures.
	Difference bool
	// InchUnit is the unit in place of Unit where lengths are in inches, such as "ft".
	InchUnit string
	// Digits keeps so many significant digits, zeros included, but no fewer than those
	// before the point.
	Digits int
	// Short writes three digits, and a frequency in kHz from 1 kHz on, as charts do.
	Short bool
}

// FormatAs is Format in a style. NaN is "-"; a number that rounds to nothing has no
// minus.
func FormatAs(si float64, k Kind, st Style, sys System) string {
	if st == (Style{}) || math.IsNaN(si) || math.IsInf(si, 0) {
		return Format(si, k, sys)
	}
	if st.Difference {
		return FormatDifference(si, k, sys)
	}
	if st.Short {
		if sys == Document {
			return Format(si, k, sys)
		}
		return short(si, k, sys)
	}
	v, name := st.display(si, k, sys)
	verb := st.Verb
	if sys == Inch && st.Inch != "" {
		verb = st.Inch
	}
	text := trimDisplay(v, k, name)
	if st.Digits > 0 {
		decimals := st.Digits - 1 - int(math.Floor(math.Log10(math.Max(math.Abs(v), 1e-9))))
		verb = "%." + strconv.Itoa(min(max(decimals, 0), st.Digits-1)) + "f"
	}
	if verb != "" {
		text = withoutMinusZero(fmt.Sprintf(verb, v), verb)
	}
	if st.Bare {
		return signed(text, sys)
	}
	return signed(join(text, name), sys)
}

// display returns the number and the unit's name in the style's unit.
func (st Style) display(si float64, k Kind, sys System) (float64, string) {
	unit := st.Unit
	if sys == Inch && (k == Length || k == Area || k == Volume) {
		unit = st.InchUnit
	}
	if unit == "" {
		return Display(si, k, sys)
	}
	u, ok := k.lookUp(unit)
	if !ok {
		panic("quantity: " + unit + " is no unit of " + k.Article())
	}
	return (si - u.offset) / u.scale, unit
}

// withoutMinusZero takes the sign off a number whose digits are all 0.
func withoutMinusZero(text, verb string) string {
	if !strings.HasPrefix(text, "-") || strings.ContainsAny(text, "123456789") {
		return text
	}
	if strings.HasPrefix(verb, "%+") {
		return "+" + text[1:]
	}
	return text[1:]
}

// short writes three significant digits without trailing zeros.
func short(si float64, k Kind, sys System) string {
	v, name := Display(si, k, sys)
	if k == Frequency {
		if v, name = si, "Hz"; math.Abs(si) >= 999.5 {
			v, name = si/1e3, "kHz"
		}
	}
	return join(Significant(v, 3), name)
}

// Significant writes v with n significant digits, without trailing zeros behind the
// point and with the sign − of print.
func Significant(v float64, n int) string {
	if v == 0 || math.IsNaN(v) || math.IsInf(v, 0) {
		return strings.Replace(strconv.FormatFloat(v+0, 'g', -1, 64), "-", "−", 1)
	}
	decimals := max(0, n-1-int(math.Floor(math.Log10(math.Abs(v)*(1+1e-12)))))
	s := strconv.FormatFloat(v, 'f', decimals, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	return strings.Replace(s, "-", "−", 1)
}
