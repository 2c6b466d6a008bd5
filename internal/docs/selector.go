package main

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
)

// A selector takes lines of a command's output; see the package's description.
type selector struct {
	text     string
	from, to *regexp.Regexp // to is nil but for a range
	more     int            // lines after the first match; -1 takes every match
}

var selectorForm = regexp.MustCompile(`^/((?:[^/\\]|\\.)+)/(?:\+(\d+)|\.\./((?:[^/\\]|\\.)+)/)?(?:\s+|$)`)

// parseSelectors reads selectors separated by spaces.
func parseSelectors(text string) ([]selector, error) {
	var all []selector
	for rest := strings.TrimSpace(text); rest != ""; {
		m := selectorForm.FindStringSubmatch(rest)
		if m == nil {
			return nil, fmt.Errorf("%q is no selector; one is /RE/, /RE/+N or /RE/../RE/", rest)
		}
		s := selector{text: strings.TrimSpace(m[0]), more: -1}
		var err error
		if s.from, err = regexp.Compile(m[1]); err != nil {
			return nil, err
		}
		if m[2] != "" {
			if s.more, err = strconv.Atoi(m[2]); err != nil {
				return nil, err
			}
		}
		if m[3] != "" {
			if s.to, err = regexp.Compile(m[3]); err != nil {
				return nil, err
			}
		}
		all = append(all, s)
		rest = rest[len(m[0]):]
	}
	return all, nil
}

// selectLines returns the lines that any selector takes, in the order in which
// they were printed, and all lines where there is no selector. A selector that
// takes none is an error.
func selectLines(lines []string, selectors []selector) ([]string, error) {
	if len(selectors) == 0 {
		return lines, nil
	}
	taken := make([]bool, len(lines))
	for _, s := range selectors {
		if !s.mark(lines, taken) {
			return nil, fmt.Errorf("%s matches no line that was printed", s.text)
		}
	}
	var kept []string
	for i, line := range lines {
		if taken[i] {
			kept = append(kept, line)
		}
	}
	return kept, nil
}

// mark sets taken for the lines that s takes, and tells whether there are any.
func (s selector) mark(lines []string, taken []bool) bool {
	any := false
	for i := 0; i < len(lines); i++ {
		if !s.from.MatchString(lines[i]) {
			continue
		}
		any, taken[i] = true, true
		if s.to == nil && s.more < 0 {
			continue
		}
		for j := i + 1; j < len(lines); j++ {
			if s.to == nil && j > i+s.more || s.to != nil && s.to.MatchString(lines[j]) {
				break
			}
			taken[j] = true
		}
		break
	}
	return any
}
