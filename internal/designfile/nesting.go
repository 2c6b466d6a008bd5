package designfile

import "strings"

// maxNesting bounds how deep lists, tables and dotted keys may go. A design
// file needs three levels; the decoder's time and memory grow with the square
// of the depth.
const maxNesting = 32

// tooDeep returns the first line of a TOML text on which lists, tables or
// dotted keys go deeper than maxNesting, or 0. It holds for broken documents
// too, up to the point where they are broken.
func tooDeep(text string) int {
	line, nested, dots := 1, 0, 0
	for i := 0; i < len(text); i++ {
		switch c := text[i]; c {
		case '\n':
			line++
			dots = 0
		case '=', ',':
			dots = 0
		case '.':
			dots++
		case '[', '{':
			nested++
		case ']', '}':
			nested = max(nested-1, 0)
		case '#':
			i += lineLength(text[i:]) - 1
		case '"', '\'':
			n := quotedLength(text[i:])
			line += strings.Count(text[i:i+n], "\n")
			i += n - 1
		}
		if nested > maxNesting || dots > maxNesting {
			return line
		}
	}
	return 0
}

// lineLength returns the length of text up to the end of its first line.
func lineLength(text string) int {
	if i := strings.IndexByte(text, '\n'); i >= 0 {
		return i
	}
	return len(text)
}

// quotedLength returns the length of the string at the start of text with its
// quotes: up to the closing quotes, or to where an open string ends.
func quotedLength(text string) int {
	quote := text[:1]
	if three := strings.Repeat(quote, 3); strings.HasPrefix(text, three) {
		n := closing(text[3:], three)
		if n < 0 {
			return len(text)
		}
		return 3 + n + 3
	}
	line := text[:lineLength(text)]
	n := closing(line[1:], quote)
	if n < 0 {
		return len(line)
	}
	return 1 + n + 1
}

// closing returns the offset of the closing quotes in text, skipping what a
// backslash escapes in "…" strings, or -1.
func closing(text, quotes string) int {
	if quotes[0] == '\'' {
		return strings.Index(text, quotes)
	}
	for i := 0; i < len(text); i++ {
		if text[i] == '\\' {
			i++
		} else if strings.HasPrefix(text[i:], quotes) {
			return i
		}
	}
	return -1
}
