package waveguide

import (
	"math"
	"testing"

	"gapline/internal/optional"
	"gapline/internal/reftable"
)

// Plane geometry: walls at ±45° over 100 mm add 100 mm on each side; two
// splitters of 10 mm add 20 mm.
func TestExitWidth(t *testing.T) {
	h := Horn{}
	h.MouthWidth, h.Coverage = optional.Of(0.2), optional.Of(math.Pi/3)
	if h.ExitWidth() != 0.2 || h.ExitCoverage() != math.Pi/3 || !math.IsNaN(h.FlaresFilledTo(343)) {
		t.Errorf("without flares: %g m, %g rad", h.ExitWidth(), h.ExitCoverage())
	}
	h.Sides = Flares{Length: optional.Of(0.1), Angle: optional.Of(math.Pi / 2), Splitters: 2, SplitterWidth: optional.Of(0.01)}
	reftable.Near(t, "exit", h.ExitWidth(), 0.42, 1e-12)
	reftable.Near(t, "coverage", h.ExitCoverage(), math.Pi/2, 1e-15)
	h.Sides.Angle = optional.Float{}
	reftable.Near(t, "exit at the horn's coverage", h.ExitWidth(), 0.22+0.2*math.Tan(math.Pi/6), 1e-12)
}

// One slot that has to fill θ: its own -6 dB width reaches θ at the closed form of
// a flat mouth (table horn_control, column of the flat mouth), so the aperture
// integral with an apex far away must give the same frequency.
func TestFlaresFilledAsFlatMouth(t *testing.T) {
	const c, w, theta = 343.0, 0.03, 1.4
	h := Horn{}
	h.MouthWidth, h.Coverage = optional.Of(w), optional.Of(theta)
	h.Sides.Length = optional.Of(0.2)
	f := h.FlaresFilledTo(c)
	flat := Aperture{Width: w, Apex: math.Inf(1)}
	reftable.Near(t, "width of the flat slot", flat.Beamwidth(c/f), theta, 1e-9)
	h.Sides.Splitters = 1
	// Half the slot, half the angle: 2 sin(θ/2)/sin(θ/4) = 4 cos(θ/4).
	reftable.Near(t, "with one splitter", h.FlaresFilledTo(c), f*4*math.Cos(theta/4), 1e-12)
}

func TestHornByPoints(t *testing.T) {
	h := Horn{}
	h.Distances, h.Areas = []float64{0, 0.1, 0.25}, []float64{1e-3, 4e-3, 9e-3}
	p, err := h.Flare()
	if err != nil {
		t.Fatal(err)
	}
	// Between the points √area grows in proportion: halfway √ is the mean.
	reftable.Near(t, "area halfway", p.Area(0.05), math.Pow((math.Sqrt(1e-3)+math.Sqrt(4e-3))/2, 2), 1e-12)
	reftable.Near(t, "throat", h.ThroatArea(), 1e-3, 1e-15)
	if !math.IsNaN(h.Cutoff(343)) {
		t.Error("a profile by points has a cutoff")
	}
	h.Areas[2] = 3e-3
	if _, err := h.Flare(); err == nil {
		t.Error("a narrowing profile gave no error")
	}
	h.Areas = h.Areas[:2]
	if _, err := h.Flare(); err == nil {
		t.Error("lists of different length gave no error")
	}
}
