package designfile

import (
	"fmt"
	"strconv"
	"strings"

	"gapline/internal/cleantext"
	"gapline/internal/numeric"
	"gapline/internal/quantity"
	"gapline/internal/schema"
)

// fromTOML converts a decoded TOML value. The error names what would be
// accepted, without key or position.
func fromTOML(k *schema.Key, raw any) (schema.Value, error) {
	v := schema.Value{Key: k}
	var err error
	switch k.Type {
	case schema.Text, schema.Choice:
		v.Text, err = textFromTOML(k, raw)
	case schema.Count:
		n, ok := raw.(int64)
		if !ok {
			return v, fmt.Errorf("is %s: %s is needed", describe(raw), k.Accepted())
		}
		v.Number, err = float64(n), k.Accepts(float64(n))
	case schema.List:
		v.List, err = listFromTOML(k, raw)
	case schema.Quantity:
		v.Number, err = numberFromTOML(k, raw)
	}
	return v, err
}

func numberFromTOML(k *schema.Key, raw any) (float64, error) {
	switch x := raw.(type) {
	case string:
		return k.ParseNumber(x)
	case int64:
		return k.Bare(float64(x))
	case float64:
		return k.Bare(x)
	}
	return numeric.Absent, fmt.Errorf("is %s: %s is needed", describe(raw), k.Accepted())
}

// textFromTOML reads free text. A key of points takes a list of texts too, one
// for each point, which become its lines.
func textFromTOML(k *schema.Key, raw any) (string, error) {
	items, isList := raw.([]any)
	if !isList || !k.Points {
		s, ok := raw.(string)
		if !ok {
			return "", fmt.Errorf("is %s: %s is needed", describe(raw), k.Accepted())
		}
		return k.ParseText(s)
	}
	lines := make([]string, len(items))
	for i, item := range items {
		s, ok := item.(string)
		if !ok {
			return "", fmt.Errorf("entry %d is %s: a text is needed", i+1, describe(item))
		}
		lines[i] = strings.Join(strings.Fields(s), " ")
	}
	return k.ParseText(strings.Join(lines, "\n"))
}

func listFromTOML(k *schema.Key, raw any) ([]float64, error) {
	items, ok := raw.([]any)
	if !ok {
		return nil, fmt.Errorf("is %s: %s is needed", describe(raw), k.Accepted())
	}
	if err := schema.CheckList(len(items)); err != nil {
		return nil, err
	}
	out := make([]float64, len(items))
	for i, item := range items {
		x, err := numberFromTOML(k, item)
		if err != nil {
			return nil, fmt.Errorf("entry %d %w", i+1, err)
		}
		out[i] = x
	}
	return out, nil
}

// shortWhole writes a whole number, a long one in six significant digits.
func shortWhole(n int64) string {
	if n > -1e7 && n < 1e7 {
		return strconv.FormatInt(n, 10)
	}
	return quantity.ShortNumber(float64(n))
}

// describe names a TOML value for a message.
func describe(raw any) string {
	switch x := raw.(type) {
	case string:
		return fmt.Sprintf("the text %q", clip(x))
	case int64:
		return "the number " + shortWhole(x)
	case float64:
		return "the number " + quantity.ShortNumber(x)
	case bool:
		return fmt.Sprintf("%t", x)
	case []any, []map[string]any:
		return "a list"
	case map[string]any:
		return "a table"
	}
	return "a date or time"
}

// clip shortens text quoted in a message.
func clip(s string) string { return cleantext.Cut(s) }
