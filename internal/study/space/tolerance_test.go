package space

import (
	"context"
	"errors"
	"fmt"
	"math"
	"runtime"
	"strings"
	"testing"

	"gapline/cabinet/design"
	"gapline/cabinet/sizing"
	"gapline/internal/advice"
	"gapline/internal/designfile"
	"gapline/internal/figure"
	"gapline/internal/optional"
	"gapline/internal/quantity"
	"gapline/internal/result"
	"gapline/internal/schema"
	"gapline/internal/study/fit"
	"gapline/internal/wordset"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"
)

// box is an invented design whose gap is a closed form: on the half-wave basis
// log2(10⁶/(W·θ) / (c/2p)), W in inches and θ in degrees.
const box = `[cabinet]
pitch = "300 mm"
[line]
boxes = 6
[horn]
coverage = "90 deg"
mouth_width = "10 in"
mouth_height = "200 mm"
path_length = "1 m"
[targets]
%s
[tolerance]
samples = %d
%s
`

func load(t testing.TB, text string) *schema.Project {
	t.Helper()
	f, err := designfile.Parse("box.toml", []byte(text), nil)
	if err != nil {
		t.Fatal(err)
	}
	return &f.Project
}

func spreadOf(t testing.TB, targets string, samples int, tolerances string) (*Tolerance, *ToleranceResult) {
	t.Helper()
	d, err := NewTolerance(load(t, fmt.Sprintf(box, targets, samples, tolerances)))
	if err != nil {
		t.Fatal(err)
	}
	r, err := d.Run(context.Background(), func(int) {})
	if err != nil {
		t.Fatal(err)
	}
	return d, r
}

func (r *ToleranceResult) band(t testing.TB, key string) FigureBand {
	t.Helper()
	for _, b := range r.Figures {
		if b.Figure.Key == key {
			return b
		}
	}
	t.Fatalf("no figure %s", key)
	return FigureBand{}
}

// With the pitch alone uniform in ±10 mm the gap's q-point is exactly
// log2((p − t + 2tq)/p) above the gap as designed.
func TestOneTolerance(t *testing.T) {
	_, r := spreadOf(t, "", 2000, `"cabinet.pitch" = "10 mm"`)
	b := r.band(t, "gap.open_oct")
	gap := func(q float64) float64 { return b.Value + math.Log2((0.29+0.02*q)/0.3) }
	// One stratified input: every quantile is right to a cell of 20 mm/2000.
	const tol = 2 * 0.02 / 2000 / 0.29 * math.Log2E
	for _, c := range [][2]float64{{b.Low, gap(0.05)}, {b.Median, gap(0.5)}, {b.High, gap(0.95)}} {
		if math.Abs(c[0]-c[1]) > tol {
			t.Errorf("gap %g, want %g", c[0], c[1])
		}
	}
	if b := r.band(t, "air.sound_speed_m_s"); b.Moves() {
		t.Error("the pitch moves the speed of sound")
	}
}

// A target that 30 % of the pitches meet is met by 30 % of the designs.
func TestChanceOfATarget(t *testing.T) {
	_, before := spreadOf(t, "", 20, `"cabinet.pitch" = "10 mm"`)
	target := before.Gap + math.Log2(0.296/0.3)
	_, r := spreadOf(t, fmt.Sprintf(`gap = "%.12f oct"`, target), 2000, `"cabinet.pitch" = "10 mm"`)
	if len(r.Targets) != 1 || math.Abs(r.Targets[0].Share-0.3) > 1.0/2000 {
		t.Errorf("chances %+v, want 0.3", r.Targets)
	}
	if c := r.Targets[0]; c.Low > 0.3 || c.High < 0.3 || c.High-c.Low > 0.05 {
		t.Errorf("interval %g to %g", c.Low, c.High)
	}
}

// In logarithms the gap is linear: normal W, θ and p with small relative sigmas
// spread it by the root of their squares (first order; the second order is below
// a hundredth of it at 1 %).
func TestSeveralTolerances(t *testing.T) {
	_, r := spreadOf(t, "", 4000, `"cabinet.pitch" = { sigma = "1 %" }
"horn.mouth_width" = { sigma = "1.5 %" }
"horn.coverage" = { sigma = "0.5 %" }`)
	b := r.band(t, "gap.open_oct")
	sigma := math.Sqrt(1+1.5*1.5+0.25) * 0.01 * math.Log2E
	// Standard error of a 5 % point of 4000 draws: 0.033 sigma; 3 of them.
	if tol := 0.1 * sigma; math.Abs(b.High-b.Value-1.645*sigma) > tol || math.Abs(b.Value-b.Low-1.645*sigma) > tol {
		t.Errorf("band %g to %g about %g, want ± %g", b.Low, b.High, b.Value, 1.645*sigma)
	}
	var order []string
	for _, e := range r.Effects {
		order = append(order, e.Tolerance.Key.Path)
	}
	if d := cmp.Diff([]string{"horn.mouth_width", "cabinet.pitch", "horn.coverage"}, order); d != "" {
		t.Errorf("ranking (-want +got):\n%s", d)
	}
	// 1.645 · 1.5 % of width to either side.
	if e := r.Effects[0]; math.Abs(e.AtLow-r.Gap+math.Log2(1-0.0246728)) > 1e-6 || math.Abs(e.AtHigh-r.Gap+math.Log2(1+0.0246728)) > 1e-6 {
		t.Errorf("width: gap %g and %g about %g", e.AtLow, e.AtHigh, r.Gap)
	}
}

