package sizing_test

import (
	"math"
	"testing"

	"gapline/cabinet/design"
	"gapline/cabinet/sizing"
	"gapline/internal/numeric"
	"gapline/internal/optional"
	"gapline/internal/reftable"
)

// twins are two woofers side by side, 470 mm apart, that hand over to a horn of 90° at
// 891 Hz. Their cones are small, so that they are nearly the two points of the closed
// forms.
func twins() design.Design {
	d := design.New()
	d.Cabinet.Pitch = optional.Of(0.3)
	d.Woofer.PerBox, d.Bands.Woofer.Lateral, d.Woofer.EffectiveDiameter = 2, optional.Of(0.47), optional.Of(1e-6)
	d.Horn.Coverage, d.Horn.MouthWidth = optional.Of(math.Pi/2), optional.Of(0.3)
	d.Crossover.Frequency = optional.Of(891)
	return d
}

// pair checks the figures of two columns of points s apart by their closed forms, whose
// null lies within the coverage.
func pair(t *testing.T, what string, h sizing.Horizontal, s, f, half, c float64) {
	t.Helper()
	sine := math.Acos(minusSix) / math.Pi * c / s // −6 dB at 1 Hz
	if h.Columns != 2 || h.Crossover != f {
		t.Errorf("%s: %d columns, crossover at %g Hz, want 2 at %g", what, h.Columns, h.Crossover, f)
	}
	reftable.Near(t, what+": width", h.Width, 2*math.Asin(sine/f), 1e-8)
	reftable.Near(t, what+": covers to", h.CoversTo, sine/math.Sin(half), 1e-8)
	reftable.Near(t, what+": angle of the dip", h.DipAt, math.Asin(c/(2*s*f)), 1e-6)
	reftable.Near(t, what+": dip", h.Dip, 60, 1e-12)
}

func TestHorizontalOfTwins(t *testing.T) {
	d := twins()
	s := sizing.Size(&d)
	c := s.Air.SoundSpeed
	pair(t, "cones", s.Woofers, 0.47, 891, math.Pi/4, c)
	if s.Woofers.Covers() {
		t.Error("two columns 470 mm apart cover 90° at 891 Hz")
	}
	if s.Mids.Columns != 0 || !math.IsNaN(s.Mids.CoversTo) || !s.Mids.Covers() {
		t.Errorf("mids that are not there: %+v", s.Mids)
	}
	d.Insert.Mouths, d.Insert.MouthWidth = 2, optional.Of(1e-6)
	s = sizing.Size(&d)
	pair(t, "insert", s.Woofers, 0.47, 891, math.Pi/4, c)
	d.Insert.MouthWidth = optional.Of(0.3)
	wide := sizing.Size(&d).Woofers
	slots := sizing.Columns{{Y: 0.235, Width: 0.3, Shape: sizing.Strip}, {Y: -0.235, Width: 0.3, Shape: sizing.Strip}}
	reftable.Near(t, "width of wide mouths", wide.Width, slots.Width(2*math.Pi*891/c), 1e-12)
	if !(wide.Width < s.Woofers.Width) {
		t.Errorf("mouths of 300 mm are %g wide, narrow ones %g", wide.Width, s.Woofers.Width)
	}
	// The mids hand over to the horn, the woofers to them.
	d = twins()
	d.Mid.Size, d.Mid.EffectiveDiameter, d.Mid.PerBox, d.Mid.Lowest = optional.Of(0.2), optional.Of(1e-6), 2, optional.Of(700)
	d.Crossover.Frequency = optional.Of(1900)
	s = sizing.Size(&d)
	pair(t, "woofers under mids", s.Woofers, 0.47, 700, math.Pi/4, c)
	pair(t, "mids, by default their size apart", s.Mids, 0.2, 1900, math.Pi/4, c)
	d.Low.Frequency = optional.Of(750)
	pair(t, "crossover of their own", sizing.Size(&d).Woofers, 0.47, 750, math.Pi/4, c)
}

// Where the file says no crossover it is the middle of the gap, open or closed, and with
// one end unknown there is none.
func TestHorizontalCrossover(t *testing.T) {
	d := twins()
	d.Crossover.Frequency = optional.Float{}
	s := sizing.Size(&d)
	reftable.Near(t, "middle", s.Woofers.Crossover, math.Sqrt(s.Coupling.Open.HalfWave*s.Horn.PatternRule), 1e-12)
	d.Cabinet.Pitch = optional.Float{}
	s = sizing.Size(&d)
	if h := s.Woofers; !math.IsNaN(h.Crossover + h.Width + h.Dip + h.DipAt) {
		t.Errorf("without a crossover: %+v", h)
	}
	pairCovers := math.Acos(minusSix) / math.Pi * s.Air.SoundSpeed / 0.47 / math.Sin(math.Pi/4)
	reftable.Near(t, "covers to, without a crossover", s.Woofers.CoversTo, pairCovers, 1e-8)
	if !s.Woofers.Covers() {
		t.Error("woofers without a crossover do not cover it")
	}
}

// What the file does not give is not made up: one cone of unknown size, cones whose
// distance nobody knows, a horn without coverage.
func TestHorizontalOfTooLittle(t *testing.T) {
	for what, change := range map[string]func(*design.Design){
		"size": func(d *design.Design) { d.Woofer.PerBox, d.Woofer.EffectiveDiameter = 1, optional.Float{} },
		"distance": func(d *design.Design) {
			d.Woofer.EffectiveDiameter, d.Bands.Woofer.Lateral = optional.Float{}, optional.Float{}
		},
	} {
		d := twins()
		change(&d)
		if h := sizing.Size(&d).Woofers; h.Columns != 0 || !math.IsNaN(h.Width) || !math.IsNaN(h.CoversTo) {
			t.Errorf("without %s: %+v", what, h)
		}
	}
	d := twins()
	d.Horn.Coverage = optional.Float{}
	if h := sizing.Size(&d).Woofers; numeric.Given(h.CoversTo) || numeric.Given(h.Dip) || !numeric.Given(h.Width) {
		t.Errorf("without a coverage: %+v", h)
	}
	d = twins()
	d.Woofer.Spacing = optional.Of(0.15)
	if h := sizing.Size(&d).Woofers; h.Columns != 1 {
		t.Errorf("woofers one above the other are %d columns", h.Columns)
	}
}
