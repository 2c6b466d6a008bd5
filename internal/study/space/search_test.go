package space

import (
	"context"
	"fmt"
	"math"
	"strings"
	"testing"

	"gapline/cabinet/design"
	"gapline/cabinet/sizing"
	"gapline/internal/designfile"
	"gapline/internal/figure"
	"gapline/internal/schema"
	"gapline/internal/search"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
)

// searched is an invented design with a [search] table to fill in. Its gap is a
// closed form; see box.
const searched = `[cabinet]
pitch = "300 mm"
width = "600 mm"
[line]
boxes = 6
[horn]
coverage = "90 deg"
mouth_width = "10 in"
mouth_height = "200 mm"
path_length = "1 m"
[follow]
"horn.mouth_height" = { of = "cabinet.pitch", factor = 0.5 }
[search]
designs = %d
limits = [%s]
goals = [%s]
[search.vary]
%s
`

func find(t testing.TB, designs int, limits, goals, vary string) (*Search, *Found) {
	t.Helper()
	text := strings.Replace(fmt.Sprintf(searched, designs, limits, goals, vary), `mouth_height = "200 mm"
`, "", 1)
	h, err := NewSearch(load(t, text), 0, -1)
	if err != nil {
		t.Fatal(err)
	}
	a, err := h.Sample(context.Background(), 0, h.Plan.Designs, func(int) {})
	if err != nil {
		t.Fatal(err)
	}
	if err := h.Refine(context.Background(), a, func(int, int) {}); err != nil {
		t.Fatal(err)
	}
	return h, h.Found(a)
}

const (
	twoGoals = `"minimise gap.open_oct", "minimise coupling.lower_hz"`
	twoKeys  = `"cabinet.pitch" = "250:350:%s mm"
"horn.mouth_width" = "200:500:%s mm"`
)

// The gap falls and the lower limit rises as the pitch falls; the width only
// helps the gap. The front is therefore the widest mouth that the limit allows,
// with every pitch: worked out, then compared with the exhaustive grid and with
// a continuous search.
func TestSearchAgainstGrid(t *testing.T) {
	const limits = `"horn.mouth_width <= 420 mm", "gap.open_oct <= 0.5 oct"`
	gap := func(pitch, width float64) float64 {
		c := sizing.Size(&design.Design{Air: design.New().Air}).Air.SoundSpeed
		return math.Log2(1e6 / (width / 0.0254 * 90) / (c / (2 * pitch)))
	}
	grid, all := find(t, 100_000, limits, twoGoals, fmt.Sprintf(twoKeys, "2", "10"))
	if !grid.Plan.Exhaustive() || grid.Plan.Designs != 51*31 {
		t.Fatalf("%d designs, exhaustive %v", grid.Plan.Designs, grid.Plan.Exhaustive())
	}
	want := 0
	for p := 0.25; p < 0.3505; p += 0.002 {
		if gap(p, 0.42) <= 0.5 {
			want++
		}
	}
	if len(all.Front) != want {
		t.Errorf("the grid's front has %d designs, want %d", len(all.Front), want)
	}
	for _, c := range all.Front {
		if math.Abs(c.Design.Horn.MouthWidth.Value()-0.42) > 1e-12 || math.Abs(grid.Goal(&c, 0)-gap(c.Design.Pitch(), 0.42)) > 1e-9 {
			t.Errorf("front design with a mouth of %g m and a gap of %g oct", c.Design.Horn.MouthWidth.Value(), grid.Goal(&c, 0))
		}
	}
	h, found := find(t, 500, limits, twoGoals, `"cabinet.pitch" = "250:350 mm"
"horn.mouth_width" = "200:500 mm"`)
	// One step of the grid is worth 2 mm of pitch: log2(252/250) octaves, and 0.7 %
	// of the lower frequency.
	for _, w := range all.Front {
		near := false
		for _, c := range found.Front {
			near = near || h.Goal(&c, 0) <= grid.Goal(&w, 0)+math.Log2(252./250) && h.Goal(&c, 1) <= grid.Goal(&w, 1)*1.008
		}
		if !near {
			t.Errorf("nothing found within one step of pitch %g, gap %g", w.Design.Pitch(), grid.Goal(&w, 0))
		}
	}
}

