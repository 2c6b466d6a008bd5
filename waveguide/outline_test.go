package waveguide

import (
	"encoding/json"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"gapline/internal/dxf"
	"gapline/internal/numeric"
	"gapline/internal/reftable"

	"pgregory.net/rapid"
)

// area is the shoelace area in m² of an outline.
func area(points [][2]float64) float64 {
	sum := 0.0
	for i, p := range points {
		q := points[(i+1)%len(points)]
		sum += p[0]*q[1] - p[1]*q[0]
	}
	return math.Abs(sum) / 2 * 1e-6
}

// gap is the distance in m of p from the polyline.
func gap(p Point, o Outline) float64 {
	best := math.Inf(1)
	n := len(o.MM)
	for i := range n {
		j := i + 1
		if j == n {
			if !o.Closed {
				break
			}
			j = 0
		}
		a := Point{o.MM[i][0] / 1000, o.MM[i][1] / 1000}
		d := Point{o.MM[j][0]/1000 - a.Z, o.MM[j][1]/1000 - a.Y}
		t := math.Max(0, math.Min(1, p.minus(a).dot(d)/d.dot(d)))
		best = math.Min(best, p.distance(a.along(d, t)))
	}
	return best
}

// crosses tells whether a closed outline cuts itself.
func crosses(o Outline) bool {
	side := func(a, b, c [2]float64) float64 {
		return (b[0]-a[0])*(c[1]-a[1]) - (b[1]-a[1])*(c[0]-a[0])
	}
	n := len(o.MM)
	for i := range n {
		for j := i + 2; j < n; j++ {
			if i == 0 && j == n-1 {
				continue
			}
			a, b, c, d := o.MM[i], o.MM[(i+1)%n], o.MM[j], o.MM[(j+1)%n]
			if side(a, b, c)*side(a, b, d) < 0 && side(c, d, a)*side(c, d, b) < 0 {
				return true
			}
		}
	}
	return false
}

func parts(t testing.TB, f Fold) map[string]Outline {
	t.Helper()
	list, err := f.Outlines(numeric.Absent)
	if err != nil {
		t.Fatal(err)
	}
	m := map[string]Outline{}
	for _, o := range list {
		m[o.Part] = o
	}
	return m
}

// Over random folds every outline lies within 0.05 mm of its true curve and does
// not cut itself.
func TestOutlinesWithinTolerance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f, err := drawnFold(t)
		if err != nil {
			t.Skip(err.Error())
		}
		list, err := f.Outlines(numeric.Absent)
		if err != nil {
			t.Skip(err.Error())
		}
		m := map[string]Outline{}
		for _, o := range list {
			m[o.Part] = o
			if o.Closed && o.Part != "divider" && f.Spec.ThroatHeight == 0 && crosses(o) {
				t.Fatalf("%s cuts itself", o.Part)
			}
		}
		for i := range 300 {
			phi := f.fan.Low + f.fan.Width()*float64(i)/299
			for part, d := range map[string]float64{"wall-line": 0, "layer-1": 0, "layer-2": 0,
				"wall": f.TurnOverhang(), "divider": f.Spec.BendRadius - f.TurnInset()} {
				if g := gap(f.Wall.Offset(phi, d), m[part]); g > OutlineTolerance {
					t.Fatalf("%s is %g m off at φ = %g", part, g, phi)
				}
			}
		}
	})
}

// Areas in closed form for the parabola: layer 2 is h(z_m + a) - h³/(48a), layer 1
// the sector 2a²(u + u³/3) with u = h/(4a) and the front of the throat's disc.
func TestLayerAreasOfTheParabola(t *testing.T) {
	const a, h = 0.12, 0.25
	s := spec343(a, math.Inf(1), 0.012, h)
	s.ThroatDiameter = 0.025
	f := mustFold(t, s)
	p := parts(t, f)
	zm := f.MouthZ()
	reftable.Near(t, "layer 2", area(p["layer-2"].MM), h*(zm+a)-h*h*h/(48*a), 2e-4)
	u := h / (4 * a)
	disc := (math.Pi - f.Fan().Width()/2) * 0.0125 * 0.0125
	reftable.Near(t, "layer 1", area(p["layer-1"].MM), 2*a*a*(u+u*u*u/3)+disc, 2e-4)
	reftable.Near(t, "throat", area(p["throat"].MM), math.Pi*0.0125*0.0125, 5e-3)
	if n := len(p["wall-line"].MM); n > 100 {
		t.Errorf("%d points for the wall", n)
	}
}

