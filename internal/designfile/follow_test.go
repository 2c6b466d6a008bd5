package designfile

import (
	"strings"
	"testing"

	"gapline/internal/schema"

	"pgregory.net/rapid"
)

const linked = `[cabinet]
height = "240 mm"
gap    = "10 mm"
[horn]
mouth_height = "230 mm"
[follow]
`

func parseLinked(t *testing.T, links string, settings ...string) *File {
	t.Helper()
	f, err := Parse("d.toml", []byte(linked+links), settings)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// Without an offset the present values fix it: 230 = 1 × 250 − 20 mm, so that
// at 200 mm pitch the mouth is 180 mm high.
func TestLinkSettlesOnPresentValues(t *testing.T) {
	f := parseLinked(t, `"horn.mouth_height" = { of = "cabinet.pitch" }`+"\n", "cabinet.pitch=200mm")
	if got := f.Design.Horn.MouthHeight.Value(); !near(got, 0.18) {
		t.Errorf("mouth height = %v, want 0.18", got)
	}
}

// With a factor: 230 = 0.5 × 250 + 105 mm; at 200 mm that makes 205 mm.
func TestLinkWithFactor(t *testing.T) {
	f, err := Parse("d.toml", []byte(linked+`horn.mouth_height = { of = "cabinet.pitch", factor = 0.5 }`+"\n"), []string{"cabinet.pitch=200mm"})
	if err != nil || !near(f.Design.Horn.MouthHeight.Value(), 0.205) {
		t.Errorf("got %v, %v, want 0.205", f, err)
	}
}

// An offset gives the target a value where the file has none.
func TestLinkWithOffsetGivesTheValue(t *testing.T) {
	f := parseLinked(t, `"insert.spacing" = { of = "cabinet.pitch", factor = 0.5, offset = "-5 mm" }`+"\n"+
		`"insert.mouth_width" = { of = "cabinet.pitch", factor = 1, offset = "-0.1 m" }`+"\n[insert]\nmouths = 2\n")
	if got := f.Design.Insert.Spacing.Value(); !near(got, 0.12) {
		t.Errorf("spacing = %v, want 0.12", got)
	}
	if got := f.Design.Insert.MouthWidth.Value(); !near(got, 0.15) {
		t.Errorf("mouth width = %v, want 0.15", got)
	}
}

// An offset that agrees with the present value to within rounding is fine, one
// that does not is a contradiction.
func TestLinkOffsetMustAgree(t *testing.T) {
	parseLinked(t, `"horn.mouth_height" = { of = "cabinet.pitch", offset = "-20 mm" }`+"\n")
	_, err := Parse("d.toml", []byte(linked+`"horn.mouth_height" = { of = "cabinet.pitch", offset = "-30 mm" }`+"\n"), nil)
	want := "d.toml:7: follow.horn.mouth_height is 230 mm in its own table, but following cabinet.pitch makes it 220 mm: leave out one, or the offset"
	if err == nil || err.Error() != want {
		t.Errorf("got %v, want %s", err, want)
	}
}

// A chain acts in its own order, whatever the order in the file: insert mouth
// from spacing from pitch.
func TestLinksFormChains(t *testing.T) {
	links := []string{
		`"insert.mouth_height" = { of = "insert.spacing", factor = 0.5, offset = "10 mm" }` + "\n",
		`"insert.spacing" = { of = "cabinet.pitch", factor = 0.5, offset = "0 mm" }` + "\n",
	}
	for _, text := range []string{links[0] + links[1], links[1] + links[0]} {
		f := parseLinked(t, text+"[insert]\nmouths = 2\n", "cabinet.pitch=260mm")
		// 260/2 = 130 mm, 130/2 + 10 = 75 mm
		if i := &f.Design.Insert; !near(i.Spacing.Value(), 0.13) || !near(i.MouthHeight.Value(), 0.075) {
			t.Errorf("spacing %v, mouth %v; want 0.13, 0.075", i.Spacing.Value(), i.MouthHeight.Value())
		}
	}
}

// A setting of a key that follows takes the key off its link.
func TestSettingBreaksTheLink(t *testing.T) {
	f := parseLinked(t, `"horn.mouth_height" = { of = "cabinet.pitch" }`+"\n", "cabinet.pitch=260mm", "horn.mouth_height=150mm")
	if f.Design.Horn.MouthHeight.Value() != 0.15 || len(f.Links) != 0 {
		t.Errorf("mouth height %v, %d links", f.Design.Horn.MouthHeight.Value(), len(f.Links))
	}
}

// A source that is not given leaves the target alone.
func TestLinkWithoutSource(t *testing.T) {
	f := parseLinked(t, `"horn.mouth_height" = { of = "horn.path_length" }`+"\n")
	if f.Design.Horn.MouthHeight.Value() != 0.23 {
		t.Errorf("mouth height = %v, want 0.23", f.Design.Horn.MouthHeight.Value())
	}
}

// What a link makes of its target is held to the target's range.
func TestLinkKeepsTheRange(t *testing.T) {
	_, err := Parse("d.toml", []byte(linked+`"horn.mouth_width" = { of = "cabinet.pitch", factor = 100, offset = "0 mm" }`+"\n"), nil)
	want := "d.toml:7: follow.horn.mouth_width is 25 m: between 10 mm and 3 m is needed"
	if err == nil || err.Error() != want {
		t.Errorf("got %v, want %s", err, want)
	}
}

func TestBrokenLinks(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{`"horn.mouth_height" = 3`,
			`d.toml:7: follow.horn.mouth_height is the number 3: a table is needed, such as { of = "cabinet.pitch", factor = 1.0 }`},
		{`"horn.mouth_heigth" = { of = "cabinet.pitch" }`,
			"d.toml:7: follow.horn.mouth_heigth is not a key of the design file (did you mean horn.mouth_height?)"},
		{`"horn.mouth_height" = { of = "cabinet.pich" }`,
			`d.toml:7: follow.horn.mouth_height follows "cabinet.pich", which is not a key of the design file (did you mean cabinet.pitch?)`},
		{`"horn.mouth_height" = { factor = 2 }`,
			`d.toml:7: follow.horn.mouth_height has no part of, the key that it follows: write { of = "cabinet.pitch" } or the like`},
		{`"horn.mouth_height" = { of = "cabinet.pitch", facter = 2, offest = 1 }`,
			`d.toml:7: follow.horn.mouth_height has the unknown part "facter": of, factor and offset are possible`},
		{`"horn.coverage" = { of = "cabinet.pitch" }`,
			"d.toml:7: follow.horn.coverage is an angle and cannot follow cabinet.pitch, a length"},
		{`"title" = { of = "cabinet.pitch" }`,
			"d.toml:7: follow.title cannot follow cabinet.pitch: both must be quantities"},
		{`"insert.mouths" = { of = "line.boxes" }`,
			"d.toml:7: follow.insert.mouths cannot follow line.boxes: both must be quantities"},
		{`"horn.mouth_width" = { of = "horn.mouth_width" }`,
			"d.toml:7: follow.horn.mouth_width cannot follow itself"},
		{`"horn.mouth_width" = { of = "cabinet.pitch", factor = "2" }`,
			`d.toml:7: follow.horn.mouth_width has a factor that is the text "2": a plain number is needed`},
		{`"horn.mouth_width" = { of = "cabinet.pitch", factor = nan }`,
			"d.toml:7: follow.horn.mouth_width has the factor NaN: a number between -1000 and 1000 is needed"},
		{`"horn.mouth_width" = { of = "cabinet.pitch", offset = 3 }`,
			"d.toml:7: follow.horn.mouth_width has an offset that is the number 3: a string with a unit is needed, in mm, cm, m, in, ft"},
		{`"horn.mouth_width" = { of = "cabinet.pitch", offset = "3 Hz" }`,
			`d.toml:7: follow.horn.mouth_width has the offset "3 Hz": unit "Hz" is of a frequency: a length is needed, in mm, cm, m, in, ft`},
		{`"horn.mouth_width" = { of = "cabinet.pitch" }` + "\n" + `horn.mouth_width = { of = "cabinet.height" }`,
			"d.toml:7: follow.horn.mouth_width stands twice, once with quotes and once without"},
		{`"horn.mouth_width" = { of = "horn.mouth_height" }` + "\n" + `"horn.mouth_height" = { of = "horn.mouth_width" }`,
			"d.toml:8: follow.horn.mouth_height follows itself in a circle: horn.mouth_height, horn.mouth_width"},
		// The pitch stands for the height, since one moves the other.
		{`"cabinet.height" = { of = "cabinet.pitch" }`,
			"d.toml:7: follow.cabinet.height follows itself in a circle: cabinet.height"},
	} {
		_, err := Parse("d.toml", []byte(linked+c.text+"\n"), nil)
		if err == nil || err.Error() != c.want {
			t.Errorf("%s\ngot  %v\nwant %s", c.text, err, c.want)
		}
	}
}

