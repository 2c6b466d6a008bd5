package space

import (
	"context"
	"math"
	"strings"
	"testing"

	"gapline/driver"
)

func curves(t *testing.T, g *Grid) map[string]Curve {
	t.Helper()
	list, err := g.MouthCurves(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]Curve{}
	for _, c := range list {
		if len(c.Gap) != g.Len() {
			t.Errorf("%s has %d points, want %d", c.Label, len(c.Gap), g.Len())
		}
		out[c.Label] = c
	}
	if len(out) != len(list) {
		t.Errorf("labels repeat: %d curves, %d labels", len(list), len(out))
	}
	return out
}

// On the half-wave rule, n evenly spaced mouths lift the coupling limit by the
// factor n exactly, so that the gap falls by log2 n octaves.
func TestMouthsLowerTheGapByTheirLogarithm(t *testing.T) {
	got := curves(t, grid(t, base, "cabinet.pitch=250:400:50mm"))
	bare, two, three := got["bare cones, as designed"], got["2 mouths, no chamber"], got["3 mouths, no chamber"]
	if len(got) != 3 || bare.Gap == nil || two.Gap == nil || three.Gap == nil {
		t.Fatalf("curves %v", got)
	}
	for i := range bare.Gap {
		if math.Abs(bare.Gap[i]-two.Gap[i]-1) > 1e-12 || math.Abs(bare.Gap[i]-three.Gap[i]-math.Log2(3)) > 1e-12 {
			t.Errorf("point %d: gaps %v, %v, %v are not 0, 1, log2 3 apart", i, bare.Gap[i], two.Gap[i], three.Gap[i])
		}
	}
}

// The gap of the first point by hand: c/(2·0.25) against 25 400/(0.3·90) Hz with
// c = 343.99 m/s at 20 °C, 50 % RH (Cramer 1993; reference/air_sound_speed.csv).
func TestCurveByHand(t *testing.T) {
	got := curves(t, grid(t, base, "cabinet.pitch=250,400mm"))["bare cones, as designed"].Gap[0]
	if want := math.Log2(25400 / (0.3 * 90) / (343.99 / 0.5)); math.Abs(got-want) > 1e-4 {
		t.Errorf("gap %v, want %v", got, want)
	}
}

const insert = "[insert]\nmouths = 2\nspacing = \"125 mm\"\nmouth_height = \"100 mm\"\n"

// chambered is an insert whose chamber caps it, whatever the number of mouths.
const chambered = "[insert]\nmouths = 2\nmouth_height = \"90 mm\"\nmouth_width = \"30 mm\"\nslot_depth = \"12 mm\"\nchamber_volume = \"2 L\"\n"

// Three mouths carry the chamber of two: with the same area in all, the corner
// (c/2π)·√(A/(V·l)) differs by the end correction of the lower mouths alone.
func TestOtherMouthsCarryTheChamber(t *testing.T) {
	got := curves(t, grid(t, base+chambered, "cabinet.pitch=250,260mm"))
	const c = 343.99 // m/s at 20 °C, 50 % RH
	corner := func(height float64) float64 {
		l := 0.012 + 2*driver.RectangleEndCorrection(height, 0.03)
		return c / (2 * math.Pi) * math.Sqrt(2*0.09*0.03/(0.002*l))
	}
	horn := 25400 / (0.3 * 90)
	for label, height := range map[string]float64{"2 mouths, as designed": 0.09, "3 mouths": 0.06} {
		if want := math.Log2(horn / corner(height)); math.Abs(got[label].Gap[0]-want) > 1e-4 {
			t.Errorf("%s: gap %g, want %g", label, got[label].Gap[0], want)
		}
	}
}

func TestWhichCurvesAreDrawn(t *testing.T) {
	mid := "[mid]\nsize = \"50 mm\"\nper_box = 2\nspacing = \"125 mm\"\n"
	for _, c := range []struct {
		text, vary string
		want       []string
	}{
		{base, "cabinet.pitch=250,260mm", []string{"bare cones, as designed", "2 mouths, no chamber", "3 mouths, no chamber"}},
		{base + links, "cabinet.pitch=250,260mm", []string{"bare cones, as designed", "2 mouths, no chamber", "3 mouths, no chamber", "if nothing follows"}},
		{base + links, "horn.coverage=80,90deg", []string{"bare cones, as designed", "2 mouths, no chamber", "3 mouths, no chamber"}},
		{base + insert, "cabinet.pitch=250,260mm", []string{"bare cones", "2 mouths, as designed", "3 mouths, no chamber"}},
		{base + chambered, "cabinet.pitch=250,260mm", []string{"bare cones", "2 mouths, as designed", "3 mouths"}},
		{base + strings.Replace(chambered, "mouths = 2", "mouths = 1", 1), "cabinet.pitch=250,260mm", []string{"bare cones", "1 mouth, as designed", "2 mouths", "3 mouths"}},
		{base + insert, "insert.spacing=120,125mm", []string{"as designed", "bare cones"}},
		{base + mid, "cabinet.pitch=250,260mm", []string{"with mids, as designed", "without mids"}},
	} {
		got := curves(t, grid(t, c.text, c.vary))
		for _, label := range c.want {
			if _, ok := got[label]; !ok {
				t.Errorf("%s: no curve %q in %v", c.vary, label, got)
			}
			delete(got, label)
		}
		for label := range got {
			t.Errorf("%s: unexpected curve %q", c.vary, label)
		}
	}
}

// The unlinked curve is marked, leaves the mouth at 300 mm, and goes on where
// the linked design could not exist.
func TestUnlinkedCurve(t *testing.T) {
	got := curves(t, grid(t, base+links, "cabinet.pitch=95,250mm"))
	free := got["if nothing follows"]
	if !free.Unlinked {
		t.Error("the unlinked curve is not marked")
	}
	// 250 mm is the present pitch: linked or not is all the same there.
	linked := got["bare cones, as designed"]
	if math.Abs(free.Gap[1]-linked.Gap[1]) > 1e-12 {
		t.Errorf("at the present pitch %v and %v", free.Gap[1], linked.Gap[1])
	}
	if !math.IsNaN(linked.Gap[0]) {
		t.Errorf("linked gap at 95 mm is %v, want none", linked.Gap[0])
	}
	if want := math.Log2(25400 / (0.3 * 90) / (343.99 / 0.19)); math.Abs(free.Gap[0]-want) > 1e-4 {
		t.Errorf("unlinked gap at 95 mm is %v, want %v", free.Gap[0], want)
	}
}
