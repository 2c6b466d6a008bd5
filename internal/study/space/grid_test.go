package space

import (
	"context"
	"errors"
	"fmt"
	"math"
	"runtime"
	"strings"
	"testing"

	"gapline/cabinet/sizing"
	"gapline/internal/designfile"
	"gapline/internal/study/size"
)

// base is a box whose numbers are easy by hand: pitch 250 mm, mouth of 300 mm
// for 90 degrees, so that the horn starts at 25 400/(0.3·90) = 940.7 Hz.
const base = `[cabinet]
height = "240 mm"
width  = "600 mm"
gap    = "10 mm"
[line]
boxes = 4
[horn]
coverage     = "90 deg"
mouth_width  = "300 mm"
mouth_height = "230 mm"
`

// tapered is base with a rear 230 mm high: no lower box can exist.
var tapered = strings.Replace(base, "[cabinet]\n", "[cabinet]\nrear_height = \"230 mm\"\n", 1)

const links = `[follow]
"horn.mouth_height" = { of = "cabinet.pitch" }
"horn.mouth_width"  = { of = "horn.mouth_height", factor = 2 }
`

func grid(t testing.TB, text string, vary ...string) *Grid {
	t.Helper()
	f, err := designfile.Parse("d.toml", []byte(text), nil)
	if err != nil {
		t.Fatal(err)
	}
	var axes []Axis
	for _, v := range vary {
		a, err := ParseAxis(v)
		if err != nil {
			t.Fatal(err)
		}
		axes = append(axes, a)
	}
	g, err := NewGrid(&f.Project, axes)
	if err != nil {
		t.Fatal(err)
	}
	return g
}

// The last axis varies fastest, and rows come in the order of their index.
func TestGridOrder(t *testing.T) {
	g := grid(t, base, "horn.coverage=60,90deg", "cabinet.pitch=240,250,260mm")
	if g.Len() != 6 {
		t.Fatalf("%d designs, want 6", g.Len())
	}
	want := [][2]float64{{60, 240}, {60, 250}, {60, 260}, {90, 240}, {90, 250}, {90, 260}}
	next := 0
	err := each(context.Background(), g, func(r row) error {
		if r.Index != next {
			t.Fatalf("row %d came as number %d", r.Index, next)
		}
		at := g.At(r.Index)
		if math.Abs(at[0].Number*180/math.Pi-want[next][0]) > 1e-9 || math.Abs(at[1].Number*1e3-want[next][1]) > 1e-9 {
			t.Errorf("row %d is at %v and %v, want %v", next, at[0].Number, at[1].Number, want[next])
		}
		if math.Abs(r.Sizing.Coupling.Pitch*1e3-want[next][1]) > 1e-9 {
			t.Errorf("row %d was sized at pitch %v, want %v mm", next, r.Sizing.Coupling.Pitch, want[next][1])
		}
		next++
		return nil
	})
	if err != nil || next != 6 {
		t.Errorf("%d rows, %v", next, err)
	}
}

