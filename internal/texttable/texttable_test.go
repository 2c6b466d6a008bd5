package texttable

import (
	"errors"
	"math"
	"slices"
	"strings"
	"testing"
)

// read collects rows and headers of a text.
func read(text string, missing bool) (rows [][]float64, headers []string, err error) {
	t := Reader{
		Columns: "frequency and a number", Missing: missing,
		Header: func(s string) error { headers = append(headers, s); return nil },
		Row:    func(v []float64) error { rows = append(rows, slices.Clone(v)); return nil },
	}
	err = t.Read(strings.NewReader(text))
	return rows, headers, err
}

func TestQuotedFields(t *testing.T) {
	want := [][]float64{{20, 80.5}, {40.25, -81}}
	for name, text := range map[string]string{
		"all quoted":        "\"20\",\"80.5\"\n\"40.25\",\"-81\"\n",
		"decimal commas":    "\"20\",\"80,5\"\n\"40,25\",\"-81,0\"\n",
		"only some":         "20,\"80,5\"\n\"40,25\",-81\n",
		"semicolons":        "\"20\";\"80,5\"\n\"40,25\";\"-81\"\n",
		"quoted header":     "\"f, Hz\",\"level\"\n\"20\",\"80.5\"\n\"40.25\",\"-81\"\n",
		"quoted remark":     "20 80.5\n\"made up\"\n40.25 -81\n",
		"minus sign U+2212": "20 80.5\n40.25 −81\n",
	} {
		got, _, err := read(text, false)
		if err != nil || !slices.EqualFunc(got, want, slices.Equal) {
			t.Errorf("%s: %v, %v; want %v", name, got, err, want)
		}
	}
}

func TestMissingValues(t *testing.T) {
	rows, _, err := read("20 NaN\n30 -inf\n40 -Infinity 1\n", true)
	if err == nil {
		t.Error("changing column count is read")
	}
	if len(rows) != 2 || !math.IsNaN(rows[0][1]) || !math.IsNaN(rows[1][1]) {
		t.Errorf("rows %v: want two, without values", rows)
	}
	for _, text := range []string{"nan 5\n", "20 inf\n", "20 1e400\n", "20 -1e400\n", "20 0x1p4\n", "20 1_0\n"} {
		if _, _, err := read(text, true); err == nil {
			t.Errorf("%q is read", text)
		}
	}
	if _, _, err := read("20 nan\n", false); err == nil {
		t.Error("nan is read where no value may be missing")
	}
}

func TestErrorOfRowCarriesTheLine(t *testing.T) {
	r := Reader{Columns: "two", Row: func([]float64) error { return errors.New("no") }}
	var e *Error
	if err := r.Read(strings.NewReader("# one\n\n1 2\n")); !errors.As(err, &e) || e.Line != 3 {
		t.Errorf("err = %v, want one of line 3", err)
	}
}

func TestTooLargeIsRefused(t *testing.T) {
	if _, _, err := read(strings.Repeat("# filler of sixteen\n", Limit/20+2), false); err == nil || !strings.Contains(err.Error(), "larger than") {
		t.Errorf("err = %v, want the limit", err)
	}
}