// Two mouths 149.5 mm high side by side along the line, half the pitch of 300 ± 4 mm apart,
// exist in 5/8 of the cases.
func TestImpossibleDesignsAreCounted(t *testing.T) {
	text := strings.Replace(box, "[horn]", "[insert]\nmouths = 2\nmouth_height = \"149.5 mm\"\n[horn]", 1)
	d, err := NewTolerance(load(t, fmt.Sprintf(text, "gap = \"5 oct\"", 800, `"cabinet.pitch" = "4 mm"`)))
	if err != nil {
		t.Fatal(err)
	}
	r, err := d.Run(context.Background(), func(int) {})
	if err != nil {
		t.Fatal(err)
	}
	// Of the design at the edge the micrometre of play that counts as touching decides.
	if r.Impossible < 299 || r.Impossible > 300 || r.Samples != 800 || !strings.Contains(r.First, "or those of one box overlap") {
		t.Errorf("%d of %d cannot exist (%s), want 300", r.Impossible, r.Samples, r.First)
	}
	if c := r.Targets[0]; c.Met != 800-r.Impossible || c.Of != 800 {
		t.Errorf("the wide target is met by %d of %d, and %d cannot exist", c.Met, c.Of, r.Impossible)
	}
	if e := r.Effects[0]; !e.Missing || !math.IsNaN(e.AtLow) || math.IsNaN(e.AtHigh) {
		t.Errorf("effect %+v: want no gap at the low end", e)
	}
}

// A mouth of 299 mm in boxes 300 ± 4 mm high fits in 5/8 of the cases, and every one is
// computed.
func TestShareThatFits(t *testing.T) {
	text := strings.Replace(box, `mouth_height = "200 mm"`, `mouth_height = "299 mm"`, 1)
	d, err := NewTolerance(load(t, fmt.Sprintf(text, "gap = \"5 oct\"", 800, `"cabinet.pitch" = "4 mm"`)))
	if err != nil {
		t.Fatal(err)
	}
	r, err := d.Run(context.Background(), func(int) {})
	if err != nil {
		t.Fatal(err)
	}
	if r.Fits < 500 || r.Fits > 501 || r.Impossible != 0 || r.Targets[0].Met != 800 {
		t.Errorf("%d of %d fit, %d cannot exist, %d meet the target: want 500, 0 and 800", r.Fits, r.Samples, r.Impossible, r.Targets[0].Met)
	}
}

// The tolerances of a lever's values are laid on the lever: at pitch p the gap's
// band is that of p ± 1 %.
func TestBandAlongALever(t *testing.T) {
	d, _ := spreadOf(t, "", 1000, `"cabinet.pitch" = "1 %"`)
	axis, err := ParseAxis("cabinet.pitch=250mm:350mm:50mm")
	if err != nil {
		t.Fatal(err)
	}
	g, err := NewGrid(load(t, fmt.Sprintf(box, "", 1000, `"cabinet.pitch" = "1 %"`)), []Axis{axis})
	if err != nil {
		t.Fatal(err)
	}
	got, err := d.Along(context.Background(), g, func(int) {})
	if err != nil || len(got) != 3 {
		t.Fatal(len(got), err)
	}
	for i, b := range got {
		if want := got[1].Nominal + math.Log2([]float64{0.25, 0.3, 0.35}[i]/0.3); math.Abs(b.Nominal-want) > 1e-12 {
			t.Errorf("value %d: gap %g, want %g", i, b.Nominal, want)
		}
		if math.Abs(b.High-b.Nominal-math.Log2(1.009)) > 1e-4 || math.Abs(b.Low-b.Nominal-math.Log2(0.991)) > 1e-4 {
			t.Errorf("value %d: band %g to %g about %g", i, b.Low, b.High, b.Nominal)
		}
	}
}

func TestToleranceDoesNotDependOnCores(t *testing.T) {
	const tolerances = `"cabinet.pitch" = "10 mm"
"horn.coverage" = "5 deg"`
	_, want := spreadOf(t, "", 1000, tolerances)
	before := runtime.GOMAXPROCS(1)
	defer runtime.GOMAXPROCS(before)
	_, got := spreadOf(t, "", 1000, tolerances)
	same := cmp.Options{cmpopts.EquateNaNs(), cmp.Comparer(func(a, b *figure.Def) bool { return a == b }),
		cmp.Comparer(func(a, b *schema.Key) bool { return a == b })}
	if d := cmp.Diff(want, got, same); d != "" {
		t.Errorf("one core differs from all (-all +one):\n%s", d)
	}
}

