package describe

import (
	"strings"
	"testing"

	"gapline/cabinet/sizing"
	"gapline/internal/designfile"
	"gapline/internal/quantity"
	"gapline/internal/render/picture"
	"gapline/plots"
)

// What two designs do not share is said with the value of each, and nothing is where
// they agree.
func TestComparedPicturesSayWhatIsNotAlike(t *testing.T) {
	load := func(name string, settings ...string) Sized {
		file, err := designfile.LoadStarter("hatch", settings)
		if err != nil {
			t.Fatal(err)
		}
		s := sizing.Size(&file.Design)
		return Sized{Design: &file.Design, Sizing: &s, Name: name}
	}
	draw := func(designs ...Sized) string {
		var b strings.Builder
		if err := plots.WriteSVG(&b, "p", picture.Figure(Strip(designs), quantity.Metric)); err != nil {
			t.Fatal(err)
		}
		return b.String()
	}
	if got := draw(load("a"), load("b", "cabinet.width=600mm")); strings.Contains(got, "not alike") {
		t.Error("designs in the same air by the same criterion are said to differ")
	}
	got := draw(load("a"), load("b", "air.temperature=4degC", "targets.coupling=lobe"))
	for _, want := range []string{"not alike: criterion (a half-wave rule, b lobe)", "air (a 24 °C, b 4 °C)", "air of each design", "on the criterion of each design"} {
		if !strings.Contains(strings.Join(strings.Fields(tagless(got)), " "), want) {
			t.Errorf("the strip does not say %q", want)
		}
	}
}

// tagless is the text of a picture.
func tagless(svg string) string {
	var b strings.Builder
	in := false
	for _, r := range svg {
		switch {
		case r == '<':
			in = true
		case r == '>':
			in = false
			b.WriteByte(' ')
		case !in:
			b.WriteRune(r)
		}
	}
	return b.String()
}
