// Package reftable reads the reference tables under testdata/reference. It is
// used by tests only. Each table starts with comment lines that name its
// sources; the tests compare the program with the columns.
package reftable

import (
	"encoding/csv"
	"math"
	"os"
	"path/filepath"
	"runtime"
	"strconv"
	"testing"
)

// Row is one line of a table: column name to value. A blank cell, or one that
// is not a number, is NaN.
type Row struct {
	cells map[string]string
	t     testing.TB
	Name  string // table and line, for messages
}

// Get returns the number in a column; a column that does not exist fails the
// test, so that a renamed table cannot pass silently.
func (r Row) Get(column string) float64 {
	r.t.Helper()
	s, ok := r.cells[column]
	if !ok {
		r.t.Fatalf("%s: no column %q", r.Name, column)
	}
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		return math.NaN()
	}
	return v
}

// Text returns a column as it stands.
func (r Row) Text(column string) string { return r.cells[column] }

// Read returns the rows of testdata/reference/NAME.csv. It fails the test when
// the table is missing or empty.
func Read(t testing.TB, name string) []Row {
	t.Helper()
	_, here, _, _ := runtime.Caller(0)
	path := filepath.Join(filepath.Dir(here), "..", "..", "testdata", "reference", name+".csv")
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	cr := csv.NewReader(f)
	cr.Comment = '#'
	records, err := cr.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if len(records) < 2 {
		t.Fatalf("%s: no rows", path)
	}
	rows := make([]Row, 0, len(records)-1)
	for i, rec := range records[1:] {
		cells := make(map[string]string, len(rec))
		for j, c := range records[0] {
			cells[c] = rec[j]
		}
		rows = append(rows, Row{cells: cells, t: t, Name: name + " row " + strconv.Itoa(i+1)})
	}
	return rows
}

// Near fails the test unless got is within the relative tolerance tol of want.
// A blank (NaN) want is skipped.
func Near(t testing.TB, what string, got, want, tol float64) {
	t.Helper()
	if math.IsNaN(want) {
		return
	}
	if !(math.Abs(got-want) <= tol*math.Abs(want)) {
		t.Errorf("%s = %.12g, want %.12g (relative error %.2g > %.2g)",
			what, got, want, math.Abs(got-want)/math.Abs(want), tol)
	}
}

// Within fails the test unless |got - want| <= tol. A blank (NaN) want is
// skipped.
func Within(t testing.TB, what string, got, want, tol float64) {
	t.Helper()
	if math.IsNaN(want) {
		return
	}
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s = %.12g, want %.12g (error %.2g > %.2g)", what, got, want, math.Abs(got-want), tol)
	}
}
