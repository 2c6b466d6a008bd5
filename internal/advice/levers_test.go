package advice

import (
	"math"
	"testing"

	"gapline/cabinet/design"
	"gapline/cabinet/sizing"
	"gapline/internal/designtest"
	"gapline/internal/optional"

	"pgregory.net/rapid"
)

// apply makes the change that a lever proposes.
func apply(d design.Design, l Lever) design.Design {
	switch l.Key {
	case "cabinet.pitch":
		d.SetPitch(l.To)
	case "horn.mouth_width":
		d.Horn.MouthWidth = optional.Of(l.To)
	case "horn.coverage":
		d.Horn.Coverage = optional.Of(l.To)
	case "insert.chamber_volume":
		d.Insert.ChamberVolume = optional.Of(l.To)
	case "insert.spacing":
		d.Insert.Spacing = optional.Of(l.To)
	case "insert.mouths":
		d.Insert.Mouths, d.Insert.Spacing = int(l.To), optional.Float{}
		d.Insert.MouthHeight = optional.Of(math.Min(d.Insert.MouthHeight.Value(), d.Pitch()/l.To))
	case "mid.spacing":
		d.Mid.Size, d.Mid.PerBox, d.Mid.Spacing = optional.Of(0.02), int(math.Ceil(d.Pitch()/l.To-1e-9)), optional.Of(l.To)
	}
	return d
}

// Each lever, applied by itself, must do what it says: bring the gap to the
// target. The judge is the sizing, not the solver.
func TestLeversCloseTheGap(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := designtest.Random(t)
		if rapid.Bool().Draw(t, "without insert") {
			d.Insert = design.New().Insert
		}
		target := rapid.Float64Range(-0.5, 0.5).Draw(t, "target")
		s := sizing.Size(&d)
		if !(s.Gap.AsGiven() > target) {
			return
		}
		for _, l := range Levers(&d, &s, target) {
			after := apply(d, l)
			if l.Key == "mid.spacing" {
				// Boxes hold whole numbers of drivers: even spacing is at most
				// what the lever asks for.
				after.Mid.Spacing = optional.Of(d.Pitch() / float64(after.Mid.PerBox))
			}
			sized := sizing.Size(&after)
			if gap := sized.Gap.AsGiven(); gap > target+1e-4 {
				t.Fatalf("%s = %g leaves a gap of %g, target %g", l.Key, l.To, gap, target)
			}
		}
	})
}

// The bench design with its gap opened in one way after another: each lever must
// turn up where it is the obvious one.
func TestEachLeverTurnsUp(t *testing.T) {
	for key, change := range map[string]func(*design.Design){
		"cabinet.pitch": func(d *design.Design) {
			d.Insert, d.Woofer, d.Horn.MouthHeight = design.New().Insert, design.New().Woofer, optional.Float{}
		},
		"horn.mouth_width": func(d *design.Design) {
			d.Insert, d.Cabinet.Width = design.New().Insert, optional.Float{}
		},
		"horn.coverage":         func(d *design.Design) { d.Insert = design.New().Insert },
		"insert.mouths":         func(d *design.Design) { d.Insert = design.New().Insert },
		"mid.spacing":           func(d *design.Design) { d.Insert = design.New().Insert },
		"insert.chamber_volume": func(d *design.Design) { d.Insert.ChamberVolume = optional.Of(2e-3) },
		"insert.spacing": func(d *design.Design) {
			d.Insert.Spacing = optional.Of(0.08)
			d.Insert.MouthHeight = optional.Of(0.07)
			d.Insert.ChamberVolume = optional.Of(1e-4)
		},
	} {
		d := designtest.Box()
		change(&d)
		s := sizing.Size(&d)
		if !(s.Gap.AsGiven() > 0) {
			t.Errorf("%s: the gap is not open (%g)", key, s.Gap.AsGiven())
		}
		found := false
		for _, l := range Levers(&d, &s, 0) {
			found = found || l.Key == key
		}
		if !found {
			t.Errorf("%s is not proposed", key)
		}
	}
}

// What cannot be built is not proposed: a box whose horn and woofer fill its front has no
// wider mouth, and one whose woofer fills its height no smaller pitch.
func TestLeversAreBuildable(t *testing.T) {
	d := designtest.Box()
	d.Insert = design.New().Insert
	s := sizing.Size(&d)
	for _, l := range Levers(&d, &s, 0) {
		if l.Key == "horn.mouth_width" || l.Key == "cabinet.pitch" {
			t.Errorf("%s %g m is proposed", l.Key, l.To)
		}
	}
}
