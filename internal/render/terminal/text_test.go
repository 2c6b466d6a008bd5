package terminal

import (
	"strings"
	"testing"
	"unicode/utf8"

	"pgregory.net/rapid"
)

func TestWrap(t *testing.T) {
	for _, c := range []struct{ text, first, rest, want string }{
		{"one two three", "", "", "one two\nthree\n"},
		{"one  two\n three", "> ", "  ", "> one two\n  three\n"},
		{"one two", "note    ", "        ", "note    one\n        two\n"},
		{"", "x ", "", "x \n"},
		{"abcdefghijklmno p", "", "", "abcdefghijklmno\np\n"}, // too long to break
		{"äöü äöü äöü", "", "", "äöü äöü\näöü\n"},             // counts characters, not bytes
	} {
		if got := Wrap(c.text, 10, c.first, c.rest); got != c.want {
			t.Errorf("Wrap(%q) = %q, want %q", c.text, got, c.want)
		}
	}
}

// Wrapping loses no word, breaks no word, and keeps to the width wherever words
// allow it.
func TestWrapKeepsTheWords(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		words := rapid.SliceOf(rapid.StringMatching(`[a-zé]{1,12}`)).Draw(t, "words")
		width := rapid.IntRange(1, 40).Draw(t, "width")
		got := Wrap(strings.Join(words, " "), width, "", "")
		if fields := strings.Fields(got); strings.Join(fields, " ") != strings.Join(words, " ") {
			t.Fatalf("words %q became %q", words, fields)
		}
		for _, line := range strings.Split(got, "\n") {
			if utf8.RuneCountInString(line) > width && strings.Contains(line, " ") {
				t.Fatalf("line %q is longer than %d", line, width)
			}
		}
	})
}

func TestColumns(t *testing.T) {
	var c columns
	c.row("name", "a", "bcd")
	c.row("größer", "12", "3")
	c.row("x")
	c.row("", "", "9 °C")
	var b strings.Builder
	c.write(&b)
	want := "" +
		"name     a   bcd\n" +
		"größer  12     3\n" +
		"x\n" +
		"            9 °C\n"
	if b.String() != want {
		t.Errorf("got\n%s\nwant\n%s", b.String(), want)
	}
}

func TestNoColumns(t *testing.T) {
	var b strings.Builder
	if new(columns).write(&b); b.String() != "" {
		t.Errorf("wrote %q", b.String())
	}
}