// fingerprint writes down every figure of every row to the last bit.
func fingerprint(t *testing.T, g *Grid) string {
	var b strings.Builder
	err := each(context.Background(), g, func(r row) error {
		fmt.Fprintf(&b, "%d %v", r.Index, r.Err)
		for _, f := range size.Table {
			fmt.Fprintf(&b, " %x", math.Float64bits(f.Of(&r.Sizing)))
		}
		b.WriteByte('\n')
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	gaps, _, err := g.Gaps(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	return b.String() + fmt.Sprint(gaps)
}

// The number of cores must not show in the result. 1500 designs make three
// pieces of work, some of them designs that cannot exist.
func TestSameRowsOnAnyNumberOfCores(t *testing.T) {
	g := grid(t, tapered+links, "cabinet.pitch=200:349:1mm", "horn.coverage=60:105:5deg")
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	one := fingerprint(t, g)
	for _, n := range []int{2, 3, 8} {
		runtime.GOMAXPROCS(n)
		if many := fingerprint(t, g); many != one {
			t.Errorf("rows on %d cores differ from rows on one", n)
		}
	}
	if !strings.Contains(one, "tapers towards") {
		t.Error("the grid was meant to hold designs that cannot exist")
	}
}

// A design of the grid is the same as the file read with the values as --set,
// links and all.
func TestGridAgreesWithSettings(t *testing.T) {
	for _, text := range []string{base, base + links} {
		g := grid(t, text, "cabinet.pitch=230:270:10mm", "horn.coverage=80,100deg")
		for i := range g.Len() {
			var settings []string
			for _, v := range g.At(i) {
				unit := map[string]string{"cabinet.pitch": "m", "horn.coverage": "rad"}[v.Key.Path]
				settings = append(settings, fmt.Sprintf("%s=%.17g %s", v.Key.Path, v.Number, unit))
			}
			f, err := designfile.Parse("d.toml", []byte(text), settings)
			d, gridErr := g.Design(g.At(i))
			if (err == nil) != (gridErr == nil) {
				t.Fatalf("design %d: file says %v, grid says %v", i, err, gridErr)
			}
			if err != nil {
				continue
			}
			if got, want := sizing.GapOf(&d), sizing.GapOf(&f.Design); math.Abs(got-want) > 1e-12 {
				t.Errorf("design %d: gap %v in the grid, %v with --set", i, got, want)
			}
		}
	}
}

// With the links of this test, a pitch 10 mm shorter makes the mouth 10 mm
// lower and, by the factor 2, 20 mm narrower: 280 mm, so that the horn starts
// at 25 400/(0.28·90) Hz. Without links it stays at 300 mm.
func TestLinksOnAndOff(t *testing.T) {
	g := grid(t, base+links, "cabinet.pitch=240mm")
	if !g.Linked() {
		t.Error("the pitch moves two keys, but the grid is not linked")
	}
	linked, err := g.Design(g.At(0))
	if err != nil {
		t.Fatal(err)
	}
	g.Unlinked = true
	free, err := g.Design(g.At(0))
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(linked.Horn.MouthWidth.Value()-0.28) > 1e-12 || math.Abs(linked.Horn.MouthHeight.Value()-0.22) > 1e-12 {
		t.Errorf("linked mouth is %v × %v, want 0.28 × 0.22", linked.Horn.MouthWidth.Value(), linked.Horn.MouthHeight.Value())
	}
	if free.Horn.MouthWidth.Value() != 0.3 || free.Horn.MouthHeight.Value() != 0.23 {
		t.Errorf("free mouth is %v × %v, want 0.3 × 0.23", free.Horn.MouthWidth.Value(), free.Horn.MouthHeight.Value())
	}
	s := sizing.Size(&linked)
	if want := 25400 / (0.28 * 90); math.Abs(s.Horn.PatternRule-want) > 1e-9*want {
		t.Errorf("linked horn from %v Hz, want %v", s.Horn.PatternRule, want)
	}
}

// Links act only when their source moves, directly, by a chain, or because
// height and gap make the pitch.
func TestWhenLinksAct(t *testing.T) {
	for _, c := range []struct {
		vary string
		want bool
	}{
		{"cabinet.pitch=250,260mm", true},
		{"cabinet.height=240,250mm", true},
		{"cabinet.gap=5,10mm", true},
		{"horn.mouth_height=220,230mm", true}, // mouth_width follows it
		{"horn.mouth_width=250,300mm", false}, // the end of the chain
		{"horn.coverage=80,90deg", false},
		{"line.boxes=3,4", false},
	} {
		if got := grid(t, base+links, c.vary).Linked(); got != c.want {
			t.Errorf("--vary %s: linked is %v, want %v", c.vary, got, c.want)
		}
	}
	if grid(t, base, "cabinet.pitch=250,260mm").Linked() {
		t.Error("linked without links")
	}
}

// A varied key no longer follows.
func TestVariedKeyDoesNotFollow(t *testing.T) {
	g := grid(t, base+links, "cabinet.pitch=260mm", "horn.mouth_height=150mm")
	d, err := g.Design(g.At(0))
	if err != nil {
		t.Fatal(err)
	}
	// mouth_width follows mouth_height: 300 + 2·(150 − 230) = 140 mm.
	if d.Horn.MouthHeight.Value() != 0.15 || math.Abs(d.Horn.MouthWidth.Value()-0.14) > 1e-12 {
		t.Errorf("mouth is %v × %v, want 0.14 × 0.15", d.Horn.MouthWidth.Value(), d.Horn.MouthHeight.Value())
	}
}

// A design that cannot be built exists: it is computed and told from those that fit. The
// front is 600 mm wide.
func TestMisfitsAreComputed(t *testing.T) {
	g := grid(t, base, "horn.mouth_width=500,600,601,700mm")
	gaps, fits, err := g.Gaps(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []bool{true, true, false, false} {
		if fits[i] != want || math.IsNaN(gaps[i]) {
			t.Errorf("%s: fits %v with a gap of %g, want %v and a gap", g.At(i)[0].Show(0), fits[i], gaps[i], want)
		}
	}
	g.MustFit = true
	if _, err := g.Design(g.At(3)); err == nil || err.Error() != "misfit: a part needs more width than the cabinet has" {
		t.Errorf("a search takes a box that cannot be built: %v", err)
	}
}

// Designs that cannot exist are told from those that can, with the reason:
// values out of range, values that contradict each other, links that leave their range.
func TestImpossibleDesigns(t *testing.T) {
	for _, c := range []struct{ text, vary, want string }{
		{tapered, "cabinet.pitch=235mm", "cabinet.rear_height is 230 mm, more than cabinet.height of 225 mm: a cabinet tapers towards its rear"},
		{base, "cabinet.height=1:2:1mm", "cabinet.height is 1 mm: between 30 mm and 3 m is needed"},
		{base + links, "cabinet.pitch=95mm", "horn.mouth_width is -10 mm: between 10 mm and 3 m is needed"},
	} {
		g := grid(t, c.text, c.vary)
		_, err := g.Design(g.At(0))
		if err == nil || err.Error() != c.want {
			t.Errorf("--vary %s: %v, want %s", c.vary, err, c.want)
		}
		gaps, fits, err := g.Gaps(context.Background())
		if fits[0] {
			t.Errorf("--vary %s: a design that cannot exist fits", c.vary)
		}
		if err != nil || !math.IsNaN(gaps[0]) {
			t.Errorf("--vary %s: gap %v, %v; want NaN", c.vary, gaps[0], err)
		}
	}
}

func TestGapsAgreeWithSizing(t *testing.T) {
	for _, basis := range []string{"half-wave", "lobe"} {
		g := grid(t, base+"[targets]\ncoupling = \""+basis+"\"\n", "cabinet.pitch=200:400:50mm")
		gaps, _, err := g.Gaps(context.Background())
		if err != nil {
			t.Fatal(err)
		}
		err = each(context.Background(), g, func(r row) error {
			if got, want := gaps[r.Index], r.Sizing.Gap.AsGiven(); r.Err == nil && math.Abs(got-want) > 1e-9 {
				t.Errorf("%s, design %d: gap %v, sizing says %v", basis, r.Index, got, want)
			}
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
	}
}

func TestNewGridRefuses(t *testing.T) {
	f, err := designfile.Parse("d.toml", []byte(base), nil)
	if err != nil {
		t.Fatal(err)
	}
	pitch, _ := ParseAxis("cabinet.pitch=200,250mm")
	long, _ := ParseAxis("cabinet.pitch=200:300:0.01mm")
	wide, _ := ParseAxis("horn.mouth_width=200:300:0.01mm")
	for _, c := range []struct {
		axes []Axis
		want string
	}{
		{[]Axis{pitch, pitch}, "cabinet.pitch is varied twice"},
		{[]Axis{{Key: pitch.Key}}, "cabinet.pitch has no values"},
		{[]Axis{long, wide}, "the grid has more than 10000000 designs"},
	} {
		if _, err := NewGrid(&f.Project, c.axes); err == nil || err.Error() != c.want {
			t.Errorf("got %v, want %s", err, c.want)
		}
	}
}

// Cancelled work ends with the piece under way, out of four million designs.
func TestCancelEndsTheGrid(t *testing.T) {
	g := grid(t, base, "cabinet.pitch=200:400:0.1mm", "horn.coverage=60:100:0.02deg")
	ctx, cancel := context.WithCancel(context.Background())
	const stop = 1000
	rows := 0
	err := each(ctx, g, func(row) error {
		if rows++; rows == stop {
			cancel()
		}
		return nil
	})
	if !errors.Is(err, context.Canceled) {
		t.Errorf("error %v, want context.Canceled", err)
	}
	if rows >= stop+chunk {
		t.Errorf("%d rows came after the cancellation, with pieces of %d", rows-stop, chunk)
	}
	if _, _, err := g.Gaps(ctx); !errors.Is(err, context.Canceled) {
		t.Errorf("gaps: error %v, want context.Canceled", err)
	}
	if _, err := g.MouthCurves(ctx); !errors.Is(err, context.Canceled) {
		t.Errorf("curves: error %v, want context.Canceled", err)
	}
}

func TestErrorOfEmitEndsTheGrid(t *testing.T) {
	g := grid(t, base, "cabinet.pitch=200:400:0.1mm")
	full := errors.New("disk full")
	rows := 0
	err := each(context.Background(), g, func(row) error {
		rows++
		return full
	})
	if !errors.Is(err, full) || rows != 1 {
		t.Errorf("%d rows, %v", rows, err)
	}
}

// row is one design of a grid, sized.
type row struct {
	Index  int
	Sizing sizing.Sizing
	Err    error
}

// each sizes every design of a grid.
func each(ctx context.Context, g *Grid, emit func(row) error) error {
	return Each(ctx, &g.Space, g.Values, 0, g.Len(), func(p *Point) row { return row{p.Index, p.Size(), p.Err} }, emit)
}

// BenchmarkEach sizes a grid as a sweep does; 10,000 designs a turn.
func BenchmarkEach(b *testing.B) {
	g := grid(b, base, "cabinet.pitch=200:299:1mm", "horn.coverage=60:109.5:0.5deg")
	for b.Loop() {
		if err := each(context.Background(), g, func(row) error { return nil }); err != nil {
			b.Fatal(err)
		}
	}
}
