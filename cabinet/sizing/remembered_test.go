package sizing

import (
	"fmt"
	"math"
	"reflect"
	"testing"

	"gapline/cabinet/design"
	"gapline/driver"
	"gapline/internal/designtest"
	"gapline/internal/numeric"
	"gapline/internal/optional"
	"gapline/waveguide"

	"pgregory.net/rapid"
)

// A stage runs when its input changes and not otherwise, what is absent included.
func TestRemembered(t *testing.T) {
	type input struct {
		x float64
		n int
	}
	runs := 0
	stage := func(in input) float64 { runs++; return in.x * float64(in.n) }
	var m remembered[input, float64]
	for i, c := range []struct {
		in   input
		runs int
	}{
		{input{}, 1}, {input{}, 1}, {input{math.Inf(1), 2}, 2}, {input{math.Inf(1), 3}, 3},
		{input{numeric.Absent, 3}, 4}, {input{numeric.Absent, 3}, 4}, {input{math.Copysign(0, -1), 1}, 5}, {input{0, 1}, 6},
	} {
		got, want := *m.of(c.in, stage), c.in.x*float64(c.in.n)
		if runs != c.runs || math.Float64bits(got) != math.Float64bits(want) {
			t.Errorf("step %d: %g after %d runs, want %g after %d", i, got, runs, want, c.runs)
		}
	}
}

func TestHeldListIsOnePointerForEqualLists(t *testing.T) {
	var h heldList[float64]
	xs := []float64{1, numeric.Absent}
	a := h.of(xs)
	if h.of([]float64{1, numeric.Absent}) != a || h.of(nil) != nil {
		t.Error("equal lists are not one pointer")
	}
	xs[0] = 2
	if b := h.of(xs); b == a || items(a)[0] != 1 || items(b)[0] != 2 {
		t.Error("a list changed behind the stage's back")
	}
}

// The bits between the fields of a struct mean nothing: with such gaps two equal
// inputs could differ, and the stage would run in vain.
func TestInputsHaveNoGaps(t *testing.T) {
	found := 0
	var walk func(reflect.Type)
	walk = func(z reflect.Type) {
		for i := range z.NumField() {
			f := z.Field(i)
			switch {
			case f.Name == "input":
				found++
				if n := fieldBytes(f.Type); n != f.Type.Size() {
					t.Errorf("%v has fields of %d bytes in %d", f.Type, n, f.Type.Size())
				}
			case f.Type.Kind() == reflect.Struct && f.Name != "result":
				walk(f.Type)
			}
		}
	}
	walk(reflect.TypeFor[Sizer]())
	if found < 10 {
		t.Errorf("only %d stages looked at", found)
	}
}

// fieldBytes is the size of a type without the gaps.
func fieldBytes(t reflect.Type) uintptr {
	if t.Kind() != reflect.Struct {
		return t.Size()
	}
	n := uintptr(0)
	for i := range t.NumField() {
		n += fieldBytes(t.Field(i).Type)
	}
	return n
}

// A stage whose input stays is not run again.
func TestSizerKeepsWhatDoesNotChange(t *testing.T) {
	var z Sizer
	d := whole()
	z.Size(&d)
	lobes, cutoff := &z.fold.lobes.result, &z.box.cutoff.result
	*lobes, *cutoff = 1, 2 // marks, which a run would write over
	d.Fold.RearAllowance, d.Woofer.Xmax, d.Cabinet.Width = optional.Of(0.013), optional.Of(0.004), optional.Of(0.5)
	s := z.Size(&d)
	if s.Horn.FlatLobe != 1 || s.Box.F3 != 2 {
		t.Errorf("lobes %g, half power %g: a stage ran in vain", s.Horn.FlatLobe, s.Box.F3)
	}
	d.Horn.MouthHeight, d.Enclosure.Volume = optional.Of(0.25), optional.Of(0.04)
	if s = z.Size(&d); s.Horn.FlatLobe == 1 || s.Box.F3 == 2 {
		t.Error("a stage did not run though its input changed")
	}
}

// changes are steps from a design to a neighbour: each a key or several that a stage
// depends on, among them keys that go away.
func changes(d *design.Design) []*optional.Float {
	h, w, e, i, f := &d.Horn, &d.Woofer, &d.Enclosure, &d.Insert, &d.Fold
	return []*optional.Float{
		&d.Cabinet.Pitch, &d.Cabinet.Height, &d.Cabinet.Width, &d.Cabinet.Depth,
		&w.Fs, &w.Qes, &w.Qms, &w.Vas, &w.Re, &w.Sd, &w.Le, &w.LeExponent, &w.Xmax, &w.Power, &w.Size, &w.Spacing,
		&d.Mid.Size, &d.Mid.Spacing, &d.Mid.Lowest,
		&e.Volume, &e.Tuning, &e.LeakQ, &e.VentQ, &e.AbsorptionQ, &e.Vent.Width, &e.Vent.Height, &e.VentDiameter,
		&i.Spacing, &i.MouthHeight, &i.MouthWidth, &i.SlotDepth, &i.ChamberVolume,
		&h.Coverage, &h.MouthWidth, &h.MouthHeight, &h.PathLength, &h.Throat, &h.Length, &h.Family, &h.Lowest,
		&h.Sides.Length, &h.Sides.Angle, &h.Sides.SplitterWidth,
		&f.ThroatToWall, &f.VirtualPath, &f.Layer, &f.MouthDistance, &f.ThroatHeight, &f.BendRadius, &f.RearAllowance, &f.WidestFan,
		&d.Bands.Woofer.Lateral, &d.Bands.Mid.Lateral, &d.Crossover.Frequency, &d.Low.Frequency,
		&d.Targets.LobeLevel, &d.Targets.FlatTo, &d.Targets.Lowest, &d.Targets.LevelAt, &d.Cost.Woofer,
	}
}

