package dxf

import (
	"bytes"
	"encoding/json"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

// sample uses every kind of entity, with duplicates that must vanish.
func sample(t testing.TB) []byte {
	t.Helper()
	var d Drawing
	d.AddLayer("wall", Red)
	d.AddLayer("plate", Blue)
	d.Polyline("plate", []Point{{0, 0}, {250, 0}, {250, 0}, {250, 120.5}, {0, 120.5}, {0, 0}}, true)
	d.Polyline("plate", []Point{{0, 0}, {250, 0}, {250, 120.5}, {0, 120.5}}, true) // the same again
	d.Polyline("wall", []Point{{-12.34567, 3}, {0, 7}, {5, -1e-9}}, false)
	d.Line("wall", Point{1, 2}, Point{3, 4})
	d.Line("wall", Point{3, 4}, Point{1, 2}) // the same backwards
	d.Line("wall", Point{3, 4}, Point{3, 4}) // no length
	d.Circle("throat", Point{10, -20}, 12.5)
	d.Circle("throat", Point{10, -20}, 12.5)
	d.Text("notes", Point{0, -30}, 5, "wall, 45° ±0.05 mm")
	var b bytes.Buffer
	if err := d.Write(&b); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// groups is a small independent reader: pairs of lines.
func groups(t *testing.T, file []byte) (codes []int, values []string) {
	t.Helper()
	lines := strings.Split(strings.TrimSuffix(string(file), "\n"), "\n")
	if len(lines)%2 != 0 {
		t.Fatalf("%d lines, not in pairs", len(lines))
	}
	for i := 0; i < len(lines); i += 2 {
		c, err := strconv.Atoi(strings.TrimSpace(lines[i]))
		if err != nil {
			t.Fatalf("line %d: %v", i+1, err)
		}
		codes, values = append(codes, c), append(values, lines[i+1])
	}
	return codes, values
}

func TestStructure(t *testing.T) {
	codes, values := groups(t, sample(t))
	handles := map[string]bool{}
	var owners, sections []string
	kinds := map[string]int{}
	section, seed, lastTable := "", "", ""
	header := map[string]string{}
	tableCount := map[string]int{}
	records := map[string]int{}
	for i, c := range codes {
		v := values[i]
		switch {
		case c == 2 && values[i-1] == "SECTION":
			section = v
			sections = append(sections, v)
		case section == "HEADER" && c == 9:
			header[v] = values[i+1]
			if v == "$HANDSEED" {
				seed = values[i+1]
			}
		case section == "HEADER":
		case c == 5 || c == 105:
			if handles[v] {
				t.Errorf("handle %s twice", v)
			}
			handles[v] = true
		case c == 330 && v != "0":
			owners = append(owners, v)
		case c == 2 && values[i-1] == "TABLE":
			lastTable = v
		case c == 70 && codes[i-1] == 100 && values[i-1] == "AcDbSymbolTable":
			tableCount[lastTable], _ = strconv.Atoi(v)
		case c == 0 && v == lastTable && section == "TABLES":
			records[v]++
		case c == 0 && section == "ENTITIES":
			kinds[v]++
		}
	}
	if got := strings.Join(sections, " "); got != "HEADER CLASSES TABLES BLOCKS ENTITIES OBJECTS" {
		t.Errorf("sections: %s", got)
	}
	for _, o := range owners {
		if !handles[o] {
			t.Errorf("owner %s does not exist", o)
		}
	}
	top, _ := strconv.ParseInt(seed, 16, 64)
	for h := range handles {
		if n, err := strconv.ParseInt(h, 16, 64); err != nil || n >= top {
			t.Errorf("handle %s not below the seed %s", h, seed)
		}
	}
	for name, n := range tableCount {
		if records[name] != n {
			t.Errorf("table %s says %d records, has %d", name, n, records[name])
		}
	}
	for key, want := range map[string]string{"$ACADVER": "AC1015", "$INSUNITS": "4", "$MEASUREMENT": "1", "$EXTMIN": "-12.3457"} {
		if header[key] != want {
			t.Errorf("%s = %q, want %q", key, header[key], want)
		}
	}
	want := map[string]int{"LWPOLYLINE": 2, "LINE": 1, "CIRCLE": 1, "TEXT": 1, "ENDSEC": 1}
	for k, n := range want {
		if kinds[k] != n {
			t.Errorf("%d × %s, want %d", kinds[k], k, n)
		}
	}
	if values[len(values)-1] != "EOF" {
		t.Error("no EOF")
	}
}

func TestSameBytesEveryTime(t *testing.T) {
	if !bytes.Equal(sample(t), sample(t)) {
		t.Error("two runs differ")
	}
	if bytes.Contains(sample(t), []byte("-0.0000")) {
		t.Error("negative zero")
	}
}

// reader prints what ezdxf, an independent DXF library, finds in a file.
const reader = `
import ezdxf, json, sys
from ezdxf.lldxf.encoding import decode_dxf_unicode
doc = ezdxf.readfile(sys.argv[1])
audit = doc.audit()
out = {"version": doc.dxfversion, "units": doc.units, "measurement": doc.header["$MEASUREMENT"],
       "errors": [e.message for e in audit.errors], "fixes": [e.message for e in audit.fixes],
       "layers": {l.dxf.name: l.dxf.color for l in doc.layers}, "polylines": [], "lines": [], "circles": [], "texts": []}
for e in doc.modelspace():
    k = e.dxftype()
    if k == "LWPOLYLINE":
        out["polylines"].append({"layer": e.dxf.layer, "closed": bool(e.closed), "points": [list(p) for p in e.get_points("xy")]})
    elif k == "LINE":
        out["lines"].append([e.dxf.start.x, e.dxf.start.y, e.dxf.end.x, e.dxf.end.y])
    elif k == "CIRCLE":
        out["circles"].append([e.dxf.center.x, e.dxf.center.y, e.dxf.radius])
    elif k == "TEXT":
        out["texts"].append(decode_dxf_unicode(e.dxf.text))
print(json.dumps(out))
`

func TestReadBackByEzdxf(t *testing.T) {
	const python = "/usr/bin/python3"
	if err := exec.Command(python, "-c", "import ezdxf").Run(); err != nil {
		t.Skip("the independent reader is not here: install Debian's python3-ezdxf")
	}
	path := filepath.Join(t.TempDir(), "sample mm.dxf")
	if err := os.WriteFile(path, sample(t), 0o644); err != nil {
		t.Fatal(err)
	}
	raw, err := exec.Command(python, "-c", reader, path).Output()
	if err != nil {
		t.Fatal(err)
	}
	var got struct {
		Version            string
		Units, Measurement int
		Errors, Fixes      []string
		Layers             map[string]int
		Polylines          []struct {
			Layer  string
			Closed bool
			Points [][]float64
		}
		Lines, Circles [][]float64
		Texts          []string
	}
	if err := json.Unmarshal(raw, &got); err != nil {
		t.Fatal(err)
	}
	if got.Version != "AC1015" || got.Units != 4 || got.Measurement != 1 {
		t.Errorf("version %s, units %d, measurement %d", got.Version, got.Units, got.Measurement)
	}
	if len(got.Errors)+len(got.Fixes) > 0 {
		t.Errorf("audit: %q, %q", got.Errors, got.Fixes)
	}
	if got.Layers["wall"] != Red || got.Layers["plate"] != Blue || got.Layers["throat"] != Black {
		t.Errorf("layers: %v", got.Layers)
	}
	if len(got.Polylines) != 2 || len(got.Lines) != 1 || len(got.Circles) != 1 || len(got.Texts) != 1 {
		t.Fatalf("entities: %+v", got)
	}
	plate, wall := got.Polylines[0], got.Polylines[1]
	if !plate.Closed || len(plate.Points) != 4 || wall.Closed || wall.Layer != "wall" {
		t.Errorf("polylines: %+v", got.Polylines)
	}
	if p := plate.Points[2]; p[0] != 250 || p[1] != 120.5 {
		t.Errorf("corner: %v", p)
	}
	if p := wall.Points[0]; math.Abs(p[0]+12.34567) > 5e-5 {
		t.Errorf("rounding: %v", p)
	}
	if c := got.Circles[0]; c[0] != 10 || c[1] != -20 || c[2] != 12.5 {
		t.Errorf("circle: %v", c)
	}
	if got.Texts[0] != "wall, 45° ±0.05 mm" {
		t.Errorf("text: %q", got.Texts[0])
	}
}

func TestFaultyCallsAreReported(t *testing.T) {
	cases := map[string]func(*Drawing){
		"layer name":       func(d *Drawing) { d.AddLayer("a/b", Red) },
		"colour index":     func(d *Drawing) { d.AddLayer("a", 300) },
		"different points": func(d *Drawing) { d.Polyline("a", []Point{{0, 0}, {1, 1}, {0, 0}}, true) },
		"radius":           func(d *Drawing) { d.Circle("a", Point{}, 0) },
		"one line":         func(d *Drawing) { d.Text("a", Point{}, 3, "two\nlines") },
		"not finite":       func(d *Drawing) { d.Line("a", Point{math.NaN(), 0}, Point{1, 1}) },
	}
	for want, call := range cases {
		var d Drawing
		call(&d)
		if err := d.Write(&bytes.Buffer{}); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("error %v, want one with %q", err, want)
		}
	}
}
