package designfile

import (
	"errors"
	"fmt"
	"regexp"
	"strings"

	"github.com/BurntSushi/toml"
)

// slips are the commonest mistakes of people who write TOML for the first
// time, with what to write instead. The first group of a pattern, if there is
// one, goes into the message.
var slips = []struct {
	pattern *regexp.Regexp
	message string
}{
	{regexp.MustCompile(`=\s*[“”„‘’]`), `straight quotes are needed (")`},
	{regexp.MustCompile(`=\s*[-+]?[0-9]+,[0-9]+\s*(?:#.*)?$`), "write the decimal sign as a point, not a comma"},
	{regexp.MustCompile(`=\s*([-+−]?[0-9][0-9.,]*\s*[A-Za-z%°µΩ"][A-Za-z0-9%°/²³]*)\s*(?:#.*)?$`), "a quantity stands in quotes: %q"},
	{regexp.MustCompile(`^\s*[a-z_]+\s*:`), "write = between key and value, not a colon"},
}

// syntaxProblem turns an error of the decoder into a problem of the named file.
func syntaxProblem(name, text string, err error) Problem {
	var pe toml.ParseError
	if !errors.As(err, &pe) || pe.Message == "" {
		return Problem{Where: name, Text: strings.TrimPrefix(err.Error(), "toml: ")}
	}
	line := pe.Position.Line
	if strings.Contains(pe.Message, `end table name, but got '\n'`) {
		line-- // the decoder is already past the line end
	}
	message := strings.ToLower(pe.Message[:1]) + strings.TrimSuffix(pe.Message[1:], ".")
	if lines := strings.Split(text, "\n"); line >= 1 && line <= len(lines) {
		message = slipOr(strings.TrimRight(lines[line-1], "\r"), message)
	}
	return Problem{Where: name, Line: line, Text: message}
}

// slipOr returns what to write instead when the line holds a known slip, and
// the decoder's message otherwise.
func slipOr(line, message string) string {
	for _, s := range slips {
		switch m := s.pattern.FindStringSubmatch(line); {
		case len(m) == 2:
			return fmt.Sprintf(s.message, m[1])
		case m != nil:
			return s.message
		}
	}
	return message
}