// whole is a design that every stage works on.
func whole() design.Design {
	d, closed := designtest.Folded(), designtest.Closed()
	d.Woofer, d.Enclosure = closed.Woofer, closed.Enclosure
	d.Enclosure.Tuning, d.Enclosure.Vent.Width, d.Enclosure.Vent.Height = optional.Of(48), optional.Of(0.12), optional.Of(0.07)
	d.Mid.Size, d.Mid.PerBox, d.Mid.Lowest = optional.Of(0.1), 2, optional.Of(400)
	d.Horn.Profile, d.Horn.Length = waveguide.ExponentialProfile, optional.Of(0.32)
	d.Line.Splay = []float64{0.01, 0.02}
	return d
}

// step draws a neighbour of a design: one number a little off, gone or back, a count,
// a word, or a list changed in place.
func step(t *rapid.T, d *design.Design) {
	start := whole()
	switch rapid.IntRange(0, 13).Draw(t, "kind") {
	case 0:
		d.Line.Boxes = rapid.IntRange(0, 9).Draw(t, "boxes")
	case 1:
		d.Woofer.PerBox = rapid.IntRange(0, 3).Draw(t, "woofers")
	case 2:
		d.Insert.Mouths = rapid.IntRange(0, 3).Draw(t, "mouths")
	case 3:
		d.Targets.Coupling = rapid.SampledFrom([]design.Basis{0, design.HalfWave, design.Lobe}).Draw(t, "basis")
	case 4:
		d.Enclosure.Kind = rapid.SampledFrom([]driver.EnclosureKind{0, driver.Closed, driver.Vented}).Draw(t, "kind")
	case 5:
		d.Horn.Profile = rapid.SampledFrom([]waveguide.Profile{0, waveguide.ConicalProfile, waveguide.ExponentialProfile,
			waveguide.HyperbolicProfile, waveguide.TractrixProfile, waveguide.ByPoints}).Draw(t, "profile")
		d.Horn.Distances, d.Horn.Areas = []float64{0, 0.3}, []float64{0.001, rapid.Float64Range(0.01, 0.1).Draw(t, "area")}
	case 6:
		if d.Line.Splay != nil {
			d.Line.Splay[0] = rapid.Float64Range(0, 0.1).Draw(t, "splay")
		}
		if d.Horn.Areas != nil {
			d.Horn.Areas[1] = rapid.Float64Range(0.01, 0.1).Draw(t, "area")
		}
	case 7:
		d.Air.Temperature = start.Air.Temperature * rapid.SampledFrom([]float64{1, 0.99}).Draw(t, "temperature")
		d.Air.Humidity = start.Air.Humidity * rapid.SampledFrom([]float64{1, 0.9}).Draw(t, "humidity")
	default:
		now, first := changes(d), changes(&start)
		i := rapid.IntRange(0, len(now)-1).Draw(t, "key")
		x, x0 := now[i].Value(), first[i].Value()
		*now[i] = optional.Of(rapid.SampledFrom([]float64{x * 1.001, x, x0, x0 * 0.9, numeric.Absent}).Draw(t, "value"))
	}
}

// What a Sizer remembers changes nothing: on walks through designs it equals a fresh
// one to the last bit.
func TestSizerEqualsAFreshOne(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var z Sizer
		d := whole()
		for range rapid.IntRange(1, 12).Draw(t, "steps") {
			step(t, &d)
			got, want := z.Size(&d), Size(&d)
			if differ := difference(reflect.ValueOf(got), reflect.ValueOf(want), "Sizing"); differ != "" {
				t.Fatalf("a used Sizer differs from a fresh one: %s", differ)
			}
		}
	})
}

// difference names the first field whose bits differ.
func difference(a, b reflect.Value, name string) string {
	switch a.Kind() {
	case reflect.Struct:
		for i := range a.NumField() {
			if d := difference(a.Field(i), b.Field(i), name+"."+a.Type().Field(i).Name); d != "" {
				return d
			}
		}
	case reflect.Float64:
		if math.Float64bits(a.Float()) != math.Float64bits(b.Float()) && !(math.IsNaN(a.Float()) && math.IsNaN(b.Float())) {
			return fmt.Sprintf("%s = %g, want %g", name, a.Float(), b.Float())
		}
	default:
		if !a.Equal(b) {
			return fmt.Sprintf("%s = %v, want %v", name, a, b)
		}
	}
	return ""
}
