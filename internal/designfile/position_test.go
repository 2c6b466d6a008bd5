package designfile

import (
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// Lines of keys in TOML that is valid but written oddly. Counted by hand.
func TestKeyLines(t *testing.T) {
	text := strings.Join([]string{
		`title = """`,                      // 1
		`x = 1`,                            // 2, in the string
		`[fake]`,                           // 3, in the string
		`quotes: \""" and ""`,              // 4, still in the string
		`"""  # the end`,                   // 5
		`  "a b" . 'c.d'   = 1`,            // 6
		`cabinet.height = "1 m"`,           // 7
		`e = [ # a list`,                   // 8
		`  "]", # not the end`,             // 9
		`  '[', [1,`,                       // 10
		`  2], { y = 3 } ]`,                // 11
		`f = '''it's`,                      // 12
		`g = 2'''`,                         // 13
		`h = { i = 1, j = "#{" } # k = 1`,  // 14
		``,                                 // 15
		`[ horn . "mouth width" ] # [not]`, // 16
		`l = "a = b # c"`,                  // 17
		"\tm.n = 'o\\'",                    // 18
		`[line]`,                           // 19
		`p = 1`,                            // 20
		`[[list]]`,                         // 21
		`q = 1`,                            // 22
		`[[list]]`,                         // 23
		`q = 2`,                            // 24
		`r = """""quoted"""""`,             // 25
		`s = 3`,                            // 26
	}, "\n")
	want := map[string]int{
		"title": 1, "a b.c.d": 6, "cabinet.height": 7, "e": 8, "f": 12, "h": 14,
		"horn.mouth width": 16, "horn.mouth width.l": 17, "horn.mouth width.m.n": 18,
		"line": 19, "line.p": 20, "list": 21, "list.q": 22, "list.r": 25, "list.s": 26,
	}
	got := keyLines(text)
	for key, line := range want {
		if got[key] != line {
			t.Errorf("%s on line %d, want %d", key, got[key], line)
		}
	}
	for key, line := range got {
		if want[key] == 0 {
			t.Errorf("%s found on line %d, but there is no such key", key, line)
		}
	}
}

// Documents put together from values of every form: the scan must find each key
// where it was put.
func TestKeyLinesInComposedDocuments(t *testing.T) {
	values := []string{
		`1`, `"a # b"`, `'c = d'`, `"""e"""`, "\"\"\"\nf = 1\n\\\"\"\"\n\"\"\"", "'''\n[g]\n'''", `[1, 2]`,
		"[\n  1, # ]\n  [\"]\"],\n]", `{ h = 1 }`, `{ i = [1, { j = "}" }] }`, `"\""`, `'\'`, `2020-01-01T00:00:00Z # k = 2`,
	}
	rapid.Check(t, func(t *rapid.T) {
		var text strings.Builder
		want := map[string]int{}
		table, line := "", 1
		for i := range rapid.IntRange(1, 12).Draw(t, "lines") {
			key := fmt.Sprintf("key%d", i)
			entry := key + rapid.SampledFrom([]string{" = ", "=", "\t= "}).Draw(t, "equals") + rapid.SampledFrom(values).Draw(t, "value")
			switch rapid.IntRange(0, 5).Draw(t, "what") {
			case 0:
				table = key + "."
				entry = "[" + key + "]"
				want[key] = line
			case 1:
				entry = rapid.SampledFrom([]string{"", "# key = 1", "   "}).Draw(t, "blank")
			case 2:
				entry = rapid.SampledFrom([]string{"  ", "\t"}).Draw(t, "indent") + `"` + key + `" . x = 3`
				want[table+key+".x"] = line
			default:
				want[table+key] = line
			}
			text.WriteString(entry + "\n")
			line += strings.Count(entry, "\n") + 1
		}
		got := keyLines(text.String())
		for key, n := range want {
			if got[key] != n {
				t.Fatalf("%s on line %d, want %d, in\n%s", key, got[key], n, text.String())
			}
		}
		if len(got) != len(want) {
			t.Fatalf("found %v, want %v, in\n%s", got, want, text.String())
		}
	})
}

func TestTooDeep(t *testing.T) {
	for _, c := range []struct {
		text string
		want int
	}{
		{"a = 1\n", 0},
		{"# " + strings.Repeat(".", 1000) + strings.Repeat("[", 1000) + "\na = 1", 0},
		{`title = "` + strings.Repeat(".[{", 1000) + `"`, 0},
		{"title = '''\n" + strings.Repeat("[\n", 1000) + "'''\n", 0},
		{`title = "\"` + strings.Repeat("[", 100) + `"`, 0},
		{"\na = " + strings.Repeat("[", 33), 2},
		{"a = \"\"\"x\n\"\"\"\nb = " + strings.Repeat("{c=", 33), 3},
		{"a = " + strings.Repeat("[\n", 100), 33},
		{"a = " + strings.Repeat("[", 32) + strings.Repeat("]", 32), 0},
		{"a = [" + strings.Repeat("0.5, ", 1000) + "]", 0},
		{strings.Repeat("a.b = 1\n", 1000), 0},
		{"a" + strings.Repeat(".a", 33) + " = 1", 1},
		{"[a" + strings.Repeat(".\"a\"", 33) + "]", 1},
		{`a = "open`, 0},
		{`a = """open` + strings.Repeat("[", 100), 0},
	} {
		if got := tooDeep(c.text); got != c.want {
			t.Errorf("tooDeep(%.40q) = %d, want %d", c.text, got, c.want)
		}
	}
}
