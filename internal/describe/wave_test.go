package describe

import (
	"context"
	"math"
	"strings"
	"testing"

	"gapline/cabinet/design"
	"gapline/cabinet/section"
	"gapline/cabinet/sizing"
	"gapline/internal/bem"
	"gapline/internal/optional"
	"gapline/internal/quantity"
	"gapline/internal/render/picture"
	"gapline/internal/render/terminal"
	"gapline/internal/result"
	"gapline/internal/study/wave"
	"gapline/plots"
	guide "gapline/waveguide/wave"
)

// waveBox is an invented design with a horn and a fold.
func waveBox() *design.Design {
	d := design.New()
	d.Title = "An invented box"
	d.Cabinet.Width, d.Cabinet.Depth = optional.Of(0.62), optional.Of(0.43)
	d.Horn.Coverage, d.Horn.MouthWidth, d.Horn.MouthHeight, d.Horn.Throat = optional.Of(1.48), optional.Of(0.33), optional.Of(0.258), optional.Of(0.036)
	d.Woofer.EffectiveDiameter = optional.Of(0.12)
	d.Fold.ThroatToWall, d.Fold.VirtualPath, d.Fold.Layer = optional.Of(0.11), optional.Of(1.2), optional.Of(0.014)
	return &d
}

// drawsWith draws a picture and wants the words in it.
func drawsWith(t *testing.T, name string, fig plots.Figure, words ...string) {
	t.Helper()
	var b strings.Builder
	if err := plots.WriteSVG(&b, "p", fig); err != nil {
		t.Errorf("%s: %v", name, err)
		return
	}
	for _, w := range words {
		if !strings.Contains(b.String(), w) {
			t.Errorf("%s lacks %q", name, w)
		}
	}
}

// drawnOf draws the picture of a view.
func drawnOf(t *testing.T, r *result.Result, sys quantity.System, view string) plots.Figure {
	t.Helper()
	fig, err := picture.Of(r, sys, view)
	if err != nil {
		t.Fatal(err)
	}
	return fig
}

func TestPlanPictures(t *testing.T) {
	d := waveBox()
	for _, driven := range []section.Driven{section.ByHorn, section.ByWoofers} {
		st, err := wave.RunPlan(context.Background(), d, driven, wave.Options{Frequencies: []float64{60, 800, 1600, 3200}, Field: 700})
		if err != nil {
			t.Fatal(err)
		}
		r := WavePlan(st, nil)
		drawsWith(t, "beamwidth", drawnOf(t, r, quantity.Metric, WaveBeamwidth), "wave", "620 mm wide")
		drawsWith(t, "polar", drawnOf(t, r, quantity.Metric, WavePolar), "800 Hz", "1600 Hz")
		drawsWith(t, "map", drawnOf(t, r, quantity.Inch, WaveMap), "24.4 in wide")
		drawsWith(t, "field", drawnOf(t, r, quantity.Metric, WaveField), "Pressure level around the box in plan at 700 Hz")
		drawsWith(t, "instant", drawnOf(t, r, quantity.Inch, WaveInstant), "one instant", ", in<")
	}
}

// offCentre is waveBox solved with the horn off the middle.
func offCentre(t *testing.T, driven section.Driven, openings ...section.Opening) *wave.Plan {
	t.Helper()
	d := waveBox()
	d.Cabinet.Width = optional.Of(0.8)
	front := section.Front{HornAt: 0.129, Openings: openings}
	p, faults := section.Plan(d, front, driven)
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	c, err := section.CheckPlan(context.Background(), d, p, driven, section.Solve{Frequencies: []float64{400, 1000, 1600, 3200}})
	if err != nil {
		t.Fatal(err)
	}
	f, err := section.PlanField(context.Background(), d, p, 500, bem.Options{})
	if err != nil {
		t.Fatal(err)
	}
	st := &wave.Plan{Design: d, Sizing: sizing.Size(d), Check: c, Field: &wave.Field{First: f, Reference: section.Reference(f, 0, f.Y[len(f.Y)-1])}}
	st.Sizing.Wave = c.Figures
	return st
}

// screenOf is a result as people read it.
func screenOf(t *testing.T, r *result.Result) string {
	t.Helper()
	var b strings.Builder
	if err := terminal.Write(&b, r, quantity.Metric); err != nil {
		t.Fatal(err)
	}
	return strings.Join(strings.Fields(b.String()), " ")
}

