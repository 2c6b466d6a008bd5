package trace

import (
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"gapline/cabinet/design"
	"gapline/cabinet/sizing"
	"gapline/internal/numeric"
	"gapline/internal/optional"
	"gapline/internal/schema"
)

// A strip's edge falls to −6 dB where sin(x)/x does; smoothing over 1/12 octave moves it by
// little.
func TestPatternControlOfAStrip(t *testing.T) {
	in := PairInput{With: load(t, "horn-axis.txt"), Without: load(t, "horn-edge.txt"), Of: OfEdge}
	v, err := Compare(starter(t), []Input{in.With, in.Without}, []PairInput{in}, with(usual, func(o *Options) { o.Wave = sizing.AbsentWave }))
	if err != nil {
		t.Fatal(err)
	}
	if got := v.Pairs[0].Control; math.Abs(got/edgeControlled-1) > 0.01 {
		t.Errorf("holds its pattern from %g, want %g", got, edgeControlled)
	}
	if len(v.Pairs[0].Limits) != 2 {
		t.Errorf("%d predicted limits beside it, want rule and aperture", len(v.Pairs[0].Limits))
	}
}

// keeping is a design whose file stands in a folder of its own, with the synthetic traces
// beside it.
func keeping(t *testing.T) (file string, d *design.Design) {
	t.Helper()
	dir := t.TempDir()
	for _, name := range []string{"line-spaced.txt", "line-packed.txt", "horn-axis.txt", "horn-edge.txt"} {
		data, err := os.ReadFile(filepath.Join(folder, name))
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(dir, name), data, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	d = starter(t)
	d.Measured = design.Measured{Stack: "line-spaced.txt", Closer: "line-packed.txt", Axis: "horn-axis.txt", Edge: "horn-edge.txt", Aligned: []float64{60, 200}}
	d.Measured.StackDigest, d.Measured.EdgeDigest = schema.Digest(d, schema.StackTables), schema.Digest(d, schema.EdgeTables)
	return filepath.Join(dir, "box.toml"), d
}

// Four points 0.55 m apart seen 20 degrees off their axis differ from four at 0.272 m by 3 dB
// where the closed form of either says so; the horn's edge as above. The ranges are half of a
// twelfth of an octave to either side.
func TestKeptTracesGiveTheirLimits(t *testing.T) {
	file, d := keeping(t)
	m := Kept(t.Context(), file, d, func(err error) { t.Error(err) })
	apart := func(f float64) float64 {
		level := func(pitch float64) float64 {
			x := math.Pi * pitch * math.Sin(20*math.Pi/180) * f / 346.7
			return 20 * math.Log10(math.Abs(math.Sin(4*x)/(4*math.Sin(x))))
		}
		return level(0.55) - level(0.272)
	}
	moved, n := 0.0, 0.0
	for f := 60.0; f < 200; f *= 1.0005 { // the band of alignment, over log f
		moved, n = moved+apart(f), n+1
	}
	want := 200.0
	for math.Abs(apart(want)-moved/n) < 3 {
		want *= 1.0005
	}
	if math.Abs(math.Log2(m.Coupling/want)) > 0.03 { // smoothing and noise
		t.Errorf("stacks part at %g, want %g", m.Coupling, want)
	}
	if math.Abs(m.Pattern/edgeControlled-1) > 0.01 {
		t.Errorf("pattern from %g, want %g", m.Pattern, edgeControlled)
	}
	if got := math.Log2(m.PatternTo / m.PatternFrom); math.Abs(got-1.0/12) > 1e-9 {
		t.Errorf("range of %g octaves, want a twelfth", got)
	}
}

// A pair counts as long as the geometry that it depends on stays, and no longer.
func TestKeptTracesOfAnotherBoxDoNotCount(t *testing.T) {
	for _, c := range []struct {
		name           string
		change         func(*design.Design)
		coupling, edge bool
		want           string
	}{
		{"nothing", func(d *design.Design) {}, true, true, ""},
		{"title, power and tilt", func(d *design.Design) {
			d.Title, d.Woofer.Power, d.Line.Tilt = "other", optional.Of(123.0), optional.Of(0.1)
		}, true, true, ""},
		{"the horn", func(d *design.Design) { d.Horn.MouthWidth = optional.Of(0.31) }, true, false, "changed since measured.axis"},
		{"the insert", func(d *design.Design) { d.Insert.MouthHeight = optional.Of(0.05) }, false, true, "changed since measured.stack"},
		{"the box", func(d *design.Design) { d.Cabinet.Width = optional.Of(0.9) }, false, false, "changed since"},
		{"half a pair", func(d *design.Design) { d.Measured.Closer = "" }, false, true, "measured.closer is not given"},
		{"no digest", func(d *design.Design) { d.Measured.EdgeDigest = "" }, true, false, "no digest"},
		{"no file", func(d *design.Design) { d.Measured.Edge = "gone.txt" }, true, false, "gone.txt"},
		{"pairs that do not part", func(d *design.Design) { d.Measured.Closer = d.Measured.Stack }, false, true, "do not part"},
	} {
		file, d := keeping(t)
		c.change(d)
		var told []string
		m := Kept(t.Context(), file, d, func(err error) { told = append(told, err.Error()) })
		if numeric.Given(m.Coupling) != c.coupling || numeric.Given(m.Pattern) != c.edge {
			t.Errorf("%s changed: coupling %g, pattern %g", c.name, m.Coupling, m.Pattern)
		}
		if got := strings.Join(told, "; "); !strings.Contains(got, c.want) || (c.want == "") != (got == "") {
			t.Errorf("%s changed: told %q, want %q in it", c.name, got, c.want)
		}
	}
}

// Measured limits are a level of trust of their own, above wave.
func TestMeasuredIsALevel(t *testing.T) {
	file, d := keeping(t)
	s := sizing.Size(d)
	s.Measured = Kept(t.Context(), file, d, nil)
	g := sizing.Levels(d, &s)[sizing.ByMeasured]
	if !g.Given || g.High.By != sizing.PatternMeasured || g.High.Hz != s.Measured.Pattern || g.Low.By != sizing.CouplingMeasured {
		t.Errorf("measured level %+v", g)
	}
	if !(g.Range[0] < g.Gap && g.Gap < g.Range[1]) {
		t.Errorf("range %v about %g", g.Range, g.Gap)
	}
}
