// Package cleantext takes out of foreign texts what would do more than stand
// there: line ends that start a line of the program's own, control characters that
// steer a terminal, and marks that turn the direction of writing. Foreign is
// whatever the program did not write itself: titles and words of design and driver
// files, names of files, words of the command line.
//
// Each text meets it in two places. Where it comes in, a text of a design or the
// name of a file that is to be shown becomes one line, or lines where a document
// keeps them (Line, Lines). Where it goes out, one call stands at each door, so that
// no single view has to think of it: Writer for standard output and the HTML page,
// Message for standard error, CSV for tables, JSON for JSON, and Line in the packages
// that draw, for SVG, PDF, PNG and DXF.
package cleantext

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Line returns the text as one line: line ends, tabs and control characters become
// blanks, marks of the writing direction go, and broken UTF-8 becomes U+FFFD.
func Line(s string) string { return mapped(s, false) }

// Lines is Line for a text that may have several lines, with "\n" between them.
func Lines(s string) string {
	s = strings.NewReplacer("\r\n", "\n", "\r", "\n").Replace(s)
	return mapped(s, true)
}

func mapped(s string, keepLines bool) string {
	if clean(s) {
		return s
	}
	return strings.Map(func(r rune) rune {
		if keepLines && r == '\n' {
			return r
		}
		return harmless(r)
	}, strings.ToValidUTF8(s, "\uFFFD"))
}

// clean reports whether the text is printable ASCII, as most are.
func clean(s string) bool {
	for i := range len(s) {
		if s[i] < ' ' || s[i] > '~' {
			return false
		}
	}
	return true
}

// harmless returns what stands in a rune's place, -1 for nothing.
func harmless(r rune) rune {
	switch {
	case unicode.IsControl(r), r == '\u2028', r == '\u2029', r == '\uFFFE', r == '\uFFFF':
		return ' '
	case unicode.Is(unicode.Bidi_Control, r):
		return -1
	}
	return r
}

// Longest texts of the user's that a message repeats, in characters: in quotes, and
// as one word without blanks, which may be a path.
const (
	longestQuote = 60
	longestWord  = 300
)

// Message returns a line for standard error: one line in which a quoted text is cut
// to about 60 characters.
func Message(s string) string {
	return cutWords(cutQuotes(Line(s)))
}

// Cut returns the text cut to about 60 characters.
func Cut(s string) string { return cut(s, longestQuote) }

func cut(s string, most int) string {
	if utf8.RuneCountInString(s) <= most {
		return s
	}
	return string([]rune(s)[:most]) + "…"
}

// cutQuotes cuts what stands between double quotes, in which a backslash takes the
// meaning off the next character.
func cutQuotes(s string) string {
	if len(s) <= longestQuote {
		return s
	}
	var b strings.Builder
	for {
		open := strings.IndexByte(s, '"')
		if open < 0 {
			return b.String() + s
		}
		end := open + 1
		for end < len(s) && s[end] != '"' {
			if s[end] == '\\' {
				end++
			}
			end++
		}
		if end >= len(s) {
			return b.String() + s
		}
		b.WriteString(s[:open+1])
		b.WriteString(cutQuote(s[open+1 : end]))
		b.WriteByte('"')
		s = s[end+1:]
	}
}

// cutQuote cuts the inside of a quoted text, not inside an escape.
func cutQuote(s string) string {
	short := cut(s, longestQuote)
	if short == s {
		return s
	}
	short = strings.TrimSuffix(short, "…")
	if i := strings.LastIndexByte(short, '\\'); i >= 0 && len(short)-i < len(`\U0001F600`) {
		short = strings.TrimRight(short[:i], `\`)
	}
	return short + "…"
}

func cutWords(s string) string {
	if len(s) <= longestWord {
		return s
	}
	words := strings.Split(s, " ")
	for i, w := range words {
		words[i] = cut(w, longestWord)
	}
	return strings.Join(words, " ")
}

// JSON returns JSON text in which the characters that Line takes out stand as
// escapes, which mean the same to whoever reads it. The JSON package writes only
// those below U+0020 so.
func JSON(text []byte) []byte {
	var out []byte
	done := 0
	for i := 0; i < len(text); {
		if text[i] < 0x7f {
			i++
			continue
		}
		r, n := utf8.DecodeRune(text[i:])
		if harmless(r) != r {
			out = append(out, text[done:i]...)
			out = fmt.Appendf(out, "\\u%04x", r) // all of them lie below U+10000
			done = i + n
		}
		i += n
	}
	if done == 0 {
		return text
	}
	return append(out, text[done:]...)
}
