package quantity

import (
	"fmt"
	"math"
	"strings"
)

// Style says how people read a number where its kind's own form does not do. The
// zero value is the kind's own form.
type Style struct {
	Verb string // for fmt, of the number in its unit, such as "%+.1f"; empty: the kind's own digits
	Inch string // the verb for inches, where it differs
	Unit string // a metric unit of the kind, such as "mm"; empty: the one that suits the size
	Bare bool   // without the unit, which stands in the head of the column
}

// FormatAs is Format in a style. NaN is "-"; a number that rounds to nothing has no
// minus.
func FormatAs(si float64, k Kind, st Style, sys System) string {
	if st == (Style{}) || math.IsNaN(si) || math.IsInf(si, 0) {
		return Format(si, k, sys)
	}
	v, name := st.display(si, k, sys)
	verb := st.Verb
	if sys == Inch && st.Inch != "" {
		verb = st.Inch
	}
	text := trimDisplay(v, k, name)
	if verb != "" {
		text = withoutMinusZero(fmt.Sprintf(verb, v), verb)
	}
	if st.Bare {
		return text
	}
	return join(text, name)
}

// display returns the number and the unit's name in the style's unit.
func (st Style) display(si float64, k Kind, sys System) (float64, string) {
	if st.Unit == "" || sys == Inch && (k == Length || k == Area || k == Volume) {
		return Display(si, k, sys)
	}
	u, ok := k.lookUp(st.Unit)
	if !ok {
		panic("quantity: " + st.Unit + " is no unit of " + k.Article())
	}
	return (si - u.offset) / u.scale, st.Unit
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
