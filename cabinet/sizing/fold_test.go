package sizing

import (
	"math"
	"testing"

	"gapline/cabinet/design"
	"gapline/internal/designtest"
	"gapline/internal/optional"
	"gapline/internal/reftable"
)

// The figures against plane geometry done here by hand: the sagitta
// √(L² + (h/2)²) - L, a quarter wave, c/(2t), and the parabola's taper
// 10 log10((1 + cos φ)/2), tan(φ/2) = h/(4a).
func TestFoldFigures(t *testing.T) {
	d := designtest.Folded()
	s := Size(&d)
	c, h := s.Air.SoundSpeed, d.Horn.MouthHeight.Value()
	bulge := math.Hypot(1.2, h/2) - 1.2
	reftable.Near(t, "path spread", s.Fold.PathSpread, bulge, 1e-9)
	reftable.Near(t, "sagitta of the horn", s.Horn.Sagitta, bulge, 1e-9)
	reftable.Near(t, "flat to", s.Fold.FlatTo, c/(4*bulge), 1e-9)
	reftable.Near(t, "cross mode", s.Fold.CrossMode, c/0.028, 1e-12)
	reftable.Near(t, "depth", s.Fold.Depth, 0.11+0.018+0.014, 1e-12) // a + throat radius + layer
	turn := 0.014 - math.Pi/2*0.014/2                                // outside of a half turn round an edge over the wall, whose middle is as long as the path it stands for
	reftable.Near(t, "depth saved", s.Fold.DepthSaved, 1.2-0.142-turn, 1e-12)
	d.Fold.VirtualPath = optional.Of(math.Inf(1))
	s = Size(&d)
	phi := 2 * math.Atan(h/(4*0.11))
	reftable.Within(t, "taper of the parabola", s.Fold.Taper, 10*math.Log10((1+math.Cos(phi))/2), 1e-9)
	if s.Fold.PathSpread != 0 || s.Horn.Sagitta != 0 || !math.IsInf(s.Fold.FlatTo, 1) {
		t.Errorf("plane front: spread %g m, sagitta %g m, flat to %g Hz", s.Fold.PathSpread, s.Horn.Sagitta, s.Fold.FlatTo)
	}
}

// Without [fold], every fold figure is absent and the horn's front is that of its
// own path.
func TestNoFold(t *testing.T) {
	d := designtest.Box()
	s := Size(&d)
	if s.Fold.Given || !math.IsNaN(s.Fold.Depth) || s.Horn.Path != 0.56 {
		t.Errorf("without [fold]: %+v, path %g m", s.Fold, s.Horn.Path)
	}
	reftable.Near(t, "sagitta", s.Horn.Sagitta, math.Hypot(0.56, 0.129)-0.56, 1e-9)
}

// A fold with a gentle fan has almost even amplitude, so that the lobes of its
// line come where those of the straight guide of the same path do.
func TestFoldFrontIsThatOfItsPath(t *testing.T) {
	d := designtest.Folded()
	d.Fold.ThroatToWall, d.Cabinet.Depth = optional.Of(0.7), optional.Of(1.2)
	folded := Size(&d)
	d.Fold = design.New().Fold
	d.Horn.PathLength = optional.Of(1.2)
	straight := Size(&d)
	reftable.Near(t, "lobe limit", folded.Horn.FlatLobe, straight.Horn.FlatLobe, 0.01)
}

// Side flares act as a mouth of the exit's width and angle.
func TestFlaresActAsWiderMouth(t *testing.T) {
	d := designtest.Box()
	d.Horn.Sides.Length, d.Horn.Sides.Angle = optional.Of(0.05), optional.Of(math.Pi/2)
	flared := Size(&d)
	w := designtest.Box()
	w.Horn.MouthWidth, w.Horn.Coverage = optional.Of(0.33+0.1), optional.Of(math.Pi/2)
	wide := Size(&w)
	reftable.Near(t, "rule", flared.Horn.PatternRule, wide.Horn.PatternRule, 1e-12)
	reftable.Near(t, "computed", flared.Horn.PatternComputed, wide.Horn.PatternComputed, 1e-9)
	reftable.Near(t, "gap of the levers", GapOf(&d), flared.Gap.AsGiven(), 1e-9)
	if flared.Horn.Share != wide.Horn.Share || flared.Horn.FlatLobe != wide.Horn.FlatLobe {
		t.Error("the flares changed the vertical front")
	}
}

func BenchmarkSizeWithFold(b *testing.B) {
	d := designtest.Folded()
	for b.Loop() {
		Size(&d)
	}
}

func BenchmarkFoldFigures(b *testing.B) {
	d := designtest.Folded()
	for b.Loop() {
		sizeFold(d.FoldSpec())
	}
}
