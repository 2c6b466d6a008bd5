package main

import (
	"math"
	"regexp"
	"strconv"
	"strings"
)

// quantityForm finds a number and, if there is one, the unit after it. Signs are
// left out: prose says "6.5 dB lower" where a table says -6.5 dB.
var quantityForm = regexp.MustCompile(
	`(\d+(?:\.\d+)?)(?:[ \x{00a0}]?(kHz|Hz|dBA|dB|octaves|octave|oct|mm|cm²|cm|m/s|ms|µs|m|°|%|L|W|V|Ω|λ)(?:[^\p{L}\p{N}]|$))?`)

var codeSpan = regexp.MustCompile("`[^`]*`")

// A quantity is a number as it was printed, and its unit, which may be missing.
type quantity struct{ number, unit string }

// quantitiesIn returns every number of the text with its unit.
func quantitiesIn(text string) []quantity {
	var all []quantity
	for _, m := range quantityForm.FindAllStringSubmatch(text, -1) {
		unit := m[2]
		if strings.HasPrefix(unit, "oct") {
			unit = "oct"
		}
		all = append(all, quantity{m[1], unit})
	}
	return all
}

var derivedForm = regexp.MustCompile(`^<!-- derived: (.+) = (.+) ([-/]) (.+) -->$`)

// checkDerived checks the mark on line i, such as
//
//	<!-- derived: 7 mm = 179 mm - 172 mm -->
//
// whose two operands must be in seen and whose result must be right to its last
// digit. It returns the result.
func checkDerived(d *document, i int, seen map[quantity]bool) (quantity, error) {
	m := derivedForm.FindStringSubmatch(d.lines[i])
	if m == nil {
		return quantity{}, d.errorf(i, "a mark reads <!-- derived: A = B - C --> or B / C")
	}
	var q [3]quantity
	var x [3]float64
	for j, text := range []string{m[1], m[2], m[4]} {
		found := quantitiesIn(text)
		if len(found) != 1 {
			return quantity{}, d.errorf(i, "%q is not one quantity", text)
		}
		q[j] = found[0]
		if j > 0 && !seen[q[j]] && !seen[quantity{q[j].number, ""}] {
			return quantity{}, d.errorf(i, "%s is in nothing that the document's commands printed", text)
		}
		x[j], _ = strconv.ParseFloat(q[j].number, 64) // digits only, by quantityForm
	}
	want := x[1] - x[2]
	if m[3] == "/" {
		want = x[1] / x[2]
	}
	_, decimals, _ := strings.Cut(q[0].number, ".")
	if math.Abs(x[0]-want) > 0.5*math.Pow10(-len(decimals))+1e-9 {
		return quantity{}, d.errorf(i, "%s %s %s is %.4g, not %s", m[2], m[3], m[4], want, m[1])
	}
	return q[0], nil
}

// checkQuantities returns an error for each quantity of the document's prose that
// stands neither in printed nor among what the document calls known. A number
// without a unit in the prose is not checked; one without a unit in a table, where
// the head holds the unit, serves for any.
func checkQuantities(d *document, printed string) []error {
	seen := map[quantity]bool{}
	for _, q := range quantitiesIn(printed + "\n" + d.known) {
		seen[q] = true
	}
	var errs []error
	for _, i := range d.derived {
		q, err := checkDerived(d, i, seen)
		if err != nil {
			errs = append(errs, err)
		}
		seen[q] = true
	}
	for _, i := range d.prose {
		for _, q := range quantitiesIn(codeSpan.ReplaceAllString(d.lines[i], "")) {
			if q.unit == "" || seen[q] || seen[quantity{q.number, ""}] {
				continue
			}
			errs = append(errs, d.errorf(i, "%s %s is in nothing that the document's commands printed", q.number, q.unit))
		}
	}
	return errs
}