func TestStoppedTolerance(t *testing.T) {
	d, _ := spreadOf(t, "", 20, `"cabinet.pitch" = "10 mm"`)
	d.Samples = 100_000
	ctx, cancel := context.WithCancel(context.Background())
	r, err := d.Run(ctx, func(done int) {
		if done > 500 {
			cancel()
		}
	})
	if !errors.Is(err, context.Canceled) || r.Samples < 500 || r.Samples == d.Samples {
		t.Fatalf("%d sampled, error %v", r.Samples, err)
	}
	if b := r.band(t, "gap.open_oct"); b.Given != r.Samples || b.Low >= b.High {
		t.Errorf("band of what was done: %+v", b)
	}
}

func TestToleranceWithoutTable(t *testing.T) {
	_, err := NewTolerance(load(t, "[cabinet]\npitch = \"300 mm\"\n"))
	var ps schema.Faults
	if !errors.As(err, &ps) || !strings.Contains(err.Error(), `"cabinet.pitch"    = "2 mm"`) {
		t.Errorf("error %v: want an example", err)
	}
}

// The targets are judged as the findings of the size command judge them.
func TestTargetsAgreeWithFindings(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.SampledFrom(designfile.Starters).Draw(t, "starter")
		f, err := designfile.LoadStarter(s.Name, nil)
		if err != nil {
			t.Fatal(err)
		}
		d := f.Design
		d.SetPitch(rapid.Float64Range(0.2, 0.5).Draw(t, "pitch"))
		d.Horn.MouthWidth = optional.Of(rapid.Float64Range(0.2, 0.6).Draw(t, "width"))
		d.Horn.PathLength = optional.Of(rapid.Float64Range(0.3, 3).Draw(t, "path"))
		d.Targets.Lowest = optional.Of(rapid.Float64Range(80, 300).Draw(t, "lowest"))
		d.Targets.Gap = optional.Of(rapid.Float64Range(-0.5, 0.5).Draw(t, "gap"))
		d.Targets.Coupling = rapid.SampledFrom(wordset.All[design.Basis]()).Draw(t, "basis")
		d.Targets.Trust = design.RuleDecides // the level of the gap that tolerance judges
		if d.Targets.Coupling == design.Lobe {
			d.Targets.Trust = design.ApertureDecides
		}
		sizing := sizing.Size(&d)
		want := map[string]bool{}
		for _, x := range advice.Findings(&d, &sizing, &fit.Fit{}) {
			if x.Severity == result.Missed || x.Severity == result.Met {
				want[x.Key] = x.Severity == result.Met
			}
		}
		got := map[string]bool{}
		for _, l := range Targets(&d, &sizing) {
			got[l.Of.Name()] = l.Excess(Value(l.Of, &d, &sizing)) <= 0
		}
		// One finding tells of the front, by the level that decides.
		if by, ok := got[figure.HornFlatLobe.Key]; ok && d.Targets.Trust == design.ApertureDecides {
			got[figure.HornFlatTo.Key] = by
		}
		delete(got, figure.HornFlatLobe.Key)
		if diff := cmp.Diff(want, got); diff != "" {
			t.Fatalf("targets met (-findings +targets):\n%s", diff)
		}
	})
}

func BenchmarkTolerance(b *testing.B) {
	f, err := designfile.LoadStarter("hatch-insert", nil)
	if err != nil {
		b.Fatal(err)
	}
	d, err := NewTolerance(&f.Project)
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if _, err := d.Run(context.Background(), func(int) {}); err != nil {
			b.Fatal(err)
		}
	}
}

// Two woofers of 240 mm with a mouth of 270 ± 2 mm between them in a cabinet 762 ± 4 mm
// wide: they fit while 240 mm + their distance is at most the width, and their distance less
// 240 mm at least the mouth. The shares follow from the two even spreads by hand.
func TestShareThatCanBeBuiltAlongALever(t *testing.T) {
	base := load(t, `[cabinet]
height = "300 mm"
width = "762 mm"
[line]
boxes = 6
[woofer]
size = "240 mm"
per_box = 2
columns = 2
lateral_spacing = "520 mm"
[horn]
coverage = "90 deg"
mouth_width = "270 mm"
mouth_height = "280 mm"
[tolerance]
"cabinet.width" = "4 mm"
"horn.mouth_width" = "2 mm"
`)
	d, err := NewTolerance(base)
	if err != nil {
		t.Fatal(err)
	}
	axis, err := ParseAxis("woofer.lateral_spacing=505,510,515,520,525,530 mm")
	if err != nil {
		t.Fatal(err)
	}
	g, err := NewGrid(base, []Axis{axis})
	if err != nil {
		t.Fatal(err)
	}
	got, err := d.Along(context.Background(), g, func(int) {})
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []float64{0, 0.5, 1, 0.75, 0.125, 0} {
		// A Latin hypercube has one sample in each of n even slices: a share of one
		// spread is off by one sample at most.
		if n := float64(d.Samples); math.Abs(got[i].Fits-want) > 1.001/math.Min(n, maxBandSamples) {
			t.Errorf("at %s: %g can be built, want %g", got[i].Value.Show(quantity.Metric), got[i].Fits, want)
		}
	}
}
