package screen

import (
	"strings"
	"testing"

	"gapline/cabinet/sizing"
	"gapline/internal/quantity"
)

func compared() []Column {
	d, s := handDesign()
	e := d
	e.Title = strings.Repeat("long ", 20)
	e.Cabinet.Height = 0.115 // pitch 125 mm: an octave higher
	z := sizing.Size(&e)
	return []Column{{"one", &d, &s}, {"two", &e, &z}}
}

func TestCompareRows(t *testing.T) {
	rows := map[string]CompareRow{}
	for _, r := range CompareRows(compared(), quantity.Metric) {
		rows[r.Key] = r
	}
	for _, c := range []struct {
		key     string
		cells   string
		differs bool
	}{
		{"cabinet.height", "240 mm|115 mm", true},
		{"cabinet.gap", "10 mm|10 mm", false},
		{"cabinet.pitch", "250 mm|125 mm", true},
		{"coupling.open.half_wave_hz", "688 Hz|1376 Hz", true}, // 343.99/(2·pitch)
		{"gap.open_oct", "0.45 oct open|0.55 oct overlap", true},
	} {
		r, ok := rows[c.key]
		if !ok || strings.Join(r.Cells, "|") != c.cells || r.Differs != c.differs {
			t.Errorf("%s: %+v, want %s, differs %v", c.key, r, c.cells, c.differs)
		}
	}
	for _, key := range []string{"woofer.size", "coupling.insert.chamber_hz"} {
		if _, ok := rows[key]; ok {
			t.Errorf("%s is listed, but no design has it", key)
		}
	}
}

func TestWriteCompare(t *testing.T) {
	columns := compared()
	rows := CompareRows(columns, quantity.Metric)
	var some, all strings.Builder
	if err := WriteCompare(&some, columns, rows, false); err != nil {
		t.Fatal(err)
	}
	if err := WriteCompare(&all, columns, rows, true); err != nil {
		t.Fatal(err)
	}
	text := squeeze(some.String())
	for _, want := range []string{"DESIGN one two\n", "\n\nFIGURES one two\n", "cabinet.height 240 mm 115 mm*\n", "title By hand long long long"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is missing in\n%s", want, some.String())
		}
	}
	if strings.Contains(text, "cabinet.gap") || !strings.Contains(all.String(), "cabinet.gap") {
		t.Error("only --all shows rows that do not differ")
	}
	var same strings.Builder
	if err := WriteCompare(&same, columns[:1], CompareRows(columns[:1], quantity.Metric), false); err != nil || same.String() != "the designs do not differ\n" {
		t.Errorf("one design against itself: %q, %v", same.String(), err)
	}
}