// Steps searched with a tenth of the designs find the grid's front but for one
// step.
func TestSearchInSteps(t *testing.T) {
	const limits = `"gap.open_oct <= 0.5 oct", "horn.flat_to_hz >= 12 kHz"`
	vary := fmt.Sprintf(twoKeys, "2", "10") + "\n\"horn.path_length\" = \"400:1600:100 mm\""
	goals := `"minimise gap.open_oct", "minimise coupling.lower_hz", "minimise horn.path_length"`
	grid, all := find(t, 100_000, limits, goals, vary)
	h, found := find(t, 2000, limits, goals, vary)
	if h.Plan.Exhaustive() || !grid.Plan.Exhaustive() {
		t.Fatal("the one must be a sample, the other not")
	}
	missed := 0
	for _, w := range all.Front {
		near := math.Inf(1)
		for _, c := range found.Front {
			d := 0.0
			for i, step := range []float64{0.002, 0.01, 0.1} {
				d = math.Max(d, math.Abs(c.Values[i].Number-w.Values[i].Number)/step)
			}
			near = math.Min(near, d)
		}
		if near > 1.001 {
			missed++
		}
	}
	if missed > 0 {
		t.Errorf("%d of the grid's %d front designs have no found one within a step", missed, len(all.Front))
	}
}

// With one goal the best is the corner of the ranges, and the ten differ.
func TestSearchOneGoal(t *testing.T) {
	h, f := find(t, 500, "", `"minimise gap.open_oct"`, `"cabinet.pitch" = "250:350 mm"
"horn.mouth_width" = "200:500 mm"`)
	best := f.Best[0]
	if best.Design.Pitch() != 0.25 || best.Design.Horn.MouthWidth.Value() != 0.5 {
		t.Errorf("best at pitch %g, mouth %g", best.Design.Pitch(), best.Design.Horn.MouthWidth.Value())
	}
	if err := h.Hold(context.Background(), f, func(int, int) {}); err != nil {
		t.Fatal(err)
	}
	checkHolds(t, &f.Best[0])
	for i := range f.Best {
		for j := range i {
			a, b := f.Best[i].Values, f.Best[j].Values
			if math.Abs(a[0].Number-b[0].Number) < 0.05*0.1 && math.Abs(a[1].Number-b[1].Number) < 0.05*0.3 {
				t.Errorf("%s and %s are nearly the same", f.Best[j].Label, f.Best[i].Label)
			}
		}
	}
	if len(f.Best) != 10 || h.Goal(&f.Best[9], 0) < h.Goal(&best, 0) {
		t.Errorf("%d best", len(f.Best))
	}
}

// checkHolds compares what holds the corner of the ranges back with closed forms: the gap
// is log2 of one over pitch and mouth, and of one over both sides.
func checkHolds(t *testing.T, best *Candidate) {
	t.Helper()
	want := map[string]float64{
		"low cabinet.pitch": math.Log2(250. / 248), "high horn.mouth_width": math.Log2(506. / 500),
		"spacing": math.Log2(1.02), "pattern": math.Log2(1.02),
	}
	for i := range best.Held {
		n := name(&best.Held[i])
		if w, ok := want[n]; !ok || math.Abs(best.Held[i].Change[0]+w) > 1e-9 {
			t.Errorf("held back by %s, which changes the gap by %g, want %g", n, best.Held[i].Change[0], -w)
		}
		delete(want, n)
		if i > 0 && best.Held[i].Change[0] < best.Held[i-1].Change[0]-1e-3 {
			t.Errorf("%s gives more than what stands before it", n)
		}
	}
	for n := range want {
		t.Errorf("not held back by %s", n)
	}
}

// Links act on what is found: the mouth is half as high as the pitch.
func TestSearchFollowsLinks(t *testing.T) {
	_, f := find(t, 200, "", twoGoals, `"cabinet.pitch" = "250:350 mm"`)
	for _, c := range f.Best {
		if math.Abs(c.Design.Horn.MouthHeight.Value()-c.Design.Pitch()/2) > 1e-12 {
			t.Errorf("mouth %g high at pitch %g", c.Design.Horn.MouthHeight.Value(), c.Design.Pitch())
		}
	}
}

