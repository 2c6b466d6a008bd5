package describe

import (
	"context"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"gapline/cabinet/layout"
	"gapline/cabinet/sizing"
	"gapline/internal/designfile"
	"gapline/internal/quantity"
	"gapline/internal/render/picture"
	"gapline/internal/result"
	"gapline/internal/study/fit"
	"gapline/plots"

	"gonum.org/v1/plot/cmpimg"
)

// drawingOf describes one of the boxes of testdata.
func drawingOf(t *testing.T, name string, settings ...string) drawing {
	t.Helper()
	f, err := designfile.Load(context.Background(), filepath.Join("testdata", "boxes", name+".toml"), settings)
	if err != nil {
		t.Fatal(err)
	}
	s, fits := sizing.Size(&f.Design), fit.Of(&f.Design, f.Links)
	return drawing{&f.Design, &s, fits, fits.Layout}
}

// Pictures of boxes against those in testdata (regression only). After looking at the
// new ones: go test ./internal/describe -run Golden -update
func TestGoldenDrawings(t *testing.T) {
	for _, c := range []struct{ box, view string }{
		{"beside", DrawSide}, {"mids", DrawFront}, {"behind", DrawPlan}, {"tapered", DrawStack}, {"misfit", DrawFront},
	} {
		w := drawingOf(t, c.box)
		fig, err := picture.Of(Draw(w.Design, w.sizing, w.fit, false), quantity.Metric, c.view)
		if err != nil {
			t.Fatal(err)
		}
		got, path := small(t, fig), filepath.Join("testdata", "draw-"+c.box+"-"+c.view+".png")
		if *update {
			if err := os.WriteFile(path, got, 0o666); err != nil {
				t.Fatal(err)
			}
			continue
		}
		want, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if same, err := cmpimg.EqualApprox("png", got, want, delta); err != nil || !same {
			t.Errorf("%s of %s differs from testdata (%v)", c.view, c.box, err)
		}
	}
}

// Every view of every box can be drawn in both systems of units, and says from where it
// is seen.
func TestEveryViewOfEveryBox(t *testing.T) {
	files, err := filepath.Glob(filepath.Join("testdata", "boxes", "*.toml"))
	if err != nil || len(files) < 7 {
		t.Fatalf("%d boxes (%v)", len(files), err)
	}
	for _, path := range files {
		w := drawingOf(t, strings.TrimSuffix(filepath.Base(path), ".toml"))
		r := Draw(w.Design, w.sizing, w.fit, false)
		for _, view := range DrawViews {
			for _, sys := range []quantity.System{quantity.Metric, quantity.Inch} {
				fig, err := picture.Of(r, sys, view)
				if err != nil {
					t.Fatalf("%s, %s: %v", path, view, err)
				}
				if sub := fig.(plots.Drawing).Subtitle; !strings.HasPrefix(sub, "seen from ") {
					t.Errorf("%s, %s: %q", path, view, sub)
				}
				if err := plots.Save(filepath.Join(t.TempDir(), "view.svg"), fig); err != nil {
					t.Errorf("%s, %s: %v", path, view, err)
				}
			}
		}
	}
}

// The spacing drawn is the one that the half-wave rule takes: c over twice it is the
// limit that the sizing gives, found there without the layout.
func TestSpacingDrawnIsTheOneThatLimits(t *testing.T) {
	for _, c := range []struct {
		settings []string
		across   bool
	}{
		{nil, true},
		{[]string{"woofer.size=90mm", "woofer.per_box=3", "woofer.spacing=100mm"}, true},
		{[]string{"woofer.size=90mm", "woofer.per_box=2", "woofer.spacing=190mm"}, false},
		{[]string{"woofer.size=90mm", "woofer.per_box=2", "woofer.spacing=110mm", "woofer.rise=40mm"}, true},
		{[]string{"insert.mouths=2", "insert.spacing=160mm", "insert.mouth_height=60mm", "insert.mouth_width=60mm", "insert.slot_depth=10mm", "insert.chamber_volume=0.4L"}, false},
	} {
		w := drawingOf(t, "beside", c.settings...)
		s, ok := w.spacing()
		if !ok || s.across != c.across || math.Abs(w.sizing.Air.SoundSpeed/(2*(s.to-s.from))/s.halfWave-1) > 1e-12 {
			t.Errorf("%v: spacing %+v, %v", c.settings, s, ok)
		}
	}
}

// Mirrored offsets give the mirrored front view.
func TestMirroredFront(t *testing.T) {
	w := drawingOf(t, "mids")
	m := drawingOf(t, "mids", "woofer.offset=-260mm", "mid.offset=20mm", "horn.offset=290mm")
	span := func(lines []result.Line) []float64 {
		var out []float64
		for i := range lines {
			low, high := slices.Min(lines[i].X), slices.Max(lines[i].X)
			out = append(out, low, high)
		}
		slices.Sort(out)
		return out
	}
	a, b := span(w.partLines(layout.FromFront)), span(m.partLines(layout.FromFront))
	if len(a) != len(b) {
		t.Fatalf("%d and %d ends", len(a), len(b))
	}
	for i := range a {
		if math.Abs(a[i]+b[len(b)-1-i]) > 1e-9 {
			t.Errorf("%g mirrors %g", a[i], b[len(b)-1-i])
		}
	}
}

// Behind the front, and under another part, lines are dashed; what cannot be built is
// marked in every view that shows it.
func TestHiddenAndMarkedParts(t *testing.T) {
	w := drawingOf(t, "behind")
	for _, i := range w.Of(layout.Cone, layout.Woofers) {
		if w.lineKind(i, layout.FromFront) != result.Hidden || w.lineKind(i, layout.FromAbove) != result.Outline {
			t.Errorf("cone %d behind the horn: %v from the front, %v from above", i, w.lineKind(i, layout.FromFront), w.lineKind(i, layout.FromAbove))
		}
	}
	w = drawingOf(t, "misfit")
	for _, v := range []layout.View{layout.FromFront, layout.FromAbove, layout.FromRight} {
		marked := 0
		for _, l := range w.partLines(v) {
			if l.Kind == result.Clash {
				marked++
			}
		}
		if marked != 3 { // woofer, horn's mouth, compression driver
			t.Errorf("view %d marks %d parts", v, marked)
		}
	}
	if c := w.clashes(); len(c.stack) != 1 || !c.joints[2] {
		t.Errorf("the boxes that run into each other: %+v", c)
	}
}
