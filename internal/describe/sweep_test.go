package describe

import (
	"bufio"
	"encoding/csv"
	"encoding/json"
	"errors"
	"io"
	"math"
	"strings"
	"testing"

	"gapline/cabinet/sizing"
	"gapline/internal/figure"
	"gapline/internal/quantity"
	"gapline/internal/render/rows"
	"gapline/internal/result"
	"gapline/internal/schema"
	"gapline/internal/study/size"
	"gapline/internal/study/space"
)

func axes(t *testing.T, vary ...string) []space.Axis {
	t.Helper()
	var out []space.Axis
	for _, v := range vary {
		a, err := space.ParseAxis(v)
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, a)
	}
	return out
}

// first returns the first value of each axis.
func first(axes []space.Axis) []schema.Value {
	var out []schema.Value
	for _, a := range axes {
		out = append(out, a.At(0))
	}
	return out
}

// playTo makes the rows of a sweep and their writer to w.
func playTo(w io.Writer, format rows.Format, a []space.Axis, shown ...schema.Measure) (*Sweep, *rows.Layout, *rows.Whole, []rows.Axis) {
	place := map[rows.Format]result.Place{rows.Text: result.Screen, rows.CSV: result.Listing, rows.JSON: result.Data}[format]
	sweep := NewSweep(place, a, shown)
	layout := rows.New(format, quantity.Inch, sweep.Columns())
	var heads []rows.Axis
	for _, x := range a {
		heads = append(heads, rows.Axis{Key: x.Key.Path, Values: sweep.Values(x)})
	}
	return sweep, layout, rows.NewWhole(bufio.NewWriterSize(w, 16), layout), heads
}

// play writes one design twice, and one that was skipped.
func play(t *testing.T, w io.Writer, format rows.Format, a []space.Axis, s *sizing.Sizing, shown ...schema.Measure) {
	t.Helper()
	sweep, layout, out, heads := playTo(w, format, a, shown...)
	line, skipped := layout.NewSetter().Row(nil, sweep.Row(nil, first(a), true, nil, s)), layout.Skipped(sweep.Varied(nil, first(a)), `too "small"`)
	if err := errors.Join(out.Begin(heads), out.Row(line), out.Row(line), out.Skip(skipped, "why"), out.End()); err != nil {
		t.Fatal(err)
	}
}

func TestTextRows(t *testing.T) {
	_, s := handDesign()
	a := axes(t, "cabinet.pitch=254mm,300mm", "horn.coverage=90,120deg")
	var b strings.Builder
	play(t, &b, rows.Text, a, &s, schema.Measure{Figure: figure.GapOpen}, schema.Measure{Figure: figure.GapLow}, schema.Measure{Figure: figure.GapInsert})
	lines := strings.Split(b.String(), "\n")
	if len(lines) != 4 || lines[1] != lines[2] {
		t.Fatalf("got\n%s", b.String())
	}
	if got := strings.Join(strings.Fields(lines[0]), " "); got != "cabinet.pitch horn.coverage fits gap.open_oct gap.low_hz gap.insert_oct" {
		t.Errorf("heading %q", got)
	}
	if got := strings.Join(strings.Fields(lines[1]), " "); got != "10 in 90° yes 0.45 oct open 688 Hz -" {
		t.Errorf("row %q", got)
	}
}

func TestCSVRows(t *testing.T) {
	_, s := handDesign()
	a := axes(t, "cabinet.pitch=250mm,300mm", "horn.coverage=90,120deg", "fold.virtual_path=flat,1m", "targets.coupling=half-wave,lobe")
	var b strings.Builder
	play(t, &b, rows.CSV, a, &s)
	records, err := csv.NewReader(strings.NewReader(b.String())).ReadAll()
	if err != nil || len(records) != 3 {
		t.Fatalf("%d records, %v", len(records), err)
	}
	column := map[string]string{}
	for i, head := range records[0] {
		column[head] = records[1][i]
	}
	for head, want := range map[string]string{
		"cabinet.pitch_m": "0.25", "horn.coverage_deg": "90", "fold.virtual_path_m": "flat", "targets.coupling": "half-wave",
		"gap.high_hz":    "940.7407407407408", // 25 400/27
		"gap.insert_oct": "",                  // no insert
	} {
		if column[head] != want {
			t.Errorf("column %s holds %q, want %q", head, column[head], want)
		}
	}
	if want := 4 + 1 + len(size.Table); len(records[0]) != want || len(column) != want {
		t.Errorf("%d columns with %d names, want %d", len(records[0]), len(column), want)
	}
}