// The strip behind the parabola: its area is t·l + (t²/2)·β, where l is the
// length of its inner side, itself the wall's plus the overhang times β, and β
// the angle the wall turns through, half the fan. The parabola's length is the
// textbook y√(1+u²) + 2a asinh u with u = y/(2a).
func TestWallStripArea(t *testing.T) {
	const a, h, thick = 0.12, 0.25, 0.02
	f := mustFold(t, spec343(a, math.Inf(1), 0.012, h))
	list, err := f.Outlines(thick)
	if err != nil {
		t.Fatal(err)
	}
	u := h / (4 * a)
	turning := f.Fan().Width() / 2
	inner := h/2*math.Sqrt(1+u*u) + 2*a*math.Asinh(u) + f.TurnOverhang()*turning
	reftable.Near(t, "strip", area(list[1].MM), thick*inner+thick*thick/2*turning, 2e-4)
}

func TestOutlineErrors(t *testing.T) {
	f := mustFold(t, spec343(0.12, math.Inf(1), 0.012, 0.25))
	if _, err := f.Outlines(-1); err == nil || !strings.Contains(err.Error(), "wall material") {
		t.Errorf("material: %v", err)
	}
	s := spec343(0.06, math.Inf(1), 0.012, 0.2)
	s.BendRadius = 0.3
	s.MouthDistance = 0.1
	if _, err := mustFold(t, s).Outlines(numeric.Absent); err == nil || !strings.Contains(err.Error(), "divider") {
		t.Errorf("turn: %v", err)
	}
}

func TestInsertPlate(t *testing.T) {
	p := InsertPlate{Width: 0.3, Height: 0.28, Mouths: 2, Spacing: 0.14, MouthWidth: 0.2, MouthHeight: 0.04}
	out, err := p.Outlines()
	if err != nil {
		t.Fatal(err)
	}
	if len(out) != 3 {
		t.Fatalf("%d outlines, want 3", len(out))
	}
	reftable.Near(t, "plate", area(out[0].MM), 0.3*0.28, 1e-12)
	for i, y := range []float64{-70, 70} {
		o := out[i+1]
		reftable.Near(t, o.Part, area(o.MM), 0.2*0.04, 1e-12)
		reftable.Within(t, o.Part+" middle", (o.MM[0][1]+o.MM[2][1])/2, y, 1e-9)
	}
	for want, edit := range map[string]func(*InsertPlate){
		"run into one another": func(p *InsertPlate) { p.Spacing = 0.03 },
		"of height":            func(p *InsertPlate) { p.Height = 0.17 },
		"wide":                 func(p *InsertPlate) { p.MouthWidth = 0.3 },
		"at least 1":           func(p *InsertPlate) { p.Mouths = 0 },
		"mouth spacing":        func(p *InsertPlate) { p.Spacing = math.NaN() },
	} {
		q := p
		edit(&q)
		if _, err := q.Outlines(); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("error %v, want one with %q", err, want)
		}
	}
}

// The drawing read back by ezdxf, an independent library: every part on its own
// layer, closed, and layer 2 of the parabola's closed-form area.
func TestOutlinesReadBackFromDXF(t *testing.T) {
	const python, a, h = "/usr/bin/python3", 0.12, 0.25
	if err := exec.Command(python, "-c", "import ezdxf").Run(); err != nil {
		t.Skip("the independent reader is not here: install Debian's python3-ezdxf")
	}
	f := mustFold(t, spec343(a, math.Inf(1), 0.012, h))
	list, err := f.Outlines(numeric.Absent)
	if err != nil {
		t.Fatal(err)
	}
	var d dxf.Drawing
	for _, o := range list {
		var p []dxf.Point
		for _, q := range o.MM {
			p = append(p, dxf.Point{X: q[0], Y: q[1]})
		}
		d.Polyline(o.Part, p, o.Closed)
	}
	path := filepath.Join(t.TempDir(), "fold-mm.dxf")
	file, err := os.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	if err := d.Write(file); err != nil {
		t.Fatal(err)
	}
	if err := file.Close(); err != nil {
		t.Fatal(err)
	}
	const script = `
import ezdxf, json, sys
doc = ezdxf.readfile(sys.argv[1])
assert not doc.audit().errors
print(json.dumps({e.dxf.layer: {"closed": bool(e.closed), "points": [list(p) for p in e.get_points("xy")]} for e in doc.modelspace()}))
`
	raw, err := exec.Command(python, "-c", script, path).Output()
	if err != nil {
		t.Fatal(err)
	}
	var got map[string]struct {
		Closed bool
		Points [][2]float64
	}
	if err := json.Unmarshal(raw, &got); err != nil {
		t.Fatal(err)
	}
	if len(got) != len(list) {
		t.Errorf("%d parts read, want %d", len(got), len(list))
	}
	for part, o := range got {
		if o.Closed != (part != "wall-line") {
			t.Errorf("%s: closed %v", part, o.Closed)
		}
	}
	reftable.Near(t, "layer 2", area(got["layer-2"].Points), h*(f.MouthZ()+a)-h*h*h/(48*a), 2e-4)
}
