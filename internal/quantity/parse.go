package quantity

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode"
)

// maxText bounds the text of one quantity; anything longer is not a number.
const maxText = 64

// Parse reads a quantity of kind k and returns its SI value. For Number the
// text must be a bare number. The error says what is wrong and which units
// would be right; it carries no file position.
func Parse(text string, k Kind) (float64, error) {
	number, name, err := split(text)
	if err != nil {
		return math.NaN(), err
	}
	return convert(number, name, k)
}

// convert applies the unit called name to number.
func convert(number float64, name string, k Kind) (float64, error) {
	if k == Number {
		if name != "" {
			return math.NaN(), fmt.Errorf("%q: a plain number is needed here, without a unit", name)
		}
		return number, nil
	}
	if name == "" {
		return math.NaN(), fmt.Errorf("%s has no unit: %s is needed, in %s", ShortNumber(number), k.Article(), k.UnitNames())
	}
	u, ok := k.lookUp(name)
	if !ok {
		if other, known := kindOfUnit(name); known {
			return math.NaN(), fmt.Errorf("unit %q is of %s: %s is needed, in %s", name, other.Article(), k.Article(), k.UnitNames())
		}
		return math.NaN(), fmt.Errorf("unknown unit %q: %s is needed, in %s", name, k.Article(), k.UnitNames())
	}
	v := number*u.scale + u.offset
	if math.IsInf(v, 0) || math.IsNaN(v) {
		return math.NaN(), fmt.Errorf("%q is not a finite value", ShortNumber(number)+" "+name)
	}
	return v, nil
}

// split separates the number from the unit. The unit may be empty.
func split(text string) (number float64, name string, err error) {
	if len(text) > maxText {
		return 0, "", fmt.Errorf("%q… is too long for a quantity", text[:20])
	}
	s := strings.TrimSpace(text)
	if s == "" {
		return 0, "", errors.New("empty: a number with a unit is needed")
	}
	s = strings.ReplaceAll(s, "−", "-")
	end := numberEnd(s)
	if end == 0 {
		return 0, "", fmt.Errorf("%q does not start with a number", text)
	}
	digits, rest := s[:end], s[end:]
	if len(rest) > 1 && rest[0] == ',' && rest[1] >= '0' && rest[1] <= '9' {
		return 0, "", fmt.Errorf("%q: write the decimal sign as a point, not a comma", text)
	}
	number, err = strconv.ParseFloat(digits, 64)
	if err != nil || math.IsInf(number, 0) {
		return 0, "", fmt.Errorf("%q is not a finite number", digits)
	}
	return number, foldSpaces(rest), nil
}

// numberEnd returns the length of the decimal number at the start of s, or 0.
// Only the plain decimal and exponent forms count: no hexadecimal, no
// underscores, no words such as "inf".
func numberEnd(s string) int {
	i := 0
	if i < len(s) && (s[i] == '+' || s[i] == '-') {
		i++
	}
	whole := digitRun(s[i:])
	i += whole
	frac := 0
	if i < len(s) && s[i] == '.' {
		frac = digitRun(s[i+1:])
		if whole+frac > 0 {
			i += 1 + frac
		}
	}
	if whole+frac == 0 {
		return 0
	}
	if i < len(s) && (s[i] == 'e' || s[i] == 'E') {
		j := i + 1
		if j < len(s) && (s[j] == '+' || s[j] == '-') {
			j++
		}
		if n := digitRun(s[j:]); n > 0 {
			i = j + n
		}
	}
	return i
}

func digitRun(s string) int {
	n := 0
	for n < len(s) && s[n] >= '0' && s[n] <= '9' {
		n++
	}
	return n
}

// foldSpaces trims s and turns each run of Unicode spaces into one blank.
func foldSpaces(s string) string {
	return strings.Join(strings.FieldsFunc(s, unicode.IsSpace), " ")
}

// ParseRange reads "FROM:TO:STEP" of kind k and returns the SI values. A part
// without a unit takes the unit of the last part that has one, so that
// "200:300:10 mm" works. STEP of a temperature is a difference.
func ParseRange(text string, k Kind) (from, to, step float64, err error) {
	if strings.Count(text, ":") != 2 {
		return 0, 0, 0, fmt.Errorf("%q is not FROM:TO:STEP", text)
	}
	return ParseSpan(text, k)
}

// ParseSpan reads "FROM:TO" or "FROM:TO:STEP" as ParseRange does; step is 0 when
// it is left out.
func ParseSpan(text string, k Kind) (from, to, step float64, err error) {
	parts := strings.Split(text, ":")
	if len(parts) != 2 && len(parts) != 3 {
		return 0, 0, 0, fmt.Errorf("%q is neither FROM:TO nor FROM:TO:STEP", text)
	}
	var numbers [3]float64
	var names [3]string
	shared := ""
	for i, p := range parts {
		if numbers[i], names[i], err = split(p); err != nil {
			return 0, 0, 0, err
		}
		if names[i] != "" {
			shared = names[i]
		}
	}
	var si [3]float64
	for i := range parts {
		if names[i] == "" {
			names[i] = shared
		}
		if si[i], err = convert(numbers[i], names[i], k); err != nil {
			return 0, 0, 0, err
		}
	}
	if u, ok := k.lookUp(names[2]); ok && len(parts) == 3 {
		si[2] -= u.offset
	}
	return si[0], si[1], si[2], nil
}

// ParseDifference reads a quantity of kind k as a difference: the same as
// Parse, but "2 degC" is 2 K and not 275.15 K.
func ParseDifference(text string, k Kind) (float64, error) {
	v, err := Parse(text, k)
	if err != nil || k != Temperature {
		return v, err
	}
	_, name, _ := split(text)
	u, _ := k.lookUp(name)
	return v - u.offset, nil
}
