package horn

import (
	"math"
	"testing"

	"gapline/cabinet/design"
	"gapline/internal/optional"
	"gapline/internal/reftable"
	"gapline/waveguide"
)

// hornDesign is an invented exponential horn.
func hornDesign() design.Design {
	d := design.New()
	h := &d.Horn
	h.Coverage, h.MouthWidth, h.MouthHeight, h.PathLength = optional.Of(math.Pi/2), optional.Of(0.3), optional.Of(0.25), optional.Of(0.6)
	h.Throat, h.Profile, h.Length = optional.Of(0.036), waveguide.ExponentialProfile, optional.Of(0.32)
	return d
}

// Keele's rule against the aperture integral, to the digits of table horn_control
// (model of a plane mouth with a circular front).
func TestRuleTableAgainstReference(t *testing.T) {
	seen := 0
	for _, r := range reftable.Read(t, "horn_control") {
		for _, row := range RuleTable(0.4, r.Get("c_m_s")) {
			if math.Abs(row.Coverage*180/math.Pi-r.Get("theta_deg")) > 1e-9 {
				continue
			}
			seen++
			reftable.Near(t, r.Name+" deviation", 1+row.Deviation, r.Get("fK_over_fplane"), 1e-7)
			reftable.Near(t, r.Name+" narrowest", row.Computed.Narrowest*180/math.Pi, r.Get("min_plane_deg"), 1e-6)
			reftable.Near(t, r.Name+" W/λ", row.Computed.WidthInWavelength, r.Get("q_plane"), 1e-7)
		}
	}
	if seen < 5 {
		t.Errorf("only %d coverages of the table met", seen)
	}
}

// The map at half the width of a frequency is -6 dB by definition; 0° is 0 dB and
// the two sides are alike.
func TestPatternMapMeetsBeamwidth(t *testing.T) {
	d := hornDesign()
	st, err := Run(&d)
	if err != nil {
		t.Fatal(err)
	}
	for _, i := range []int{84, 110, 150} {
		half := st.Horizontal[i] / 2
		level := st.PatternMap([]float64{-half, 0, half}, -60)
		reftable.Within(t, "level at half the width", level[2][i], -6, 1e-6)
		if level[0][i] != level[2][i] || math.Abs(level[1][i]) > 1e-9 {
			t.Errorf("%g Hz: %v", st.Frequency[i], []float64{level[0][i], level[1][i], level[2][i]})
		}
	}
	if st.Frequency[72] != 1000 || st.Frequency[96] != 2000 {
		t.Errorf("the study misses the octaves: %g, %g Hz", st.Frequency[72], st.Frequency[96])
	}
}

// The loading high above cutoff takes nearly all of a plane wave (a matched tube),
// far below nearly none; the study's figures lie on its own curves.
func TestLoadingLimits(t *testing.T) {
	d := hornDesign()
	st, err := Run(&d)
	if err != nil {
		t.Fatal(err)
	}
	l := st.Loading
	if l == nil {
		t.Fatal(st.NoLoading)
	}
	for i, tau := range l.Tube {
		if !(tau >= 0 && tau <= 1+1e-12) {
			t.Fatalf("%g Hz: share %g of the power", st.Frequency[i], tau)
		}
	}
	if first, last := l.Tube[0], l.Tube[len(l.Tube)-1]; first > 0.02 || last < 0.98 {
		t.Errorf("share %g at the bottom, %g at the top", first, last)
	}
	s := &st.Sizing.Horn
	if !(s.HalfLoaded > s.Cutoff) {
		t.Errorf("half loaded from %g Hz, below the cutoff of %g Hz", s.HalfLoaded, s.Cutoff)
	}
	reftable.Near(t, "share at half loaded", curveAt(st.Frequency, func(i int) float64 { return l.Tube[i] }, s.HalfLoaded), 0.5, 1e-9)
}

// What binds the lower limit, each in its turn.
func TestBinds(t *testing.T) {
	for _, c := range []struct {
		lowest, length float64
		want           Binding
	}{{300, 0.32, PatternBinds}, {1500, 0.32, DriverBinds}, {300, 0.05, FlareBinds}} {
		d := hornDesign()
		d.Horn.Lowest, d.Horn.Length = optional.Of(c.lowest), optional.Of(c.length)
		st, err := Run(&d)
		if err != nil {
			t.Fatal(err)
		}
		if st.Binds != c.want {
			t.Errorf("lowest %g Hz, length %g m: %s binds, want %s", c.lowest, c.length, st.Binds, c.want)
		}
	}
}

// A compression driver gives out no more than it takes, and a profile that is the
// exponential horn sampled finely loads it alike.
func TestDriverOnPoints(t *testing.T) {
	d := hornDesign()
	d.HornDrive.Driver = waveguide.CompressionDriver{Re: optional.Of(5.8), Le: optional.Of(0.08e-3), Bl: optional.Of(11), Mms: optional.Of(2.2e-3), Fs: optional.Of(560), Qms: optional.Of(4), Sd: optional.Of(45e-4),
		FrontVolume: optional.Of(5e-6), RearVolume: optional.Of(120e-6)}
	smooth, err := Run(&d)
	if err != nil {
		t.Fatal(err)
	}
	throat, mouth := d.Horn.ThroatArea(), d.Horn.MouthWidth.Value()*d.Horn.MouthHeight.Value()
	d.Horn.Profile = waveguide.ByPoints
	for i := range 90 {
		x := float64(i) / 89
		d.Horn.Distances = append(d.Horn.Distances, x*0.32)
		d.Horn.Areas = append(d.Horn.Areas, throat*math.Pow(mouth/throat, x))
	}
	points, err := Run(&d)
	if err != nil {
		t.Fatal(err)
	}
	for i := range smooth.Frequency {
		e := smooth.Loading.Efficiency(i)
		if !(e > 0 && e < 1) {
			t.Fatalf("%g Hz: efficiency %g", smooth.Frequency[i], e)
		}
		if p := points.Loading.Efficiency(i); math.Abs(p-e) > 2e-3 {
			t.Fatalf("%g Hz: efficiency %g by points, %g by the flare", smooth.Frequency[i], p, e)
		}
	}
}

// The vertical width with a gently folded front is that of the straight guide of
// the same path.
func TestVerticalFrontOfFold(t *testing.T) {
	d := hornDesign()
	d.Horn.PathLength = optional.Of(1.5)
	straight, err := Run(&d)
	if err != nil {
		t.Fatal(err)
	}
	d.Fold.ThroatToWall, d.Fold.VirtualPath, d.Fold.Layer = optional.Of(1), optional.Of(1.5), optional.Of(0.012)
	folded, err := Run(&d)
	if err != nil {
		t.Fatal(err)
	}
	for _, i := range []int{80, 100, 130} {
		reftable.Near(t, "vertical width", folded.Vertical[i], straight.Vertical[i], 0.01)
	}
	d.Fold, d.Horn.PathLength = design.New().Fold, optional.Float{}
	if st, err := Run(&d); err != nil || st.Vertical != nil || st.NoVertical == "" {
		t.Errorf("without a path: %v, %v", st.Vertical, err)
	}
}
