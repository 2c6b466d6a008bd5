package designfile

import (
	"strings"
	"testing"

	"gapline/cabinet/design"
	"gapline/internal/numeric"
	"gapline/internal/reftable"
)

// What is written reads back to five digits, whatever stands in title and comments.
func TestDriverFileReadsBack(t *testing.T) {
	none := numeric.Absent
	text := string(EncodeDriver("a \"title\"\nfs = 1", []string{"one\nqes = 3"}, []DriverValue{
		{"fs", 48.0192345, 47.9, 48.1}, {"qms", 12.345678, none, none}, {"vas", 0.0566691, none, none}, {"xmax", none, none, none}, {"le", 0.000012345678, none, none},
	}, "below\nre = 3"))
	w, err := ParseDriver("x.toml", []byte(text))
	if err != nil {
		t.Fatalf("%v\n%s", err, text)
	}
	if w.Title != `a "title" fs = 1` {
		t.Errorf("title %q", w.Title)
	}
	d := design.New()
	w.Put(&d)
	p := d.Woofer.Parameters
	// Half a unit of the fifth digit.
	const five = 5e-5
	reftable.Near(t, "fs", p.Fs.Value(), 48.0192345, five)
	reftable.Near(t, "qms", p.Qms.Value(), 12.345678, five)
	reftable.Near(t, "vas", p.Vas.Value(), 0.0566691, five)
	reftable.Near(t, "le", p.Le.Value(), 0.000012345678, five)
	if p.Xmax.Given() || p.Qes.Given() || p.Re.Given() {
		t.Errorf("parameters that were not given: %+v", p)
	}
	if !strings.Contains(text, "# 47.9 Hz to 48.1 Hz\n") {
		t.Errorf("no bounds in\n%s", text)
	}
}