func TestJSONRows(t *testing.T) {
	_, s := handDesign()
	s.Coupling.Open.Lobe = math.Inf(1) // no limit: JSON has no infinity
	a := axes(t, "cabinet.pitch=250mm,300mm", "horn.coverage=90,120deg", "fold.virtual_path=flat,1m", "targets.coupling=half-wave,lobe")
	var b strings.Builder
	play(t, &b, rows.JSON, a, &s)
	var got struct {
		SchemaVersion int `json:"schema_version"`
		Vary          []struct {
			Key    string
			Values []any
		}
		Rows             []map[string]any
		Skipped          []map[string]any
		SkippedNotListed int `json:"skipped_not_listed"`
	}
	if err := json.Unmarshal([]byte(b.String()), &got); err != nil {
		t.Fatalf("%v in\n%s", err, b.String())
	}
	if len(got.Vary) != 4 || got.Vary[0].Key != "cabinet.pitch" || got.Vary[0].Values[1] != 0.3 ||
		got.Vary[1].Values[0] != math.Pi/2 || got.Vary[2].Values[0] != "flat" || got.Vary[3].Values[1] != "lobe" {
		t.Errorf("axes %+v", got.Vary)
	}
	if len(got.Rows) != 2 {
		t.Fatalf("%d rows", len(got.Rows))
	}
	r := got.Rows[1]
	if r["cabinet.pitch"] != 0.25 || r["fold.virtual_path"] != "flat" || r["targets.coupling"] != "half-wave" ||
		math.Abs(r["gap.open_oct"].(float64)-0.4514) > 1e-4 || r["gap.insert_oct"] != nil || r["coupling.open.lobe_hz"] != nil {
		t.Errorf("row %v", r)
	}
	for _, f := range size.Table {
		if _, ok := r[f.Key]; !ok {
			t.Errorf("row lacks %s", f.Key)
		}
	}
	if len(got.Skipped) != 1 || got.Skipped[0]["reason"] != `too "small"` || got.Skipped[0]["cabinet.pitch"] != 0.25 || got.SkippedNotListed != 0 {
		t.Errorf("skipped %v and %d more", got.Skipped, got.SkippedNotListed)
	}
}

// With nothing to show the JSON is still whole.
func TestJSONRowsWithoutRows(t *testing.T) {
	var b strings.Builder
	_, _, w, heads := playTo(&b, rows.JSON, axes(t, "line.boxes=1,2"))
	if err := errors.Join(w.Begin(heads), w.End()); err != nil {
		t.Fatal(err)
	}
	var got map[string]any
	if err := json.Unmarshal([]byte(b.String()), &got); err != nil {
		t.Fatal(err)
	}
	if len(got["rows"].([]any)) != 0 || len(got["skipped"].([]any)) != 0 {
		t.Errorf("got %v", got)
	}
}

// maxSkipped is how many skipped designs are listed.
const maxSkipped = 1000

// Skipped designs are listed up to a bound and counted beyond.
func TestSkippedAreBounded(t *testing.T) {
	var b strings.Builder
	a := axes(t, "line.boxes=1,2")
	sweep, layout, w, heads := playTo(&b, rows.JSON, a)
	err := w.Begin(heads)
	for range maxSkipped + 7 {
		err = errors.Join(err, w.Skip(layout.Skipped(sweep.Varied(nil, first(a)), "no"), ""))
	}
	if err := errors.Join(err, w.End()); err != nil {
		t.Fatal(err)
	}
	var got struct {
		Skipped []any
		More    int `json:"skipped_not_listed"`
	}
	if err := json.Unmarshal([]byte(b.String()), &got); err != nil || len(got.Skipped) != maxSkipped || got.More != 7 {
		t.Errorf("%d listed and %d more, %v", len(got.Skipped), got.More, err)
	}
}

// full is a writer on a full disk.
type full struct{}

func (full) Write([]byte) (int, error) { return 0, errors.New("disk full") }

func TestRowWritersReportAFullDisk(t *testing.T) {
	_, s := handDesign()
	a := axes(t, "cabinet.pitch=250mm,300mm")
	for _, name := range []rows.Format{rows.Text, rows.CSV, rows.JSON} {
		sweep, layout, w, heads := playTo(full{}, name, a, schema.Measure{Figure: figure.GapOpen})
		line := layout.NewSetter().Row(nil, sweep.Row(nil, first(a), true, nil, &s))
		err := w.Begin(heads)
		if err == nil {
			err = w.Row(line)
		}
		if err == nil {
			t.Errorf("%s: heading and row went onto a full disk", name)
		}
		if w.End() == nil {
			t.Errorf("%s: the end went onto a full disk", name)
		}
	}
}
