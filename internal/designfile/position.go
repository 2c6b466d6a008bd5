package designfile

import "strings"

// keyLines finds the line on which each key of a TOML document stands, by its
// dotted path, and the line of each table header. The decoder checks syntax
// first; this scan only has to find keys in a document known to be valid.
func keyLines(text string) map[string]int {
	lines := map[string]int{}
	s := lineScanner{lines: lines}
	for i, line := range strings.Split(text, "\n") {
		s.line(i+1, line)
	}
	return lines
}

// lineScanner walks the lines of a document. It skips over strings and lists
// that run across lines.
type lineScanner struct {
	lines  map[string]int
	table  string
	until  string // closing quotes of a multi-line string, or ""
	nested int    // open brackets of a multi-line list or table
}

func (s *lineScanner) line(n int, text string) {
	if s.until != "" || s.nested > 0 {
		s.value(text)
		return
	}
	text = strings.TrimSpace(text)
	switch {
	case text == "" || text[0] == '#':
	case text[0] == '[':
		header := strings.Trim(text[:headerEnd(text)], "[] \t")
		s.table = joinKey(splitKey(header))
		s.record(s.table, n)
	default:
		eq := equalsSign(text)
		if eq < 0 {
			return
		}
		path := joinKey(splitKey(text[:eq]))
		if s.table != "" {
			path = s.table + "." + path
		}
		s.record(path, n)
		s.value(text[eq+1:])
	}
}

func (s *lineScanner) record(path string, n int) {
	if _, seen := s.lines[path]; !seen {
		s.lines[path] = n
	}
}

// headerEnd returns the length of "[table]" without a comment behind it.
func headerEnd(text string) int {
	if i := strings.LastIndexByte(strings.SplitN(text, "#", 2)[0], ']'); i >= 0 {
		return i + 1
	}
	return len(text)
}

// equalsSign finds the = that ends a key, outside quotes.
func equalsSign(text string) int { return outsideQuotes(text, 0, '=') }

// outsideQuotes finds the first c from index from on that stands in no quotes; −1
// when there is none.
func outsideQuotes(text string, from int, c byte) int {
	quote := byte(0)
	for i := from; i < len(text); i++ {
		switch at := text[i]; {
		case quote != 0:
			if at == '\\' && quote == '"' {
				i++
			} else if at == quote {
				quote = 0
			}
		case at == '"' || at == '\'':
			quote = at
		case at == c:
			return i
		}
	}
	return -1
}

// value follows the rest of a line to learn whether the value goes on below.
func (s *lineScanner) value(text string) {
	for i := 0; i < len(text); i++ {
		if s.until != "" {
			j := closing(text[i:], s.until)
			if j < 0 {
				return
			}
			i += j + len(s.until) - 1
			s.until = ""
			continue
		}
		switch c := text[i]; c {
		case '#':
			return
		case '[', '{':
			s.nested++
		case ']', '}':
			s.nested--
		case '"', '\'':
			if three := strings.Repeat(string(c), 3); strings.HasPrefix(text[i:], three) {
				s.until = three
				i += 2
				continue
			}
			i += quotedLength(text[i:]) - 1
		}
	}
}

// splitKey splits a dotted key, taking quotes off its parts.
func splitKey(key string) []string {
	var parts []string
	var part strings.Builder
	quote := byte(0)
	for i := 0; i < len(key); i++ {
		switch c := key[i]; {
		case quote != 0 && c == quote:
			quote = 0
		case quote != 0:
			part.WriteByte(c)
		case c == '"' || c == '\'':
			quote = c
		case c == '.':
			parts = append(parts, part.String())
			part.Reset()
		case c != ' ' && c != '\t':
			part.WriteByte(c)
		}
	}
	return append(parts, part.String())
}

func joinKey(parts []string) string { return strings.Join(parts, ".") }
