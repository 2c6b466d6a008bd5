package designfile

import (
	"strings"
	"testing"

	"gapline/internal/schema"

	"pgregory.net/rapid"
)

// Everything but the value stays, to the byte.
func TestRewriteKeepsTheRest(t *testing.T) {
	for name, c := range map[string]struct{ before, after string }{
		"one line": {
			"[line]\nboxes = 3\nsplay  = [\"1 deg\", \"2 deg\"]  # by hand\n",
			"[line]\nboxes = 3\nsplay  = [\"4 deg\", \"5 deg\"] # by hand\n",
		},
		"list over lines, with a # in a string": {
			"title = \"a # b\"\n[line]\nboxes = 3\nsplay = [\n  \"1 deg\", # top\n  \"2 deg\",\n] # end\n[air]\nhumidity = \"40 %\"\n",
			"title = \"a # b\"\n[line]\nboxes = 3\nsplay = [\"4 deg\", \"5 deg\"] # end\n[air]\nhumidity = \"40 %\"\n",
		},
		"dotted key": {
			"line.boxes = 3\nline.splay = [\"1 deg\", \"2 deg\"]\n",
			"line.boxes = 3\nline.splay = [\"4 deg\", \"5 deg\"]\n",
		},
		"no such key": {
			"[line]\nboxes = 3\n\n# air\n[air]\nhumidity = \"40 %\"\n",
			"[line]\nboxes = 3\nsplay = [\"4 deg\", \"5 deg\"]\n\n# air\n[air]\nhumidity = \"40 %\"\n",
		},
		"other line ends": {
			"[line]\r\nboxes = 3\r\nsplay = [\"1 deg\", \"2 deg\"]\r\n",
			"[line]\r\nboxes = 3\r\nsplay = [\"4 deg\", \"5 deg\"]\r\n",
		},
	} {
		got, err := Rewrite(c.before, []Change{{"line.splay", `["4 deg", "5 deg"]`}})
		if err != nil || got != c.after {
			t.Errorf("%s: %v\n%q, want\n%q", name, err, got, c.after)
		}
	}
}

func TestRewriteAddsATable(t *testing.T) {
	got, err := Rewrite("title = \"x\"\n", []Change{{"line.tilt", `"2 deg"`}})
	if want := "title = \"x\"\n\n[line]\ntilt = \"2 deg\"\n"; err != nil || got != want {
		t.Errorf("%v: %q, want %q", err, got, want)
	}
}

func TestRewriteRefusesInlineTables(t *testing.T) {
	if got, err := Rewrite("line = { boxes = 3 }\n", []Change{{"line.tilt", `"2 deg"`}}); err == nil {
		t.Errorf("accepted: %q", got)
	}
}

// A starter with any splay written into it must read back with that splay and all
// else as it was.
func TestRewrittenStarterReadsBack(t *testing.T) {
	text, err := StarterText("hatch")
	if err != nil {
		t.Fatal(err)
	}
	before, err := Parse("starter", text, nil)
	if err != nil {
		t.Fatal(err)
	}
	rapid.Check(t, func(t *rapid.T) {
		list := rapid.SliceOfN(rapid.SampledFrom([]string{"0 deg", "0.5 deg", "7 deg", "10 deg"}), 6, 6).Draw(t, "splay")
		changed, err := Rewrite(string(text), []Change{{"line.splay", `["` + strings.Join(list, `", "`) + `"]`}, {"line.tilt", `"-3 deg"`}})
		if err != nil {
			t.Fatal(err)
		}
		after, err := Parse("starter", []byte(changed), nil)
		if err != nil {
			t.Fatal(err)
		}
		for i := range schema.Keys {
			k := &schema.Keys[i]
			got, want := k.Text(&after.Design, 0), k.Text(&before.Design, 0)
			switch k.Path {
			case "line.splay":
				want = strings.ReplaceAll(strings.Join(list, ", "), " deg", "°")
			case "line.tilt":
				want = "-3°"
			}
			if got != want {
				t.Fatalf("%s reads back as %s, want %s", k.Path, got, want)
			}
		}
	})
}

// Another number of boxes takes the lists along that have an entry for each, unless they are
// changed themselves.
func TestRewrittenBoxesTakeTheirListsAlong(t *testing.T) {
	const text = "[line]\nboxes = 3\nsplay = [\"1 deg\", \"2 deg\"] # by hand\nshading = [\"0 dB\", \"-1 dB\", \"-2 dB\"]\n"
	for _, c := range []struct {
		changes []Change
		want    string
	}{
		{[]Change{{"line.boxes", "2"}}, "[line]\nboxes = 2\nsplay = [\"1 deg\"] # by hand\nshading = [\"0 dB\", \"-1 dB\"]\n"},
		{[]Change{{"line.boxes", "4"}}, "[line]\nboxes = 4\nsplay = [\"1 deg\", \"2 deg\", \"2 deg\"] # by hand\nshading = [\"0 dB\", \"-1 dB\", \"-2 dB\", \"-2 dB\"]\n"},
		{[]Change{{"line.boxes", "1"}}, "[line]\nboxes = 1\nsplay = [] # by hand\nshading = [\"0 dB\"]\n"},
		{[]Change{{"line.splay", `["5 deg"]`}, {"line.boxes", "2"}}, "[line]\nboxes = 2\nsplay = [\"5 deg\"] # by hand\nshading = [\"0 dB\", \"-1 dB\"]\n"},
	} {
		if got, err := Rewrite(text, c.changes); err != nil || got != c.want {
			t.Errorf("%v: %v\n%s, want\n%s", c.changes, err, got, c.want)
		}
	}
}
