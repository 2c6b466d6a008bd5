package describe

import (
	"strings"
	"testing"

	"gapline/cabinet/sizing"
	"gapline/internal/advice"
	"gapline/internal/optional"
	"gapline/internal/quantity"
	"gapline/internal/render/machine"
	"gapline/internal/render/terminal"
)

// compared are two designs, the second with half the pitch: an octave higher.
func compared() []Sized {
	d, s := handDesign()
	e := d
	e.Title = strings.Repeat("long ", 20)
	e.Cabinet.Height = optional.Of(0.115) // pitch 125 mm
	z := sizing.Size(&e)
	return []Sized{{&d, &s, "one"}, {&e, &z, "two"}}
}

func TestCompareInTexts(t *testing.T) {
	var some, all strings.Builder
	if err := machine.CSV(&some, Compare(compared(), false, nil)); err != nil {
		t.Fatal(err)
	}
	if err := machine.CSV(&all, Compare(compared(), true, nil)); err != nil {
		t.Fatal(err)
	}
	for _, row := range []string{
		"key,one,two",
		"cabinet.height,240 mm,115 mm",
		"cabinet.pitch,250 mm,125 mm",
		"coupling.open.half_wave_hz,688 Hz,1376 Hz", // 343.99/(2·pitch)
		"gap.open_oct,0.45 oct open,0.55 oct overlap",
	} {
		if !strings.Contains(some.String(), row+"\n") {
			t.Errorf("%q is missing in\n%s", row, some.String())
		}
	}
	if same := "cabinet.gap,10 mm,10 mm\n"; strings.Contains(some.String(), same) || !strings.Contains(all.String(), same) {
		t.Error("rows that do not differ stand with all, and only there")
	}
	for _, key := range []string{"woofer.size", "coupling.insert.chamber_hz"} {
		if strings.Contains(all.String(), key) {
			t.Errorf("%s is listed, but no design has it", key)
		}
	}
}

func TestCompareScreen(t *testing.T) {
	set := func(designs []Sized, all bool) string {
		var b strings.Builder
		if err := terminal.Write(&b, Compare(designs, all, advice.DesignCautions(false)), quantity.Metric); err != nil {
			t.Fatal(err)
		}
		return b.String()
	}
	some := set(compared(), false)
	text := squeeze(some)
	for _, want := range []string{"DESIGN one two\n", "\n\nFIGURES one two\n", "cabinet.height 240 mm 115 mm*\n", "title By hand long long long", "\n\nCAUTION Rigging"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is missing in\n%s", want, some)
		}
	}
	if all := set(compared(), true); strings.Contains(text, "cabinet.gap") || !strings.Contains(all, "cabinet.gap") {
		t.Error("only --all shows rows that do not differ")
	}
	if same := set(compared()[:1], false); !strings.HasPrefix(same, "TRADEOFF") || !strings.HasSuffix(same, "\nthe designs do not differ\n") {
		t.Errorf("one design against itself: %q", same)
	}
}

// Numbers that only rounding keeps apart are the same; any real difference is one,
// even where both read alike.
func TestCompareTellsRoundingFromChange(t *testing.T) {
	d, s := handDesign()
	for change, want := range map[float64]bool{1e-15: false, 1e-6: true} {
		e := d
		e.Cabinet.Height = optional.Of(e.Cabinet.Height.Value() * (1 + change))
		z := sizing.Size(&e)
		var b strings.Builder
		if err := machine.CSV(&b, Compare([]Sized{{&d, &s, "one"}, {&e, &z, "two"}}, false, nil)); err != nil {
			t.Fatal(err)
		}
		if got := strings.Contains(b.String(), "cabinet.height"); got != want {
			t.Errorf("heights apart by %g of them differ: %v, want %v", change, got, want)
		}
	}
}
