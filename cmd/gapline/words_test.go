package main

import (
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"gapline/internal/designfile"
	"gapline/internal/quantity"
	"gapline/internal/schema"
)

// beside are the settings without which a word of the file is refused.
var beside = map[string][]string{
	"enclosure.kind=vented":           {"enclosure.tuning=45 Hz"},
	"enclosure.kind=passive radiator": {"enclosure.tuning=45 Hz", "enclosure.radiator_sd=400 cm2", "enclosure.radiator_cms=0.5 mm/N"},
	"horn.profile=points":             {"horn.distances=0 mm, 300 mm", "horn.areas=5 cm2, 850 cm2"},
	"horn.side_walls=profile":         {"horn.profile=exponential", "horn.length=300 mm"},
	"crossover.alignment":             {"crossover.order=4"},
	"crossover.low_alignment":         {"crossover.low_order=4"},
}

// studied are the studies that a table's words matter to beyond size.
var studied = map[string]string{"enclosure": "box", "woofer": "box", "horn": "horn", "fold": "fold", "crossover": "crossover", "mid": "crossover"}

// Every word of every closed set is listed by explain, is read back from the file
// that it is written to, and runs through the studies.
func TestEveryWordRunsThroughEveryCommand(t *testing.T) {
	if testing.Short() {
		t.Skip("runs the program some hundred times")
	}
	for i := range schema.Keys {
		k := &schema.Keys[i]
		if k.Type != schema.Choice {
			continue
		}
		_, explained, _ := gapline("explain", k.Path)
		for _, word := range k.Choices {
			setting := k.Path + "=" + word
			if !strings.Contains(explained, strconv.Quote(word)) {
				t.Errorf("explain %s does not list %q", k.Path, word)
			}
			settings := slices.Concat([]string{setting}, beside[k.Path], beside[setting])
			writtenAndRead(t, k, word, settings)
			runWord(t, k.Table(), settings)
		}
	}
}

// writtenAndRead writes a design of the settings to a file and reads it back.
func writtenAndRead(t *testing.T, k *schema.Key, word string, settings []string) {
	t.Helper()
	f, err := designfile.Parse("words.toml", []byte("title = \"words\"\n"), settings)
	if err != nil {
		t.Errorf("%s = %q: %v", k.Path, word, err)
		return
	}
	g, err := designfile.Parse("written.toml", designfile.Encode(&f.Project, "by a test"), nil)
	if err != nil {
		t.Errorf("%s = %q: %v", k.Path, word, err)
		return
	}
	if got := k.Text(&g.Design, quantity.Metric); got != word {
		t.Errorf("%s = %q is read back as %q", k.Path, word, got)
	}
}

// virtualPath is the starters' line that a straight wall does not want.
var virtualPath = regexp.MustCompile(`(?m)^virtual_path.*$`)

// runWord runs the settings through size and the table's study.
func runWord(t *testing.T, table string, settings []string) {
	t.Helper()
	text, err := designfile.StarterText("hatch-mids")
	if err != nil {
		t.Fatal(err)
	}
	args := []string{file(t, virtualPath.ReplaceAllString(string(text), "")), "--json"}
	for _, s := range settings {
		args = append(args, "--set", s)
	}
	for _, command := range []string{"size", studied[table]} {
		if command == "" {
			continue
		}
		line := append([]string{command}, args...)
		if command == "crossover" {
			line = append(line, "--without-best") // what the word changes is in the sum that is searched
		}
		if code, _, errOut := gapline(line...); code != exitDone {
			t.Errorf("gapline %s with %s: exit %d, %s", command, strings.Join(settings, ", "), code, errOut)
		}
	}
}