// A limit half an octave out of reach is named with what it lacks, and relaxing
// it as told makes something fit.
func TestSearchNothingFits(t *testing.T) {
	const vary = `"cabinet.pitch" = "250:350 mm"
"horn.mouth_width" = "200:500 mm"`
	_, free := find(t, 500, "", `"minimise gap.open_oct"`, vary)
	least := free.Best[0].Sizing.Gap.Open
	limit := fmt.Sprintf(`"gap.open_oct <= %.6f oct", "coupling.lower_hz <= 300 Hz"`, least-0.5)
	_, f := find(t, 500, limit, twoGoals, vary)
	if len(f.Front) > 0 || len(f.Relax) == 0 || f.Relax[0].Limit.Of.Name() != "gap.open_oct" {
		t.Fatalf("%d found, to relax: %+v", len(f.Front), f.Relax)
	}
	to := f.Relax[0].To
	if to < least || to > least+0.002 {
		t.Errorf("relax to %g, want %g", to, least)
	}
	_, again := find(t, 500, fmt.Sprintf(`"gap.open_oct <= %.9g oct", "coupling.lower_hz <= 300 Hz"`, to), twoGoals, vary)
	if len(again.Front) == 0 {
		t.Errorf("nothing fits after relaxing to %g", to)
	}
}

// Of two limits in conflict the one that needs the lesser share is named first.
func TestSearchRelaxesTheLesser(t *testing.T) {
	_, f := find(t, 500, `"cabinet.pitch <= 300 mm", "coupling.lower_hz <= 170 Hz"`, twoGoals, `"cabinet.pitch" = "250:350 mm"`)
	// c/(6·170 Hz) needs 336.6 mm: 37 % of the range of pitches. 300 mm give 190.7
	// Hz, 21 Hz more: 37 % of the range of 163 to 229 Hz is 24 Hz.
	if len(f.Relax) != 2 || f.Relax[0].Limit.Of.Name() != "coupling.lower_hz" {
		t.Fatalf("to relax: %+v", f.Relax)
	}
	c := f.Relax[0].Design.Sizing.Air.SoundSpeed
	if want := c / 1.8; math.Abs(f.Relax[0].To-want) > 0.1 || f.Relax[0].To < want-1e-9 {
		t.Errorf("frequency to %g, want %g", f.Relax[0].To, want)
	}
	if want := c / 1020; math.Abs(f.Relax[1].To-want) > 1e-4 || f.Relax[1].To < want-1e-9 {
		t.Errorf("pitch to %g, want %g", f.Relax[1].To, want)
	}
}

func TestSearchFaults(t *testing.T) {
	const pitch = `"cabinet.pitch" = "250:350 mm"`
	for _, c := range []struct{ limits, goals, vary, want string }{
		{"", `"minimise horn.pattern_rule_hz"`, pitch, "search.goals minimise horn.pattern_rule_hz: nothing that is varied moves it, it is 1111 Hz in all of"},
		{"", `"minimise gap.insert_oct"`, pitch, "search.goals minimise gap.insert_oct: it cannot be computed for any design within the ranges; it depends on horn.lower_hz"},
		{`"coupling.insert.chamber_hz >= 1 kHz"`, `"minimise gap.open_oct"`, pitch, "search.limits coupling.insert.chamber_hz >= 1000 Hz: it cannot be computed"},
		{`"cabinet.width <= 500 mm"`, `"minimise gap.open_oct"`, pitch, "search.limits cabinet.width <= 500 mm: it is 600 mm, and nothing that is varied moves it"},
		{`"cabinet.pitch >= 400 mm"`, `"minimise gap.open_oct"`, pitch, "search.limits cabinet.pitch >= 400 mm: [search.vary] takes it from 250 mm to 350 mm only"},
		{"", "", pitch, "search.goals is missing"},
		{"", `"minimise gap.open_oct"`, "", "search.vary is missing"},
	} {
		text := strings.Replace(fmt.Sprintf(searched, 500, c.limits, c.goals, c.vary), "mouth_height = \"200 mm\"\n", "", 1)
		_, err := NewSearch(load(t, text), 0, -1)
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("limits %s, goals %s, vary %s:\n  %v\n  want %s", c.limits, c.goals, c.vary, err, c.want)
		}
	}
	_, err := NewSearch(load(t, "[cabinet]\npitch = \"300 mm\"\n"), 0, -1)
	if err == nil || !strings.Contains(err.Error(), "[search.vary]\n") {
		t.Errorf("no table: %v, want an example", err)
	}
}

