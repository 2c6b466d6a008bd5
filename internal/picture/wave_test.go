package picture

import (
	"context"
	"math"
	"strings"
	"testing"

	"gapline/cabinet/design"
	"gapline/cabinet/section"
	"gapline/cabinet/sizing"
	"gapline/internal/bem"
	"gapline/internal/quantity"
	"gapline/plots"
	"gapline/waveguide/wave"
)

// waveBox is an invented design with a horn and a fold, sized.
func waveBox() (*design.Design, *sizing.Sizing) {
	d := design.New()
	d.Title = "An invented box"
	d.Cabinet.Width, d.Cabinet.Depth = 0.62, 0.43
	d.Horn.Coverage, d.Horn.MouthWidth, d.Horn.MouthHeight, d.Horn.Throat = 1.48, 0.33, 0.258, 0.036
	d.Woofer.EffectiveDiameter = 0.12
	d.Fold.ThroatToWall, d.Fold.VirtualPath, d.Fold.Layer = 0.11, 1.2, 0.014
	s := sizing.Size(&d)
	return &d, &s
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

func TestPlanPictures(t *testing.T) {
	d, s := waveBox()
	for _, driven := range []section.Driven{section.ByHorn, section.ByWoofers} {
		p, problems := section.Plan(d, driven)
		if len(problems) > 0 {
			t.Fatal(problems)
		}
		c, err := section.CheckPlan(context.Background(), d, p, driven, section.Solve{Frequencies: []float64{60, 800, 1600, 3200}})
		if err != nil {
			t.Fatal(err)
		}
		s.Wave = c.Figures
		drawsWith(t, "beamwidth", PlanBeamwidth(d, s, c, quantity.Metric), "wave", "620 mm wide")
		drawsWith(t, "polar", PlanPolar(d, s, c, nil, quantity.Metric), "800 Hz", "1600 Hz")
		drawsWith(t, "map", PlanMap(d, s, c, quantity.Inch), "24.4 in wide")
		f, err := section.PlanField(context.Background(), d, p, 700, bem.Options{})
		if err != nil {
			t.Fatal(err)
		}
		drawsWith(t, "field", PlanField(d, s, c, f, FieldView{}, quantity.Metric), "Pressure level around the box in plan at 700 Hz")
		drawsWith(t, "instant", PlanField(d, s, c, f, FieldView{Instant: true}, quantity.Inch), "one instant", ", in<")
	}
}

func TestFoldPictures(t *testing.T) {
	d, s := waveBox()
	rays, g, problems := section.Fold(d, wave.Matched)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	c, err := section.CheckFold(context.Background(), d, rays, g, section.Solve{Frequencies: []float64{1000, 4000, 14000}})
	if err != nil {
		t.Fatal(err)
	}
	s.Wave = c.Figures
	drawsWith(t, "flatness", FoldFlatness(d, s, c, quantity.Metric), "quarter wave", "cross mode of a layer", "flat to")
	drawsWith(t, "mouth", FoldMouth(d, s, c, []float64{1100, 3900}, quantity.Inch), "1000 Hz", "4000 Hz", "rays")
	drawsWith(t, "throat", FoldThroat(d, s, c, quantity.Metric), "resistance")
	turns, problems := section.Turns(d, 0.004)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	if err := turns.Solve(context.Background(), d, section.Solve{Frequencies: []float64{1000, 4000, 9000}}); err != nil {
		t.Fatal(err)
	}
	drawsWith(t, "turn", TurnChart(d, s, turns, quantity.Metric), "14 mm filleted", "a tenth")
}

func TestInstantFollowsThePhase(t *testing.T) {
	// A plane wave e^{j(φ − kx)}: at the reference point's crest the shown value is
	// cos of the phase; a quarter period on, minus its sine.
	f := &wave.Field{X: []float64{0, 1}, Y: []float64{0, 1}}
	for range f.Y {
		f.Pressure = append(f.Pressure, []complex128{3i, 3 * complex(math.Cos(1), math.Sin(1))})
	}
	now := FieldView{Instant: true}.values(f, 3i)
	later := FieldView{Instant: true, Phase: math.Pi / 2}.values(f, 3i)
	// Relative to 3j the second point lags by π/2 − 1.
	lag := math.Pi/2 - 1
	if math.Abs(now[0][0]-1) > 1e-12 || math.Abs(now[0][1]-math.Cos(lag)) > 1e-12 {
		t.Errorf("at the crest %v", now[0])
	}
	if math.Abs(later[0][0]) > 1e-12 || math.Abs(later[0][1]-math.Sin(lag)) > 1e-12 {
		t.Errorf("a quarter period on %v, want 0 and sin %g", later[0], lag)
	}
	level := FieldView{}.values(f, 3i)
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
