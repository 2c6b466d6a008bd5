package designfile

import (
	"context"
	"strings"
	"testing"

	"gapline/internal/schema"

	"pgregory.net/rapid"
)

// The comments of a design file stay, and the lines of keys that were not set.
func TestEditedKeepsTheRest(t *testing.T) {
	before := "title = \"x\" # mine\n[cabinet]\nheight = \"250 mm\" # of plywood\ngap = \"4 mm\"\n\n[line]\nboxes = 6\n[horn]\ncoverage = \"90 deg\"\nmouth_width = \"300 mm\"\n# the width moves\n[follow]\n\"horn.mouth_width\" = { of = \"cabinet.height\", factor = 1.0 }\n"
	for _, c := range []struct{ settings, from, to string }{
		{"cabinet.gap=6mm", `gap = "4 mm"`, `gap = "6 mm"`},
		// The offset that the file leaves open is settled by the width that it gives, 300 - 250 mm.
		{"cabinet.height=260mm", "\"250 mm\" # of plywood|\"300 mm\"", "\"260 mm\" # of plywood|\"310 mm\""},
		{"horn.mouth_width=280mm", "\"300 mm\"|\"horn.mouth_width\" = { of = \"cabinet.height\", factor = 1.0 }\n", "\"280 mm\"|"},
		// A pitch that follows from height and gap moves the height.
		{"cabinet.pitch=264mm", "\"250 mm\" # of plywood|\"300 mm\"", "\"260 mm\" # of plywood|\"310 mm\""},
	} {
		want := before
		to := strings.Split(c.to, "|")
		for i, from := range strings.Split(c.from, "|") {
			if !strings.Contains(want, from) {
				t.Fatalf("no %q", from)
			}
			want = strings.Replace(want, from, to[i], 1)
		}
		got, err := Edited(context.Background(), "box.toml", []byte(before), []string{c.settings})
		if err != nil || got != want {
			t.Errorf("%s: %v\n%s\nwant\n%s", c.settings, err, got, want)
		}
	}
}

func TestEditedRefusesInlineTables(t *testing.T) {
	text := "cabinet = { height = \"250 mm\", gap = \"4 mm\" }\n[line]\nboxes = 6\n"
	if got, err := Edited(context.Background(), "box.toml", []byte(text), []string{"cabinet.gap=6mm"}); err == nil {
		t.Errorf("accepted:\n%s", got)
	}
}

// A starter with any settings written into it gives the design that the settings give.
func TestEditedStarterIsTheDesignOfItsSettings(t *testing.T) {
	settings := []string{"cabinet.pitch=250mm", "cabinet.pitch=none", "horn.mouth_width=310mm", "horn.coverage=70deg", "insert.mouths=3", "insert.chamber_volume=0.5L",
		"air.temperature=31degC", "woofer.cost=none", "horn.mouth_height=200mm", "line.boxes=7", "line.tilt=-1.5deg", "title=other", "targets.gap=0.2oct", "--unlink"}
	rapid.Check(t, func(t *rapid.T) {
		name := rapid.SampledFrom(Starters).Draw(t, "starter").Name
		text, err := StarterText(name)
		if err != nil {
			t.Fatal(err)
		}
		set := rapid.SliceOfDistinct(rapid.SampledFrom(settings), rapid.ID[string]).Draw(t, "settings")
		want, err := Parse("box.toml", text, set)
		if err != nil {
			t.Skip("no design")
		}
		out, err := Edited(context.Background(), "box.toml", text, set)
		if err != nil {
			t.Fatalf("%v: %v", set, err)
		}
		got, err := Parse("box.toml", []byte(out), nil)
		if err != nil {
			t.Fatalf("%v: %v", set, err)
		}
		for i := range schema.Keys {
			if k := &schema.Keys[i]; !sameValue(k, &got.Design, &want.Design) {
				t.Fatalf("%v: %s differs", set, k.Path)
			}
		}
		if len(got.Links) != len(want.Links) {
			t.Fatalf("%v: %d links, want %d", set, len(got.Links), len(want.Links))
		}
	})
}