// What is written reads back to the design that was found, with the same
// figures.
func TestWrittenDesigns(t *testing.T) {
	for _, s := range designfile.Starters {
		f, err := designfile.LoadStarter(s.Name, nil)
		if err != nil {
			t.Fatal(err)
		}
		h, err := NewSearch(&f.Project, 2000, 3)
		if err != nil {
			t.Fatalf("%s: %v", s.Name, err)
		}
		a, err := h.Sample(context.Background(), 0, 2000, func(int) {})
		if err != nil {
			t.Fatal(err)
		}
		found := h.Found(a)
		if len(found.Best) == 0 {
			t.Errorf("%s: its own search finds nothing", s.Name)
		}
		for i := range found.Best {
			c := &found.Best[i]
			p, comment := h.Written(c, "x.toml")
			text := designfile.Encode(&p, comment)
			g, err := designfile.Parse("found", text, nil)
			if err != nil {
				t.Fatalf("%s: %v\n%s", s.Name, err, text)
			}
			got := sizing.Size(&g.Design)
			// Figures amplify the 14 digits of the file by their slopes.
			if d := cmp.Diff(c.Sizing, got, cmpopts.EquateApprox(1e-9, 1e-9), cmpopts.EquateNaNs()); d != "" {
				t.Fatalf("%s %s (-found +read):\n%s", s.Name, c.Label, d)
			}
		}
	}
}

func TestOutward(t *testing.T) {
	octaves := schema.Limit{Of: schema.Measure{Figure: figure.GapOpen}, AtMost: true}
	hertz := schema.Limit{Of: schema.Measure{Figure: figure.GapLow}}
	for _, c := range []struct {
		l       schema.Limit
		x, want float64
	}{{octaves, 0.123412, 0.1235}, {octaves, -0.123412, -0.1234}, {hertz, 1234.56, 1234}, {hertz, 98.7654, 98.76}} {
		if got := outward(c.x, c.l); math.Abs(got-c.want) > 1e-12 {
			t.Errorf("%g %s gives %g, want %g", c.x, c.l.Sign(), got, c.want)
		}
	}
}

func BenchmarkSearch(b *testing.B) {
	f, err := designfile.LoadStarter("hatch", nil)
	if err != nil {
		b.Fatal(err)
	}
	h, err := NewSearch(&f.Project, 10_000, 1)
	if err != nil {
		b.Fatal(err)
	}
	var a *search.Archive
	for b.Loop() {
		if a, err = h.Sample(context.Background(), 0, 10_000, func(int) {}); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(len(a.Front)), "front")
}

// A word that stands for an infinite value is one of the settings like others.
func TestSearchWithAWord(t *testing.T) {
	h, f := find(t, 200, "", `"maximise horn.flat_to_hz", "minimise coupling.lower_hz"`, `"fold.virtual_path" = ["1 m", "2 m", "flat"]
"cabinet.pitch" = "250:350:10 mm"`)
	if len(f.Front) == 0 {
		t.Fatal("nothing found")
	}
	for _, c := range f.Front {
		if !math.IsInf(c.Design.Fold.VirtualPath.Value(), 1) {
			t.Errorf("a front of %g m is on the front, a plane one is flat to any frequency", c.Design.Fold.VirtualPath.Value())
		}
		p, comment := h.Written(&c, "x")
		if !strings.Contains(string(designfile.Encode(&p, comment)), `virtual_path = "flat"`) {
			t.Error("the word is not written back")
		}
	}
}
