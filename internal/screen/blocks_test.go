package screen

import (
	"slices"
	"testing"
)

func TestBlocks(t *testing.T) {
	table := &Table{}
	table.Row("ENCLOSURE", "", "trust")
	table.Row("  volume", "34 L", "geometry")
	table.Row("> tuning", "56 Hz", "aperture")
	table.Row("RESPONSE at 1 m in half space")
	table.Row("  f3", "60 Hz", "aperture")
	table.Row("NOTHING below")
	table.Row()
	table.Row("OVER FREQUENCY (aperture)", "horizontal", "vertical")
	table.Row("  100 Hz", "over 180°", "90°")
	table.Row("  16 kHz", "85°")
	got := table.Blocks()
	want := []Block{
		{"Enclosure", []string{"figure", "value", "trust"}, [][]string{{"volume", "34 L", "geometry"}, {"tuning", "56 Hz", "aperture"}}},
		{"Response at 1 m in half space", []string{"figure", "value", "trust"}, [][]string{{"f3", "60 Hz", "aperture"}}},
		{"Over frequency (aperture)", []string{"frequency", "horizontal", "vertical"}, [][]string{{"100 Hz", "over 180°", "90°"}, {"16 kHz", "85°", ""}}},
	}
	if len(got) != len(want) {
		t.Fatalf("%d blocks, want %d: %v", len(got), len(want), got)
	}
	for i, w := range want {
		g := got[i]
		if g.Title != w.Title || !slices.Equal(g.Head, w.Head) || !slices.EqualFunc(g.Rows, w.Rows, slices.Equal[[]string]) {
			t.Errorf("block %d is %q, want %q", i, g, w)
		}
	}
}

func TestSentence(t *testing.T) {
	for title, want := range map[string]string{
		"LOWER LIMIT, set by the pattern": "Lower limit, set by the pattern",
		"VERTICAL, dB re axis":            "Vertical, dB re axis",
		"SEATS, 4.00 m to 34.0 m":         "Seats, 4.00 m to 34.0 m",
		"INSERT, 2 mouths of 84 mm":       "Insert, 2 mouths of 84 mm",
		"":                                "",
	} {
		if got := sentence(title); got != want {
			t.Errorf("sentence(%q) = %q, want %q", title, got, want)
		}
	}
}
