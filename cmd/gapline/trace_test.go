package main

import (
	"bytes"
	"context"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// traceLine runs gapline trace on the insert's starter in this process.
func traceLine(t *testing.T, args ...string) (code int, out, errOut string) {
	t.Helper()
	var o, e bytes.Buffer
	design := filepath.Join(t.TempDir(), "box.toml")
	if code := run(context.Background(), []string{"new", design, "--starter", "hatch-insert"}, &o, &e); code != exitDone {
		t.Fatal(e.String())
	}
	o.Reset()
	e.Reset()
	code = run(context.Background(), append([]string{"trace", design}, args...), &o, &e)
	return code, o.String(), e.String()
}

func measuredFile(name string) string {
	return filepath.Join("..", "..", "testdata", "measured", name)
}

func TestTraceExitCodes(t *testing.T) {
	bad := filepath.Join(t.TempDir(), "bad.txt")
	if err := os.WriteFile(bad, []byte("20 80\n40 eighty\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	good := measuredFile("box-insert.txt")
	for name, c := range map[string]struct {
		args []string
		code int
	}{
		"good":             {[]string{good}, exitDone},
		"bad file":         {[]string{bad}, exitUsage},
		"missing file":     {[]string{"nowhere.txt"}, exitUsage},
		"bad flag":         {[]string{good, "--smooth", "a third"}, exitUsage},
		"band not covered": {[]string{good, "--align", "1:2Hz"}, exitUsage},
		"folder missing":   {[]string{good, "-o", filepath.Join("no", "such", "folder", "a.png")}, exitFailed},
	} {
		if code, _, errOut := traceLine(t, c.args...); code != c.code {
			t.Errorf("%s: exit %d, want %d: %s", name, code, c.code, errOut)
		}
	}
}

// traced is the part of the JSON that the tests look at.
type traced struct {
	Frequency []float64  `json:"frequency_hz"`
	Predicted []*float64 `json:"predicted_db"`
	Traces    []struct {
		Name       string
		Level      []*float64 `json:"level_db"`
		Predicted  []*float64 `json:"predicted_db"`
		Difference []*float64 `json:"difference_db"`
		Octaves    []struct {
			Octave *float64 `json:"octave_hz"`
			Mean   float64  `json:"mean_db"`
		}
	}
	Pairs []struct {
		Difference []*float64 `json:"difference_db"`
		Limit      *float64   `json:"limit_hz"`
	}
}

// The curves of the JSON agree with each other and with the CSV.
func TestTraceJSONAndCSVAgree(t *testing.T) {
	args := []string{"--pair", measuredFile("box-insert.txt") + "," + measuredFile("box-bare.txt")}
	code, out, errOut := traceLine(t, append(args, "--json")...)
	var got traced
	if err := json.Unmarshal([]byte(out), &got); code != exitDone || err != nil {
		t.Fatalf("exit %d, %v: %s", code, err, errOut)
	}
	n := len(got.Frequency)
	if len(got.Traces) != 2 || len(got.Pairs) != 1 || len(got.Predicted) != n || len(got.Pairs[0].Difference) != n {
		t.Fatalf("%d traces, %d pairs, %d frequencies, %d predicted", len(got.Traces), len(got.Pairs), n, len(got.Predicted))
	}
	for _, c := range got.Traces {
		for i, d := range c.Difference {
			if (d == nil) != (c.Predicted[i] == nil) {
				t.Fatalf("%s at %g Hz: a difference without a prediction, or none with one", c.Name, got.Frequency[i])
			}
			if d != nil && math.Abs(*c.Level[i]-*c.Predicted[i]-*d) > 1e-9 {
				t.Fatalf("%s at %g Hz: %g − %g is not %g", c.Name, got.Frequency[i], *c.Level[i], *c.Predicted[i], *d)
			}
		}
	}
	_, out, _ = traceLine(t, append(args, "--csv")...)
	rows, err := csv.NewReader(strings.NewReader(out)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	first := got.Traces[0].Octaves[0]
	if want := fmt.Sprint(first.Mean); rows[1][5] != want || rows[1][2] != fmt.Sprintf("%g", *first.Octave) {
		t.Errorf("first row %v; JSON has mean %s in octave %g", rows[1], want, *first.Octave)
	}
	_, out, _ = traceLine(t, append(args, "--csv", "--curves")...)
	if rows, err = csv.NewReader(strings.NewReader(out)).ReadAll(); err != nil || len(rows) != n+1 {
		t.Errorf("%d rows of curves, %v; want %d and a head", len(rows), err, n)
	}
}

func TestTraceNames(t *testing.T) {
	files := []string{"a/one.txt", "b/one.txt", "one.wav", "two.txt", filepath.Join("c", "two.csv"), "three.txt"}
	for i, want := range []string{"a/one.txt", "b/one.txt", "one.wav", "two.txt", "two.csv", "three"} {
		if got := traceName(files, i); got != want {
			t.Errorf("%s is called %q, want %q", files[i], got, want)
		}
	}
}
