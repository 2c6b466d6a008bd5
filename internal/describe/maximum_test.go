package describe

import (
	"bytes"
	"context"
	"encoding/csv"
	"encoding/json"
	"math"
	"strconv"
	"strings"
	"testing"

	"gapline/internal/designfile"
	"gapline/internal/quantity"
	"gapline/internal/render/machine"
	"gapline/internal/render/picture"
	"gapline/internal/result"
	"gapline/internal/study/line"
	"gapline/plots"
)

// loudestOf is the largest levels of a starter's stack.
func loudestOf(t *testing.T, file *designfile.File) (*line.Result, *result.Result) {
	t.Helper()
	s, problems := line.New(&file.Design, line.Conditions{})
	if problems != nil {
		t.Fatal(problems)
	}
	r, err := s.Hear(context.Background(), line.Request{Views: []line.View{line.MaximumView, line.ProgrammeView}})
	if err != nil {
		t.Fatal(err)
	}
	return r, Line(r, nil)
}

func largest(t *testing.T, file *designfile.File) plots.Figure {
	t.Helper()
	_, r := loudestOf(t, file)
	fig, err := picture.Of(r, quantity.Metric, string(line.MaximumView))
	if err != nil {
		t.Fatal(err)
	}
	return fig
}

// Each range of the curve says which band stops it and by what, and the words stay whole.
func TestWhatStopsIsWrittenBesideTheCurve(t *testing.T) {
	_, r := loudestOf(t, starter(t, "hatch-mids"))
	for _, view := range []line.View{line.MaximumView, line.ProgrammeView} {
		text := svg(t, r, string(view), quantity.Metric)
		cautioned(t, string(view), text)
		want := []string{"woofers: vent air", "woofers: power", "mids: power", "horn: power", "one box", "stack, on its axis at 1 m", "power compression left out"}
		if view == line.ProgrammeView {
			want = []string{"A-weighted", "C-weighted", "simulated programme signal of IEC 60268-1, crest factor 6.0 dB", "by vent air"}
		}
		text = strings.Join(strings.Fields(strings.NewReplacer("</text>", " ", "\n", " ").Replace(text)), " ")
		for _, w := range want {
			for _, word := range strings.Fields(w) { // a caption breaks its lines where it likes
				if !strings.Contains(text, word) {
					t.Errorf("%s does not say %q", view, w)
				}
			}
		}
	}
}

// CSV and JSON hold the same numbers, and the sum never goes beyond what a band alone and
// all bands together could give.
func TestLargestLevelsForPrograms(t *testing.T) {
	_, r := loudestOf(t, starter(t, "hatch"))
	var text bytes.Buffer
	if err := machine.CSV(&text, r, string(line.MaximumView)); err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(&text).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var data bytes.Buffer
	if err := machine.JSON(&data, r); err != nil {
		t.Fatal(err)
	}
	var o struct {
		Maximum struct {
			Box   []float64 `json:"box_db"`
			By    []string  `json:"stopped_by"`
			Bands []struct {
				Name string
				Box  []float64 `json:"box_db"`
			}
		}
	}
	if err := json.Unmarshal(data.Bytes(), &o); err != nil {
		t.Fatal(err)
	}
	m := o.Maximum
	if len(rows) != len(m.Box)+1 || len(m.Bands) != 2 || strings.Join(rows[0], ",") != "frequency_hz,box_db,stack_db,band,stopped_by,raise_db,woofers_db,woofers_stopped_by,horn_db,horn_stopped_by" {
		t.Fatalf("%d rows, head %v, %d bands", len(rows), rows[0], len(m.Bands))
	}
	for k, row := range rows[1:] {
		x, err := strconv.ParseFloat(row[1], 64)
		if err != nil || x != m.Box[k] || row[4] != m.By[k] {
			t.Errorf("row %d: %v in CSV, %g and %s in JSON", k, row, m.Box[k], m.By[k])
		}
		together := 0.0 // all bands at their own largest levels, in phase
		for _, b := range m.Bands {
			together += math.Pow(10, b.Box[k]/20)
		}
		if m.Box[k] > 20*math.Log10(together)+0.01 {
			t.Errorf("row %d: %g dB through the crossover, all bands together give %g", k, m.Box[k], 20*math.Log10(together))
		}
	}
}
