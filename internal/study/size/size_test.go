package size

import (
	"math"
	"testing"

	"gapline/cabinet/design"
	"gapline/cabinet/sizing"
	"gapline/internal/figure"
	"gapline/internal/result"
)

// A sizing holds every figure of the catalogue, in its order.
func TestTableFollowsTheCatalogue(t *testing.T) {
	all := figure.Sized()
	if len(Table) != len(all) {
		t.Errorf("%d figures in the table, %d in the catalogue", len(Table), len(all))
	}
	for i, f := range Table {
		if i < len(all) && f.Def != all[i] {
			t.Fatalf("place %d has %s, in the catalogue %s", i, f.Key, all[i].Key)
		}
	}
}

// No two figures read the same number of a sizing: one is set at a time.
func TestFiguresReadNumbersOfTheirOwn(t *testing.T) {
	d := design.New()
	base := sizing.Size(&d)
	for _, set := range []struct {
		fig *figure.Def
		at  func(*sizing.Sizing) *float64
	}{
		{figure.AirSoundSpeed, func(s *sizing.Sizing) *float64 { return &s.Air.SoundSpeed }},
		{figure.CouplingOpen.Lobe, func(s *sizing.Sizing) *float64 { return &s.Coupling.Open.Lobe }},
		{figure.CouplingInsert.Lobe, func(s *sizing.Sizing) *float64 { return &s.Coupling.Insert.Lobe }},
		{figure.CouplingMid.Lobe, func(s *sizing.Sizing) *float64 { return &s.Coupling.Mid.Lobe }},
		{figure.HornNarrowest, func(s *sizing.Sizing) *float64 { return &s.Horn.Narrowest }},
		{figure.HornNarrowestWave, func(s *sizing.Sizing) *float64 { return &s.Wave.Narrowest }},
		{figure.GapOpen, func(s *sizing.Sizing) *float64 { return &s.Gap.Open }},
		{figure.BoxLineCost, func(s *sizing.Sizing) *float64 { return &s.Box.LineCost }},
	} {
		s := base
		*set.at(&s) = 12.5
		for _, f := range Table {
			if got := f.Of(&s); (got == 12.5) != (f.Def == set.fig) {
				t.Errorf("with %s at 12.5, %s is %g", set.fig.Key, f.Key, got)
			}
		}
		if got := Of(&s, set.fig); got != 12.5 {
			t.Errorf("%s is %g, want 12.5", set.fig.Key, got)
		}
	}
}

// A design that gives nothing has the figures of the air and no others.
func TestFiguresOfAnEmptyDesign(t *testing.T) {
	d := design.New()
	s := sizing.Size(&d)
	for _, f := range Table {
		if v := f.Of(&s); math.IsNaN(v) == (f.Group() == "air") {
			t.Errorf("%s is %v in an empty design", f.Key, v)
		}
	}
}

func TestUnknownFigureIsAbsent(t *testing.T) {
	d := design.New()
	s := sizing.Size(&d)
	if v := Of(&s, &figure.Def{Key: "air.sound_speed_m_s"}); !math.IsNaN(v) {
		t.Errorf("a figure outside the table is %g", v)
	}
}

func TestTrustFollowsTheBasis(t *testing.T) {
	for basis, want := range map[design.Basis]figure.Trust{design.HalfWave: figure.Rule, design.Lobe: figure.Aperture} {
		s := sizing.Sizing{Gap: sizing.Gap{Basis: basis}}
		c := Cell(&s, figure.GapOpen)
		if got := Trust(&s, figure.GapOpen); got != want || c.TrustOf() != want {
			t.Errorf("on the %s basis the gap is of level %s, in its cell %s, want %s", basis, got, c.TrustOf(), want)
		}
		if got := Trust(&s, figure.HornPatternComputed); got != figure.Aperture {
			t.Errorf("a figure of its own level follows the basis: %s", got)
		}
	}
}

// A crossover that stands in the file is as true as the file.
func TestTrustOfACrossover(t *testing.T) {
	s := sizing.Sizing{Woofers: sizing.Horizontal{Stated: true}, Gap: sizing.Gap{Basis: design.HalfWave}}
	if got := Trust(&s, figure.WoofersAcross.Crossover); got != figure.Geometry {
		t.Errorf("woofers, from the file: %s", got)
	}
	if got := Trust(&s, figure.MidsAcross.Crossover); got != figure.Rule {
		t.Errorf("mids, the middle of a gap on the rule: %s", got)
	}
}

func TestCells(t *testing.T) {
	var s sizing.Sizing
	s.Horn.Narrowest, s.Horn.NarrowestAt = 1.5, 1700
	c := Cell(&s, figure.HornNarrowest)
	if c.Fig != figure.HornNarrowest || c.SI != 1.5 || c.At == nil || c.At.Fig != figure.HornNarrowestAt || c.At.SI != 1700 {
		t.Errorf("%+v", c)
	}
	if c := Cell(&s, figure.HornNarrowestAt); c.At != nil {
		t.Errorf("a frequency stands at a frequency: %+v", c)
	}
	s.Wave = sizing.AbsentWave
	if c := Cell(&s, figure.FoldFlatToWave); c.StateOf() != result.Absent {
		t.Errorf("no run: state %v", c.StateOf())
	}
	s.Wave.FlatBeyond = 8000
	if c := Cell(&s, figure.FoldFlatToWave); c.StateOf() != result.Beyond || c.SI != 8000 {
		t.Errorf("flat past the run: %+v", c)
	}
	s.Wave.FlatTo = 5000
	if c := Cell(&s, figure.FoldFlatToWave); c.StateOf() != result.Value || c.SI != 5000 {
		t.Errorf("flat within the run: %+v", c)
	}
}
