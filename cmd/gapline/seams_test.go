package main

import (
	"encoding/csv"
	"encoding/json"
	"math"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"gapline/internal/figure"
)

// seams holds, for each command that prints figures of a sizing, how it is called for a
// design and where a figure stands in what it prints.
var seams = []struct {
	command string
	args    func(file string) []string
	value   func(o map[string]any, key string) (any, bool)
	least   int // figures that it has at least
}{
	{"horn", func(f string) []string { return []string{"horn", f} }, at, 10},
	{"fold", func(f string) []string { return []string{"fold", f} }, inTable("fold"), 8},
	{"box", func(f string) []string { return []string{"box", f} }, inTable("box"), 3},
	{"compare", func(f string) []string { return []string{"compare", f, f} }, func(o map[string]any, key string) (any, bool) {
		first, _ := o["designs"].([]any)[0].(map[string]any)
		return at(first, key)
	}, 40},
	{"sweep", func(f string) []string { return []string{"sweep", f, "--vary", "air.temperature=24degC"} }, func(o map[string]any, key string) (any, bool) {
		row, _ := o["rows"].([]any)[0].(map[string]any)
		x, ok := row[key]
		return x, ok
	}, 40},
	{"tolerance", func(f string) []string { return []string{"tolerance", f, "--samples", "100"} }, func(o map[string]any, key string) (any, bool) {
		figures, _ := o["figures"].(map[string]any)
		one, _ := figures[key].(map[string]any)
		x, ok := one["as_designed"]
		return x, ok
	}, 40},
	{"wave", func(f string) []string { return []string{"wave", f, "--from", "2kHz", "--to", "4kHz", "--count", "2"} }, func(o map[string]any, key string) (any, bool) {
		if strings.Contains(key, "_wave_") {
			return nil, false // of this run, which is too short to be stored
		}
		return at(o, key)
	}, 4},
}

// inTable finds figures of a command that leaves its own name off their keys.
func inTable(name string) func(o map[string]any, key string) (any, bool) {
	return func(o map[string]any, key string) (any, bool) {
		leaf, ok := strings.CutPrefix(key, name+".")
		if !ok {
			return nil, false
		}
		return at(o, leaf)
	}
}

// A figure of a sizing is one number, whoever prints it.
func TestCommandsAgreeOnFigures(t *testing.T) {
	for _, starter := range []string{"hatch", "hatch-insert", "hatch-mids"} {
		file := starterFile(t, starter)
		size := object(t, "size", file)
		for _, c := range seams {
			o := object(t, c.args(file)...)
			met := 0
			for _, f := range figure.Sized() {
				want, _ := at(size, f.Key)
				got, _ := c.value(o, f.Key)
				x, isNumber := got.(float64)
				y, both := want.(float64)
				if !isNumber || !both {
					continue
				}
				// The same arithmetic on the same design: but for a rounding of equal steps in
				// another order.
				if math.Abs(x-y) > 1e-12*math.Abs(y) {
					t.Errorf("%s: %s is %v in %s, %v in size", starter, f.Key, x, c.command, y)
				}
				met++
			}
			if met < c.least {
				t.Errorf("%s: %s and size share only %d figures", starter, c.command, met)
			}
		}
	}
}

// The review document holds the figures of size.
func TestReportAgreesOnFigures(t *testing.T) {
	file := starterFile(t, "hatch-insert")
	page, _ := reported(t, file)
	m := regexp.MustCompile(`(?s)<script type="application/json" id="size-1">(.*?)</script>`).FindSubmatch(page)
	if m == nil {
		t.Fatal("the document holds no figures")
	}
	var held map[string]any
	if err := json.Unmarshal(m[1], &held); err != nil {
		t.Fatal(err)
	}
	size := object(t, "size", file)
	met := 0
	for _, f := range figure.Sized() {
		want, _ := at(size, f.Key)
		if x, ok := want.(float64); ok {
			if got, _ := at(held, f.Key); got != x {
				t.Errorf("%s is %v in the document, %v in size", f.Key, got, x)
			}
			met++
		}
	}
	if met < 40 {
		t.Errorf("only %d figures", met)
	}
}

// series is a list of numbers under a dotted key; what is null is NaN.
func series(t *testing.T, o map[string]any, key string) []float64 {
	t.Helper()
	v, _ := at(o, key)
	list, ok := v.([]any)
	if !ok {
		t.Fatalf("%s is no list", key)
	}
	out := make([]float64, len(list))
	for i, x := range list {
		n, isNumber := x.(float64)
		if !isNumber {
			n = math.NaN()
		}
		out[i] = n
	}
	return out
}