// A section that is not the same on both sides has edges and an aim, and pictures
// that tell the sides apart; a symmetric one says no more than it needs.
func TestOffCentrePlan(t *testing.T) {
	r := WavePlan(offCentre(t, section.ByHorn), nil)
	for _, want := range []string{"horn 129 mm left of the middle with straight walls", "left edge right edge aim", "level on the box's own axis (0°)", "positive to the left"} {
		if got := screenOf(t, r); !strings.Contains(got, want) {
			t.Errorf("screen lacks %q:\n%s", want, got)
		}
	}
	drawsWith(t, "polar", drawnOf(t, r, quantity.Metric, WavePolar), "positive to the left")
	drawsWith(t, "map", drawnOf(t, r, quantity.Metric, WaveMap), "positive to the left")
	drawsWith(t, "field", drawnOf(t, r, quantity.Metric, WaveField), "To the right of the middle")
	r = WavePlan(offCentre(t, section.ByWoofers, section.Opening{Y: -0.25, Width: 0.2, SetbackLeft: 0.05}), nil)
	if got := screenOf(t, r); !strings.Contains(got, "driven by the woofers' openings, 200 mm wide and 250 mm right of the middle, 0 mm to 50 mm behind the front, the slot rigid") {
		t.Errorf("screen: %s", got)
	}
	centred := waveBox()
	centred.Bands.Horn.Offset = optional.Of(0)
	st, err := wave.RunPlan(context.Background(), centred, section.ByHorn, wave.Options{Frequencies: []float64{800, 1250}})
	if err != nil {
		t.Fatal(err)
	}
	// The run ends above pattern control, while the width still falls.
	if got := screenOf(t, WavePlan(st, nil)); !strings.Contains(got, "at 1250 Hz, still falling wave") || !strings.Contains(got, "still falls where the range ends, at 1250 Hz") || strings.Contains(got, "edge") || strings.Contains(got, "aim") || strings.Contains(got, "129") {
		t.Errorf("screen of a symmetric box: %s", got)
	}
}

func TestFoldPictures(t *testing.T) {
	d := waveBox()
	st, err := wave.RunFold(context.Background(), d, guide.Matched, wave.Options{Frequencies: []float64{1000, 4000, 14000}, Field: 2000})
	if err != nil {
		t.Fatal(err)
	}
	r := WaveFold(st, []float64{1100, 3900})
	drawsWith(t, "flatness", drawnOf(t, r, quantity.Metric, WaveFlatness), "quarter wave", "cross mode of a layer", "flat to")
	drawsWith(t, "mouth", drawnOf(t, r, quantity.Inch, WaveMouth), "1000 Hz", "4000 Hz", "rays")
	drawsWith(t, "throat", drawnOf(t, r, quantity.Metric, WaveThroat), "resistance")
	drawsWith(t, "field", drawnOf(t, r, quantity.Metric, WaveField), "The second layer is drawn")
	turn, err := wave.RunTurn(context.Background(), d, 0.004, wave.Options{Frequencies: []float64{1000, 4000, 9000}})
	if err != nil {
		t.Fatal(err)
	}
	drawsWith(t, "turn", drawnOf(t, WaveTurn(turn), quantity.Metric, WaveBend), "14 mm filleted", "a tenth")
}

func TestInstantFollowsThePhase(t *testing.T) {
	// A plane wave e^{j(φ − kx)}: at the reference point's crest the shown value is
	// cos of the phase; a quarter period on, minus its sine.
	f := &guide.Field{X: []float64{0, 1}, Y: []float64{0, 1}}
	for range f.Y {
		f.Pressure = append(f.Pressure, []complex128{3i, 3 * complex(math.Cos(1), math.Sin(1))})
	}
	now := fieldView{instant: true}.values(f, 3i)
	later := fieldView{instant: true, phase: math.Pi / 2}.values(f, 3i)
	// Relative to 3j the second point lags by π/2 − 1.
	lag := math.Pi/2 - 1
	if math.Abs(now[0][0]-1) > 1e-12 || math.Abs(now[0][1]-math.Cos(lag)) > 1e-12 {
		t.Errorf("at the crest %v", now[0])
	}
	if math.Abs(later[0][0]) > 1e-12 || math.Abs(later[0][1]-math.Sin(lag)) > 1e-12 {
		t.Errorf("a quarter period on %v, want 0 and sin %g", later[0], lag)
	}
	level := fieldView{}.values(f, 3i)
	if math.Abs(level[0][1]) > 1e-12 {
		t.Errorf("level %g dB between equal amplitudes", level[0][1])
	}
}

func TestBleedReachesOneCell(t *testing.T) {
	nan := math.NaN()
	z := [][]float64{{1, nan, nan}, {3, nan, nan}, {5, 7, nan}}
	bleed(z)
	want := [][]float64{{1, 1, nan}, {3, 5, nan}, {5, 7, 7}}
	for j := range want {
		for i := range want[j] {
			if z[j][i] != want[j][i] && !(math.IsNaN(z[j][i]) && math.IsNaN(want[j][i])) {
				t.Errorf("(%d, %d) is %g, want %g", j, i, z[j][i], want[j][i])
			}
		}
	}
}

func TestOctavesAndNearest(t *testing.T) {
	f := []float64{250, 500, 1000, 2000, 4000, 8000, 16000}
	if got := octaves(f); len(got) != 5 || got[0] != 1000 || got[4] != 16000 {
		t.Errorf("octaves %v", got)
	}
	if got := octaves([]float64{510, 530}); len(got) != 1 {
		t.Errorf("no octave within: %v", got)
	}
	// In ratio: 1500 is nearer to 2000 than to 1000. Each once.
	if got := nearest(f, []float64{1500, 1900, 60}); len(got) != 2 || got[0] != 3 || got[1] != 0 {
		t.Errorf("nearest %v", got)
	}
}
