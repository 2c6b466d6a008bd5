package schema

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"gapline/internal/cleantext"
	"gapline/internal/numeric"
	"gapline/internal/quantity"
)

// FromText converts the text of a command-line setting; the error names what
// would be accepted, without the key.
func (k *Key) FromText(s string) (Value, error) {
	v := Value{Key: k}
	var err error
	s = strings.TrimSpace(s)
	switch k.Type {
	case Text, Choice:
		v.Text, err = k.ParseText(s)
	case Quantity:
		v.Number, err = k.ParseNumber(s)
	case Count:
		v.Number, err = k.countFromText(s)
	case List:
		// As a list of the file, or without brackets and quotes.
		s = strings.TrimSpace(strings.TrimSuffix(strings.TrimPrefix(s, "["), "]"))
		if s == "" {
			return v, nil
		}
		parts := strings.Split(s, ",")
		if err := CheckList(len(parts)); err != nil {
			return v, err
		}
		for i, part := range parts {
			x, err := k.ParseNumber(strings.Trim(strings.TrimSpace(part), `"`))
			if err != nil {
				return v, fmt.Errorf("entry %d %w", i+1, err)
			}
			v.List = append(v.List, x)
		}
	}
	return v, err
}

func (k *Key) countFromText(s string) (float64, error) {
	n, err := strconv.Atoi(strings.TrimSpace(s))
	if err != nil {
		return numeric.Absent, fmt.Errorf("= %q: %s is needed", cleantext.Cut(s), k.Accepted())
	}
	return float64(n), k.Accepts(float64(n))
}

// clean makes free text harmless. The words of a review may have several lines; the
// name of a file must stay what it is for opening it.
func (k *Key) clean(s string) string {
	switch {
	case k.File:
		return s
	case k.Table() == "review":
		return cleantext.Lines(s)
	}
	return cleantext.Line(s)
}

// ParseText checks a choice or free text.
func (k *Key) ParseText(s string) (string, error) {
	if k.Type == Text {
		if len(s) > maxText {
			return "", fmt.Errorf("is %d characters long: at most %d are possible", len(s), maxText)
		}
		return k.clean(s), nil
	}
	if slices.Contains(k.Choices, s) {
		return s, nil
	}
	hint := ""
	if near := Nearest(s, k.Choices); near != "" {
		hint = fmt.Sprintf(" (did you mean %q?)", near)
	}
	return "", fmt.Errorf("is %q: %s is needed%s", cleantext.Cut(s), k.Accepted(), hint)
}

// maxText bounds free text.
const maxText = 4000

// MaxList bounds the entries of a list: one fewer than the boxes of the longest
// line.
const MaxList = 99

// CheckList returns an error for a list of so many entries that it is not possible.
func CheckList(n int) error {
	if n > MaxList {
		return fmt.Errorf("has %d entries: at most %d are possible", n, MaxList)
	}
	return nil
}

// ParseNumber reads a quantity or one of the key's words.
func (k *Key) ParseNumber(s string) (float64, error) {
	if x, ok := k.Words[strings.TrimSpace(s)]; ok {
		return x, nil
	}
	x, err := quantity.Parse(s, k.Kind)
	if err != nil {
		return x, fmt.Errorf("= %w", quoting(s, err))
	}
	return x, k.Accepts(x)
}

// quoting puts the text in front of an error about it, unless the error quotes
// the text itself.
func quoting(s string, err error) error {
	if strings.HasPrefix(err.Error(), strconv.Quote(s)) {
		return err
	}
	return fmt.Errorf("%q: %w", cleantext.Cut(s), err)
}

// Bare takes a number written without a unit, which is right for
// dimensionless keys only.
func (k *Key) Bare(x float64) (float64, error) {
	if k.Kind != quantity.Number {
		return numeric.Absent, fmt.Errorf("is the bare number %s: a string with a unit is needed, in %s, such as %q",
			quantity.ShortNumber(x), k.Kind.UnitNames(), quantity.Canonical(k.example(), k.Kind))
	}
	return x, k.Accepts(x)
}

// example is a value inside the range that looks ordinary.
func (k *Key) example() float64 {
	if k.Kind == quantity.Temperature {
		return 293.15
	}
	lo, hi := math.Max(k.Min, k.Max/1e4), k.Max
	decade := math.Pow(10, math.Round(math.Log10(math.Sqrt(lo*hi))))
	switch {
	case k.Kind == quantity.Angle:
		return 90 * degrees
	case k.Kind == quantity.Fraction:
		return 0.5
	case k.Min <= decade && decade <= k.Max:
		return decade
	}
	return k.Max
}