// inRow is a row of a list of lists.
func inRow(t *testing.T, o map[string]any, key string, i int) []float64 {
	t.Helper()
	v, _ := at(o, key)
	return series(t, map[string]any{"row": v.([]any)[i]}, "row")
}

// nearest is the index of the value nearest to x.
func nearest(list []float64, x float64) int {
	best := 0
	for i := range list {
		if math.Abs(list[i]-x) < math.Abs(list[best]-x) {
			best = i
		}
	}
	return best
}

// The horizontal pattern is one in horn, line and wave. horn and wave take the same
// integral. line sums the whole stack: far above the crossover of 900 Hz the woofers are out
// of it, by Linkwitz and Riley's fourth order by 24 dB an octave, 52 dB at 4 kHz, which leaves
// 20·log10(1 + 10^(−52/20)) = 0.02 dB.
func TestPatternsAgree(t *testing.T) {
	file := starterFile(t, "hatch")
	horn := object(t, "horn", file, "--view", "map")
	frequency, width := series(t, horn, "frequency_hz"), series(t, horn, "horizontal_deg")

	wave := object(t, "wave", file, "--from", "2kHz", "--to", "4kHz", "--count", "2")
	for i, f := range series(t, wave, "frequency_hz") {
		if got, want := series(t, wave, "beamwidth_aperture_deg")[i], width[nearest(frequency, f)]; math.Abs(got-want) > 1e-6 {
			t.Errorf("%v Hz: %v° in wave, %v° in horn", f, got, want)
		}
	}

	line := object(t, "line", file, "--shape", "straight", "--set", "line.tilt=0deg", "--boundary", "baffle", "--frequencies", "4kHz,8kHz")
	angle := series(t, line, "horizontal.angle_deg")
	mapAngle := series(t, horn, "map.angle_deg")
	for i, f := range series(t, line, "horizontal.frequency_hz") {
		level := inRow(t, line, "horizontal.level_db", i)
		for _, a := range []float64{10, 20, 30, 40, 50, 60, 70, 80} {
			got := level[nearest(angle, a)]
			want := inRow(t, horn, "map.level_db", nearest(mapAngle, a))[nearest(frequency, f)]
			if math.Abs(got-want) > 0.02 {
				t.Errorf("%v Hz, %v°: %v dB in line, %v dB in horn", f, a, got, want)
			}
		}
	}
}

// The level of one box is one in box, line and trace. line sends it through the crossover at
// 900 Hz, whose fourth order takes 20·log10(1 + (f/900)⁴) off, 0.003 dB at 125 Hz, and adds
// the horn's share. trace takes the exact radiation of the cone, as the stack of one in box.
func TestLevelsAgree(t *testing.T) {
	file := starterFile(t, "hatch")
	const from, to = "62.5Hz", "125Hz"
	box := object(t, "box", file, "--from", from, "--to", to, "--per-octave", "1")
	line := object(t, "line", file, "--set", "line.boxes=1", "--boundary", "baffle", "--frequencies", "62.5Hz,125Hz")
	for i, f := range series(t, box, "frequency_hz") {
		got, want := series(t, line, "polar.on_axis_db")[i], series(t, box, "spl_db")[i]
		if math.Abs(got-want) > 0.005 {
			t.Errorf("%v Hz: %v dB in line, %v dB in box", f, got, want)
		}
	}

	measured := filepath.Join("..", "..", "testdata", "measured", "box-bare.txt")
	code, out, errOut := gapline("trace", file, measured, "--align", "none", "--smooth", "none", "--curves", "--csv")
	if code != exitDone {
		t.Fatal(errOut)
	}
	rows, err := csv.NewReader(strings.NewReader(out)).ReadAll()
	if err != nil || len(rows) < 200 || rows[0][1] != "predicted_db" {
		t.Fatalf("%v, %d rows", err, len(rows))
	}
	for _, i := range []int{1, 80, 150, 200} {
		f, _ := strconv.ParseFloat(rows[i][0], 64)
		got, _ := strconv.ParseFloat(rows[i][1], 64)
		o := object(t, "box", file, "--from", rows[i][0]+"Hz", "--to", strconv.FormatFloat(2*f, 'g', -1, 64)+"Hz", "--per-octave", "1")
		want := inRow(t, o, "stack.spl_db", 0)[0]
		// trace puts its prediction on the grid of the traces like one of them, between points.
		if math.Abs(got-want) > 1e-3 {
			t.Errorf("%v Hz: %v dB in trace, %v dB of one box of the stack in box", f, got, want)
		}
		// The radiation resistance of the cone, and the phase between cone and vent: more
		// than this would not be a detail of the circuit.
		if plain := series(t, o, "spl_db")[0]; math.Abs(got-plain) > 0.6 {
			t.Errorf("%v Hz: %v dB in trace, %v dB in box", f, got, plain)
		}
	}
}
