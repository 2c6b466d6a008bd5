package driver

import (
	"math"
	"testing"

	"gapline/internal/numeric"
	"gapline/internal/optional"
	"gapline/internal/wordset"
)

// Every kind of enclosure makes a circuit that is computed through, and has what
// its parts say, no more.
func TestEveryEnclosureKindIsWhole(t *testing.T) {
	if err := wordset.Check(enclosureKindCount); err != nil {
		t.Fatal(err)
	}
	d := ratedDriver(t)
	for _, kind := range wordset.All[EnclosureKind]() {
		e := closedBox(d.Vas.Value())
		e.Kind, e.Tuning, e.LeakQ = kind, optional.Of(0.8*d.Fs.Value()), optional.Of(7)
		e.Vent.Area = optional.Of(d.Sd.Value() / 4)
		e.Radiator.Sd, e.Radiator.Cms = d.Sd, d.Cms
		c := circuit(t, Setup{Driver: d, Enclosure: e})
		p, s, has := c.At(d.Fs.Value(), 1), c.Summary(), kind.Parts()
		for what, x := range map[string]struct {
			value float64
			want  bool
		}{
			"level": {p.Level(), true}, "excursion": {p.Excursion, true}, "f3": {s.F3, true},
			"tuning": {c.Enclosure().Tuning.Value(), has.Tuning}, "fc": {s.Fc, !has.Tuning}, "Qtc": {s.Qtc, !has.Tuning},
			"air speed": {p.VentSpeed, has.Vent}, "radiator": {p.Radiator, has.Radiator},
		} {
			if numeric.Given(x.value) != x.want {
				t.Errorf("%s: %s is %g, want a number: %t", kind, what, x.value, x.want)
			}
		}
	}
}

// Every wiring of n drivers takes n times the power of one at the voltage, or at
// the current, of one: the terminals' resistance times the branches that share
// the current is that of the drivers that share the voltage.
func TestEveryWiringIsWhole(t *testing.T) {
	if err := wordset.Check(wiringCount); err != nil {
		t.Fatal(err)
	}
	const n, re = 4, 6.0
	for _, w := range append(wordset.All[Wiring](), 0) {
		row := w.row()
		if row.inSeries(n)*row.inParallel(n) != n {
			t.Errorf("%s: %g drivers in series, %g branches, %d in all", w, row.inSeries(n), row.inParallel(n), n)
		}
		if got, want := row.resistance(re, n), re*row.inSeries(n)/row.inParallel(n); math.Abs(got-want) > 1e-12 {
			t.Errorf("%s: %g Ω, want %g", w, got, want)
		}
	}
}

func TestEveryVentEndIsWhole(t *testing.T) {
	if err := wordset.Check(ventEndCount); err != nil {
		t.Fatal(err)
	}
	for _, end := range wordset.All[VentEnd]() {
		// Between no correction and a wall's, the largest that an end can have.
		if c := ventEnds[end].correction(1); !(c > 0 && c <= 8/(3*math.Pi)+1e-12) {
			t.Errorf("%s: correction of %g radii", end, c)
		}
	}
}
