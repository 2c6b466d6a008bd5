package main

import (
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// cutOut is a closed outline of a DXF.
type cutOut struct {
	layer string
	area  float64 // mm²
}

// cutOuts reads the entities of an ASCII DXF from its group codes alone.
func cutOuts(t *testing.T, path string) []cutOut {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(strings.TrimSuffix(string(data), "\n"), "\n")
	entities, kind, layer := false, "", ""
	var x, y []float64
	radius, closed := 0.0, false
	var out []cutOut
	end := func() {
		switch kind {
		case "CIRCLE":
			out = append(out, cutOut{layer, math.Pi * radius * radius})
		case "LWPOLYLINE":
			if !closed {
				t.Errorf("an outline on %s is open", layer)
			}
			sum := 0.0
			for i := range x {
				j := (i + 1) % len(x)
				sum += x[i]*y[j] - x[j]*y[i]
			}
			out = append(out, cutOut{layer, math.Abs(sum) / 2})
		}
		kind, x, y = "", nil, nil
	}
	for i := 0; i+1 < len(lines); i += 2 {
		code, value := strings.TrimSpace(lines[i]), strings.TrimSpace(lines[i+1])
		number, _ := strconv.ParseFloat(value, 64)
		switch {
		case code == "2" && value == "ENTITIES":
			entities = true
		case !entities:
		case code == "0":
			end()
			kind = value
			if value == "ENDSEC" {
				return out
			}
		case code == "8":
			layer = value
		case code == "10":
			x = append(x, number)
		case code == "20":
			y = append(y, number)
		case code == "40":
			radius = number
		case code == "70":
			closed = value == "1"
		}
	}
	t.Fatal("no end of the entities")
	return nil
}

// The areas of all outlines on a layer are those of the file's values, to the tenth of a
// micrometre to which coordinates are written: π·d²/4 of pistons, or of flanges where no
// piston is given, w·h of mouths, and of a turned cone the ellipse that it shows, whose
// chords take up to 0.05 mm off its radius.
func TestPanelsAreCutToTheFile(t *testing.T) {
	circle := func(d float64) float64 { return math.Pi / 4 * d * d }
	boxes := filepath.Join("..", "..", "internal", "describe", "testdata", "boxes")
	for _, c := range []struct {
		file  string
		set   []string
		layer string
		want  []float64
	}{
		{"beside", nil, "FRONT", []float64{640 * 300, circle(220), 320 * 270}},
		{"beside", nil, "SIDE", []float64{500 * 300, 500 * 300}},
		{"mids", []string{"mid.effective_diameter=88mm"}, "FRONT", []float64{860 * 340, circle(300), circle(88), circle(88), circle(88), circle(88), 240 * 320}},
		{"twins", nil, "FRONT", []float64{900 * 280, circle(205), circle(205), 330 * 260}},
		{"behind", nil, "FRONT", []float64{640 * 300, 300 * 250, 170 * 250, 170 * 250}},
		{"radiators", nil, "FRONT", []float64{680 * 300, 215e2, 400 * 270}},
		{"radiators", nil, "SIDE", []float64{500 * 300, 320e2, 500 * 300, 320e2}},
		{"radiators", []string{"enclosure.radiator_panel=rear", "enclosure.radiators=1", "enclosure.radiator_offset=0mm"}, "REAR", []float64{680 * 300, 320e2}},
		{"tapered", nil, "SIDE", []float64{450 * 250, 450 * 250}},
		{"beside", []string{"woofer.turn=20deg", "woofer.setback=50mm"}, "FRONT", []float64{640 * 300, circle(220) * math.Cos(math.Pi/9), 320 * 270}},
		{"insert", nil, "PLATE", []float64{240 * 240, 84 * 104, 84 * 104}},
		{"insert", nil, "FRONT", []float64{620 * 268, 240 * 240, 330 * 258}},
	} {
		path := filepath.Join(t.TempDir(), "panels.dxf")
		args := []string{"draw", filepath.Join(boxes, c.file+".toml"), "-o", path, "--quiet"}
		for _, s := range c.set {
			args = append(args, "--set", s)
		}
		if code, _, errOut := gapline(args...); code != exitDone {
			t.Errorf("%s %v: exit %d, %s", c.file, c.set, code, errOut)
			continue
		}
		var got []float64
		for _, o := range cutOuts(t, path) {
			if o.layer == c.layer {
				got = append(got, o.area)
			}
		}
		slices.Sort(got)
		slices.Sort(c.want)
		tolerance := 1e-5 // coordinates to 1e-4 mm of 84 mm and more
		if slices.Contains(c.set, "woofer.turn=20deg") {
			tolerance = 2 * 0.05 / (220.0 / 2 * math.Cos(math.Pi/9))
		}
		if !slices.EqualFunc(got, c.want, func(a, b float64) bool { return math.Abs(a/b-1) < tolerance }) {
			t.Errorf("%s %v: areas on %s are %.1f mm², want %.1f", c.file, c.set, c.layer, got, c.want)
		}
	}
}
