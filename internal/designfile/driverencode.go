package designfile

import (
	"fmt"
	"math"
	"strings"
	"unicode"

	"gapline/internal/numeric"
	"gapline/internal/quantity"
	"gapline/internal/schema"
)

// DriverValue is one parameter of a driver file, SI. Low and High bound a value that
// was fitted; NaN where nothing does.
type DriverValue struct {
	Key       string // one of DriverKeys
	Value     float64
	Low, High float64
}

// EncodeDriver returns the text of a driver file: comments of one line each, the
// title, the values that are given, each with its bounds, and remarks below. Values
// have five digits, finer than any measurement.
func EncodeDriver(title string, comments []string, values []DriverValue, below ...string) []byte {
	var b strings.Builder
	for _, c := range comments {
		fmt.Fprintf(&b, "# %s\n", printable(c))
	}
	fmt.Fprintf(&b, "\ntitle       = %q\n", printable(title))
	for _, v := range values {
		k := driverKey(v.Key)
		switch {
		case !numeric.Given(v.Value):
		case numeric.Given(v.Low):
			fmt.Fprintf(&b, "%-11s = %-14s # %s to %s\n", v.Key, rounded(k, v.Value, true), rounded(k, v.Low, false), rounded(k, v.High, false))
		default:
			fmt.Fprintf(&b, "%-11s = %s\n", v.Key, rounded(k, v.Value, true))
		}
	}
	for _, c := range below {
		fmt.Fprintf(&b, "# %s\n", printable(c))
	}
	return []byte(b.String())
}

// rounded writes a value to five digits with its unit; as a value of the file in
// quotes, or bare when it has none.
func rounded(k *schema.Key, si float64, quoted bool) string {
	const digits = 5
	scale := math.Pow(10, digits-1-math.Floor(math.Log10(math.Abs(si))))
	text := quantity.Canonical(math.Round(si*scale)/scale, k.Kind)
	if quoted && k.Kind != quantity.Number {
		return fmt.Sprintf("%q", text)
	}
	return text
}

// printable puts blanks in place of what a one-line text cannot hold.
func printable(s string) string {
	return strings.Map(func(r rune) rune {
		if !unicode.IsPrint(r) {
			return ' '
		}
		return r
	}, s)
}
