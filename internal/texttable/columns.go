package texttable

import (
	"errors"
	"strings"
)

// split splits a line of numbers and turns decimal commas into points. There is
// always at least one field.
func split(s string) ([]string, error) {
	if quotes := strings.Count(s, `"`); quotes > 0 && quotes%2 == 0 {
		return decimalPoints(trimFields(splitQuoted(s))), nil
	}
	for _, separator := range []string{";", "\t"} {
		if strings.Contains(s, separator) {
			return decimalPoints(trimFields(strings.Split(s, separator))), nil
		}
	}
	if !strings.Contains(s, ",") {
		return strings.Fields(s), nil
	}
	beside, inside := commaPositions(s)
	switch words := strings.Fields(s); {
	case strings.Contains(s, ".") || len(words) == 1 || (beside > 0 && inside == 0):
		return trimFields(strings.Split(s, ",")), nil
	case beside == 0:
		return decimalPoints(words), nil
	}
	return nil, errors.New("some commas stand between digits and some beside spaces: separate columns by semicolons or tabs")
}

// splitQuoted splits at every separator outside double quotes.
func splitQuoted(s string) []string {
	inside := false
	var fields []string
	start := 0
	for i := range len(s) {
		switch s[i] {
		case '"':
			inside = !inside
		case ';', '\t', ',':
			if !inside {
				fields = append(fields, s[start:i])
				start = i + 1
			}
		}
	}
	return append(fields, s[start:])
}

// commaPositions counts the commas that touch a space and those that do not.
func commaPositions(s string) (beside, inside int) {
	for i, r := range s {
		if r != ',' {
			continue
		}
		if (i > 0 && s[i-1] == ' ') || (i+1 < len(s) && s[i+1] == ' ') {
			beside++
		} else {
			inside++
		}
	}
	return beside, inside
}

// trimFields trims every field and drops one empty field at the end, the mark
// of a trailing separator.
func trimFields(fields []string) []string {
	for i := range fields {
		fields[i] = strings.TrimSpace(fields[i])
	}
	if n := len(fields); n > 1 && fields[n-1] == "" {
		fields = fields[:n-1]
	}
	return fields
}

// decimalPoints replaces a lone comma in each field by a point.
func decimalPoints(fields []string) []string {
	for i, f := range fields {
		if strings.Count(f, ",") == 1 && !strings.Contains(f, ".") {
			fields[i] = strings.Replace(f, ",", ".", 1)
		}
	}
	return fields
}
