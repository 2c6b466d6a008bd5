package cleantext

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"

	"pgregory.net/rapid"
)

// attacks hold what a foreign text must not do: start a line, steer a terminal (by
// escape, C1 or backspace), turn the direction of writing.
var attacks = []string{
	"a\nMET forged", "a\r\nMET forged", "a\rMET forged", "a\u2028MET", "a\u2029MET", "a\vMET\f", "a\u0085MET",
	"\x1b[2J\x1b[31mred", "\u009b31mred", "\x9b31mred", "bell\a", "back\b\b\b", "\x7f", "\x00",
	"abc\u202edcb", "\u2066x\u2069", "\u200fx\u200e", "\u061cx",
}

// dangerous reports whether a text still has what attacks have.
func dangerous(s string, keep string) bool {
	return !utf8.ValidString(s) || strings.ContainsFunc(s, func(r rune) bool {
		return !strings.ContainsRune(keep, r) && (unicode.IsControl(r) || unicode.In(r, unicode.Zl, unicode.Zp, unicode.Bidi_Control))
	})
}

func TestLine(t *testing.T) {
	for _, s := range attacks {
		if got := Line(s); dangerous(got, "") {
			t.Errorf("Line(%q) = %q", s, got)
		}
		if got := Lines(s); dangerous(got, "\n") {
			t.Errorf("Lines(%q) = %q", s, got)
		}
	}
	for s, want := range map[string]string{
		"  a  plain title ": "  a  plain title ", "ÄÖÜ ² – … 日本": "ÄÖÜ ² – … 日本", "a\nb": "a b", "a\tb": "a b", "": "", "שלום\u200f": "שלום",
	} {
		if got := Line(s); got != want {
			t.Errorf("Line(%q) = %q, want %q", s, got, want)
		}
	}
	if got := Lines("one\r\ntwo\rthree\nfour\x1b"); got != "one\ntwo\nthree\nfour " {
		t.Errorf("Lines: %q", got)
	}
}

// Whatever the pieces a text comes in, the writer passes on the same.
func TestWriter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.OneOf(rapid.SampledFrom(attacks), rapid.String(), rapid.Map(rapid.SliceOf(rapid.Byte()), func(b []byte) string { return string(b) })).Draw(t, "text")
		var whole, pieces bytes.Buffer
		w := NewWriter(&whole)
		w.Write([]byte(text))
		w.Flush()
		p := NewWriter(&pieces)
		for rest := text; rest != ""; {
			n := rapid.IntRange(1, len(rest)).Draw(t, "n")
			if got, err := p.Write([]byte(rest[:n])); got != n || err != nil {
				t.Fatalf("wrote %d of %d, %v", got, n, err)
			}
			rest = rest[n:]
		}
		p.Flush()
		if whole.String() != pieces.String() {
			t.Fatalf("whole %q, in pieces %q", whole.String(), pieces.String())
		}
		if dangerous(whole.String(), "\n\t") {
			t.Fatalf("%q became %q", text, whole.String())
		}
	})
}

// JSON means the same, and says it without the characters themselves.
func TestJSON(t *testing.T) {
	for _, s := range attacks {
		if !utf8.ValidString(s) {
			continue // the JSON package replaces broken UTF-8
		}
		text, err := json.Marshal(map[string]string{s: s})
		if err != nil {
			t.Fatal(err)
		}
		got := JSON(text)
		var back map[string]string
		if err := json.Unmarshal(got, &back); err != nil || back[s] != s || dangerous(string(got), "") {
			t.Errorf("%q became %s: %v", s, got, err)
		}
	}
}

func TestCellGuardsFormulas(t *testing.T) {
	for s, want := range map[string]string{
		"=1+1": "'=1+1", "@SUM(A1)": "'@SUM(A1)", "+A1": "'+A1", "-A1": "'-A1", "-1+cmd|'/C calc'!A0": "'-1+cmd|'/C calc'!A0", "-2+3": "'-2+3",
		"\t=1": "' =1", "\r=1": "' =1", "\n@x": "' @x", "--1": "'--1", "-1 (x)": "'-1 (x)", "-x, 1": "'-x, 1",
		"-12.5": "-12.5", "-1e-05": "-1e-05", "+3": "+3", "-6.0 dB": "-6.0 dB", "-6 dB, -3 dB": "-6 dB, -3 dB", "-40 °C": "-40 °C", "-": "-", "-∞": "-∞",
		"-90_deg_db": "-90_deg_db", ".5": ".5", "": "", "plain": "plain", "a=b": "a=b",
	} {
		if got := Cell(s); got != want {
			t.Errorf("Cell(%q) = %q, want %q", s, got, want)
		}
	}
	var b bytes.Buffer
	if err := NewCSV(&b).WriteAll([][]string{{"a\nb", "=x", `"`}}); err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(&b).ReadAll()
	if err != nil || len(rows) != 1 || strings.Join(rows[0], "|") != `a b|'=x|"` {
		t.Errorf("%q, %v", rows, err)
	}
}

func TestMessageCutsWhatItRepeats(t *testing.T) {
	long := strings.Repeat("x", 5000)
	for s, want := range map[string]string{
		`--view is "` + long + `": one of a, b is needed`:        `--view is "` + long[:60] + `…": one of a, b is needed`,
		`"` + long[:60] + `" stays`:                              `"` + long[:60] + `" stays`,
		`"a\"` + long + `" and "b"`:                              `"a\"` + long[:57] + `…" and "b"`,
		`"` + long[:58] + `\u202e` + long + `"`:                  `"` + long[:58] + `…"`,
		`an open " quote ` + long[:100]:                          `an open " quote ` + long[:100],
		"unknown flag: --" + long:                                "unknown flag: --" + long[:298] + "…",
		strings.Repeat("many short words stay as they are. ", 9): strings.Repeat("many short words stay as they are. ", 9),
		"box.toml: \x1b[31m\nMET":                                "box.toml:  [31m MET",
	} {
		if got := Message(s); got != want {
			t.Errorf("got  %q\nwant %q", got, want)
		}
	}
}