// The same file gives the same message every time: maps have no order, reports
// must.
func TestReportsAreRepeatable(t *testing.T) {
	text := []byte(linked + `"horn.mouth_width" = { x = 1, y = 2, z = 3, w = 4 }` + "\n" + `"a.b" = 1` + "\n" + `"c.d" = 2` + "\n")
	_, first := Parse("d.toml", text, nil)
	for range 50 {
		if _, err := Parse("d.toml", text, nil); err.Error() != first.Error() {
			t.Fatalf("two reports of one file:\n%v\n%v", first, err)
		}
	}
}

// For any factor and any pair of pitches, a settled link moves the target by
// the factor times the change of the source and leaves the present design alone.
func TestLinkIsAStraightLine(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		factor := rapid.Float64Range(-3, 3).Draw(t, "factor")
		to := rapid.Float64Range(0.3, 0.6).Draw(t, "pitch")
		l := schema.OpenLink{Link: schema.Link{Target: schema.FindKey("horn.mouth_width"), Source: schema.FindKey("cabinet.pitch"), Factor: factor}}
		f, err := Parse("d.toml", []byte(strings.Replace(linked, "[follow]", "mouth_width = \"900 mm\"", 1)), nil)
		if err != nil {
			t.Fatal(err)
		}
		d := &f.Design
		if err := l.Settle(d); err != nil {
			t.Fatal(err)
		}
		l.Apply(d)
		if !near(d.Horn.MouthWidth.Value(), 0.9) {
			t.Fatalf("the link moves the present design to %v", d.Horn.MouthWidth.Value())
		}
		from := d.Pitch()
		d.SetPitch(to)
		l.Apply(d)
		if want := 0.9 + factor*(to-from); !near(d.Horn.MouthWidth.Value(), want) {
			t.Fatalf("at pitch %v: %v, want %v", to, d.Horn.MouthWidth.Value(), want)
		}
	})
}
