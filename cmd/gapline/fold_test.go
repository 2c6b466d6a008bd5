package main

import (
	"bytes"
	"context"
	"encoding/csv"
	"encoding/json"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

// foldResult is the part of the fold command's JSON that the contract fixes, and
// the apex.
type foldResult struct {
	Wall struct {
		Z []float64 `json:"z_m"`
		Y []float64 `json:"y_m"`
	} `json:"wall"`
	Ray struct {
		Path   []float64 `json:"path_m"`
		MouthY []float64 `json:"mouth_y_m"`
		Level  []float64 `json:"level_db"`
	} `json:"ray"`
	Throat, Apex *struct {
		Z float64 `json:"z_m"`
		Y float64 `json:"y_m"`
	}
	Mouth struct {
		Z      float64 `json:"z_m"`
		Top    float64 `json:"y_top_m"`
		Bottom float64 `json:"y_bottom_m"`
	} `json:"mouth"`
	PathSpread float64  `json:"path_spread_m"`
	FlatTo     *float64 `json:"flat_to_hz"`
	Depth      float64  `json:"depth_m"`
	DepthSaved float64  `json:"depth_saved_m"`
}

// foldDesign writes a design file from its text and returns the name.
func foldDesign(t *testing.T, text string) string {
	t.Helper()
	name := filepath.Join(t.TempDir(), "fold.toml")
	if err := os.WriteFile(name, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	return name
}

func runFoldJSON(t *testing.T, args ...string) foldResult {
	t.Helper()
	var out, errOut bytes.Buffer
	if code := run(context.Background(), append([]string{"fold", "--json"}, args...), &out, &errOut); code != exitDone {
		t.Fatalf("exit %d: %s", code, errOut.String())
	}
	var f foldResult
	if err := json.Unmarshal(out.Bytes(), &f); err != nil {
		t.Fatal(err)
	}
	if n := len(f.Ray.Path); n < 100 || len(f.Wall.Z) != n || len(f.Wall.Y) != n || len(f.Ray.MouthY) != n {
		t.Fatalf("%d paths, %d and %d wall points, %d mouth points: want as many of each", n, len(f.Wall.Z), len(f.Wall.Y), len(f.Ray.MouthY))
	}
	return f
}

const plainFold = `
[horn]
mouth_height = "250 mm"
[fold]
throat_to_wall = "120 mm"
layer = "10 mm"
virtual_path = "flat"
`

// checkPaths works out every path again from the printed points alone: throat to
// wall to the mouth plane.
func checkPaths(t *testing.T, f foldResult) (shortest, longest float64) {
	t.Helper()
	const tol = 1e-9 // m, asked for by the issue
	shortest, longest = math.Inf(1), math.Inf(-1)
	for i := range f.Ray.Path {
		toWall := math.Hypot(f.Wall.Z[i]-f.Throat.Z, f.Wall.Y[i]-f.Throat.Y)
		toMouth := math.Hypot(f.Mouth.Z-f.Wall.Z[i], f.Ray.MouthY[i]-f.Wall.Y[i])
		if got := f.Ray.Path[i]; math.Abs(got-toWall-toMouth) > tol {
			t.Errorf("ray %d: path %g m, its points say %g m", i+1, got, toWall+toMouth)
		}
		shortest, longest = math.Min(shortest, f.Ray.Path[i]), math.Max(longest, f.Ray.Path[i])
	}
	n := len(f.Ray.MouthY)
	if math.Abs(f.Ray.MouthY[0]-f.Mouth.Bottom) > tol || math.Abs(f.Ray.MouthY[n-1]-f.Mouth.Top) > tol {
		t.Errorf("rays run from %g to %g m, mouth from %g to %g m", f.Ray.MouthY[0], f.Ray.MouthY[n-1], f.Mouth.Bottom, f.Mouth.Top)
	}
	// The spread is that of all rays: the shortest may lie between two that are
	// printed, a step of 1/200 of the fan off at most, which changes a path in
	// the second order only.
	if d := f.PathSpread - (longest - shortest); d < -tol || d > 1e-4*f.PathSpread+tol {
		t.Errorf("path_spread_m %g, the paths say %g", f.PathSpread, longest-shortest)
	}
	return shortest, longest
}

// A parabola about the throat makes all paths equal; the wall's half-height obeys
// h/2 = 2a tan(φ/2) and the ray density 1 + cos φ (physics of the parabola, closed
// form).
func TestFoldJSONParabola(t *testing.T) {
	f := runFoldJSON(t, foldDesign(t, plainFold))
	shortest, longest := checkPaths(t, f)
	if longest-shortest > 1e-9 || f.FlatTo != nil {
		t.Errorf("paths spread by %g m, flat_to_hz %v: want equal paths and null", longest-shortest, f.FlatTo)
	}
	const a, h = 0.12, 0.25
	for i, y := range f.Ray.MouthY {
		// Focal property: y² = 4a(a + z) with the vertex at z = -a.
		if z := y*y/(4*a) - a; math.Abs(f.Wall.Z[i]-f.Throat.Z-z) > 1e-9 || math.Abs(f.Wall.Y[i]-y) > 1e-9 {
			t.Errorf("wall point %d is (%g, %g), want (%g, %g)", i+1, f.Wall.Z[i], f.Wall.Y[i], z, y)
		}
		phi := 2 * math.Atan(y/(2*a))
		if want := 10 * math.Log10((1+math.Cos(phi))/2); math.Abs(f.Ray.Level[i]-want) > 1e-6 {
			t.Errorf("ray %d: level %g dB, want %g", i+1, f.Ray.Level[i], want)
		}
	}
	if want := f.Mouth.Z + a; math.Abs(f.Depth-want) > 1e-9 {
		t.Errorf("depth %g m, want %g", f.Depth, want)
	}
	// The straight horn flat to 16 kHz: L = (h²/4 - s²)/(2s), s = c/(4·16 kHz).
	const c = 343.987 // m/s at 20 °C and 50 % RH (reference NOTES: 343.99, Cramer)
	s := c / 64e3
	turn := 0.01 - math.Pi/2*0.005 // of the layer's 10 mm round an edge, behind the wall
	if want := (h*h/4-s*s)/(2*s) - f.Depth - turn; math.Abs(f.DepthSaved-want) > 1e-4 {
		t.Errorf("depth saved %g m, want %g", f.DepthSaved, want)
	}
}

// A hyperbola with foci F and V: |VP| - |FP| is one number for all wall points, and
// what leaves the wall comes as if from V: V, P and the mouth point lie on a line.
func TestFoldJSONHyperbola(t *testing.T) {
	f := runFoldJSON(t, foldDesign(t, plainFold), "--set", "fold.virtual_path=0.9 m", "--set", "fold.throat_height=20 mm")
	if f.Apex == nil {
		t.Fatal("no apex")
	}
	checkPaths(t, f)
	// The axis: V is one virtual path behind the mouth.
	if math.Abs(f.Mouth.Z-0.9-f.Apex.Z) > 1e-12 {
		t.Errorf("apex at z %g m, want %g", f.Apex.Z, f.Mouth.Z-0.9)
	}
	difference := func(i int) float64 {
		return math.Hypot(f.Wall.Z[i]-f.Apex.Z, f.Wall.Y[i]-f.Apex.Y) - math.Hypot(f.Wall.Z[i]-f.Throat.Z, f.Wall.Y[i]-f.Throat.Y)
	}
	for i := range f.Wall.Z {
		if d := difference(i); math.Abs(d-difference(0)) > 1e-9 {
			t.Errorf("wall point %d: |VP| - |FP| = %g m, first point %g", i+1, d, difference(0))
		}
		cross := (f.Wall.Z[i]-f.Apex.Z)*(f.Ray.MouthY[i]-f.Apex.Y) - (f.Wall.Y[i]-f.Apex.Y)*(f.Mouth.Z-f.Apex.Z)
		if math.Abs(cross) > 1e-9 {
			t.Errorf("ray %d does not come from the apex: cross product %g m²", i+1, cross)
		}
	}
	// A circular front about V: path + const = |VM|.
	for i := range f.Ray.Path {
		r := math.Hypot(f.Mouth.Z-f.Apex.Z, f.Ray.MouthY[i]-f.Apex.Y)
		if math.Abs(r-f.Ray.Path[i]-difference(0)) > 1e-9 {
			t.Errorf("ray %d: the front is off its circle by %g m", i+1, r-f.Ray.Path[i]-difference(0))
		}
	}
}

// Solved for depth and flatness, the wall keeps both.
func TestFoldJSONSolved(t *testing.T) {
	text := strings.NewReplacer("throat_to_wall = \"120 mm\"\n", "", "virtual_path = \"flat\"\n", "available_depth = \"110 mm\"\n").Replace(plainFold)
	f := runFoldJSON(t, foldDesign(t, text+"[targets]\nflat_to = \"14 kHz\"\n"))
	shortest, longest := checkPaths(t, f)
	if budget := 343.987 / (4 * 14e3); longest-shortest > budget*(1+1e-5) {
		t.Errorf("paths spread by %g m, a quarter wave is %g", longest-shortest, budget)
	}
	if f.Depth > 0.110 {
		t.Errorf("depth %g m, available 0.110", f.Depth)
	}
}

const dxfReader = `
import ezdxf, json, sys
doc = ezdxf.readfile(sys.argv[1])
out = {}
for e in doc.modelspace().query("LWPOLYLINE"):
    out[e.dxf.layer] = {"closed": bool(e.closed), "points": [[p[0], p[1]] for p in e.get_points()]}
json.dump({"units": doc.header["$INSUNITS"], "parts": out}, sys.stdout)
`

// dxfParts reads a DXF by ezdxf, an independent library, and returns its polylines
// by layer.
func dxfParts(t *testing.T, path string) map[string]struct {
	Closed bool
	Points [][2]float64
} {
	t.Helper()
	const python = "/usr/bin/python3"
	if err := exec.Command(python, "-c", "import ezdxf").Run(); err != nil {
		t.Skip("the independent DXF reader is not here: install Debian's python3-ezdxf")
	}
	raw, err := exec.Command(python, "-c", dxfReader, path).Output()
	if err != nil {
		t.Fatalf("ezdxf cannot read the file: %v", err)
	}
	var got struct {
		Units int
		Parts map[string]struct {
			Closed bool
			Points [][2]float64
		}
	}
	if err := json.Unmarshal(raw, &got); err != nil {
		t.Fatal(err)
	}
	if got.Units != 4 {
		t.Errorf("$INSUNITS = %d, want 4, millimetres", got.Units)
	}
	return got.Parts
}

// The DXF, read by another program: the wall line lies on the parabola
// y² = 4a(a + z) within the promised 0.05 mm, chords too, and ends at the mouth's
// edges; the layers are closed. The CSV has the same points.
func TestFoldDXFAndCSV(t *testing.T) {
	dir := t.TempDir()
	dxf, table := filepath.Join(dir, "wall.dxf"), filepath.Join(dir, "wall.csv")
	var out, errOut bytes.Buffer
	if code := run(context.Background(), []string{"fold", foldDesign(t, plainFold), "-o", dxf, "-o", table, "--set", "horn.throat=20 mm"}, &out, &errOut); code != exitDone {
		t.Fatalf("exit %d: %s", code, errOut.String())
	}
	parts := dxfParts(t, dxf)
	for _, part := range []string{"wall", "divider", "layer-1", "layer-2", "throat"} {
		if !parts[part].Closed {
			t.Errorf("part %s is missing or open", part)
		}
	}
	const a, edge, tol = 120.0, 125.0, 0.05 // mm
	line := parts["wall-line"].Points
	for i := 1; i < len(line); i++ {
		for _, u := range []float64{0, 0.5, 1} {
			z, y := line[i-1][0]+u*(line[i][0]-line[i-1][0]), line[i-1][1]+u*(line[i][1]-line[i-1][1])
			if off := math.Abs(z - (y*y/(4*a) - a)); off > tol {
				t.Errorf("wall line is %g mm off the parabola at y = %g mm", off, y)
			}
		}
	}
	if len(line) < 10 || math.Abs(math.Abs(line[0][1])-edge) > 1e-3 || math.Abs(math.Abs(line[len(line)-1][1])-edge) > 1e-3 {
		t.Errorf("wall line of %d points does not end at ±%g mm", len(line), edge)
	}
	checkOutlineCSV(t, table, line)
}

func checkOutlineCSV(t *testing.T, path string, line [][2]float64) {
	t.Helper()
	data, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer data.Close()
	rows, err := csv.NewReader(data).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if got := strings.Join(rows[0], " "); got != "part closed point z_mm y_mm" {
		t.Errorf("head %q", got)
	}
	n := 0
	for _, row := range rows[1:] {
		if row[0] != "wall-line" {
			continue
		}
		z, _ := strconv.ParseFloat(row[3], 64)
		y, _ := strconv.ParseFloat(row[4], 64)
		if n >= len(line) || math.Abs(z-line[n][0]) > 1e-3 || math.Abs(y-line[n][1]) > 1e-3 {
			t.Fatalf("point %d of the CSV, (%g, %g), is not in the DXF", n+1, z, y)
		}
		n++
	}
	if n != len(line) {
		t.Errorf("%d points of the wall line in the CSV, %d in the DXF", n, len(line))
	}
}

// The insert's plate: outside and two mouths, of the sizes and places given.
func TestInsertPlateDXF(t *testing.T) {
	path := filepath.Join(t.TempDir(), "plate.dxf")
	design := foldDesign(t, `
[cabinet]
height = "300 mm"
[woofer]
size = "200 mm"
[insert]
mouths = 2
spacing = "150 mm"
mouth_height = "110 mm"
mouth_width = "80 mm"
`)
	var out, errOut bytes.Buffer
	if code := run(context.Background(), []string{"fold", design, "--part", "insert", "-o", path}, &out, &errOut); code != exitDone {
		t.Fatalf("exit %d: %s", code, errOut.String())
	}
	parts := dxfParts(t, path)
	for part, want := range map[string][4]float64{ // left, right, bottom, top in mm
		"plate": {-100, 100, -150, 150}, "mouth-1": {-40, 40, -130, -20}, "mouth-2": {-40, 40, 20, 130},
	} {
		got := [4]float64{math.Inf(1), math.Inf(-1), math.Inf(1), math.Inf(-1)}
		for _, p := range parts[part].Points {
			got[0], got[1] = math.Min(got[0], p[0]), math.Max(got[1], p[0])
			got[2], got[3] = math.Min(got[2], p[1]), math.Max(got[3], p[1])
		}
		if got != want || !parts[part].Closed {
			t.Errorf("%s spans %v mm, closed %t, want %v", part, got, parts[part].Closed, want)
		}
	}
}
