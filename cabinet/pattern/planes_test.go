package pattern

import (
	"errors"
	"math"
	"math/cmplx"
	"testing"

	"gapline/cabinet/field"
)

// turntable measures sources on a turntable: every step degrees in both planes, from low to high.
func turntable(list []monopole, hz []float64, step, low, high float64) Planes {
	p := Planes{Frequency: hz, Phases: true}
	for a := low; a <= high+1e-9; a += step {
		p.Upright.Angle = append(p.Upright.Angle, a*math.Pi/180)
	}
	p.Level.Angle = p.Upright.Angle
	for _, f := range hz {
		var up, level []complex128
		for _, a := range p.Level.Angle {
			up, level = append(up, far(list, UprightDirection(a), f)), append(level, far(list, LevelDirection(a), f))
		}
		p.Upright.Pressure, p.Level.Pressure = append(p.Upright.Pressure, up), append(p.Level.Pressure, level)
	}
	return p
}

// In both planes the pattern goes through all that was measured, and between by the closed form: steps of
// 5 degrees hold degree 36, and the box has 20 at 2 kHz. Singles and cubics on 2.5 degrees, where a
// degree of 20 turns by 0.9 rad in a step, leave 0.0234·0.9⁴ = 0.015 of the sum of all strengths.
func TestPlanesAreAsMeasured(t *testing.T) {
	for _, phases := range []bool{true, false} {
		planes := turntable(box, []float64{250, 2000}, 5, -180, 180)
		planes.Phases = phases
		p, taken, err := FromPlanes(planes)
		if err != nil || taken != (Taken{}) {
			t.Fatal(err, taken)
		}
		for i, f := range p.Frequency {
			axis := far(box, field.Vec{X: 1}, f)
			for a := -180.0; a <= 180; a += 2.5 {
				on := math.Mod(a, 5) == 0
				if !on && !phases {
					continue
				}
				most := 0.015 * 3.25 / cmplx.Abs(axis)
				if on {
					most = 1e-5
				}
				for _, u := range []field.Vec{UprightDirection(a * math.Pi / 180), LevelDirection(a * math.Pi / 180)} {
					got, want := p.At(u, f), far(box, u, f)/axis
					if !phases {
						got, want = complex(cmplx.Abs(got), 0), complex(cmplx.Abs(want), 0)
					}
					if math.Abs(a) == 180 { // the middle of both, which are one
						most = 1e-4
					}
					if cmplx.Abs(got-want) > most {
						t.Errorf("phases %v, %d: %g degrees, %v: %v, want %v", phases, i, a, u, got, want)
					}
				}
			}
		}
	}
}

// A source that radiates alike about the axis has the same pattern in all planes, so that two planes
// say all: to the closed form all round.
func TestPlanesOfARoundSource(t *testing.T) {
	ring := []monopole{{field.Vec{X: 0}, 1}, {field.Vec{X: -0.3}, 0.4i}}
	p, _, err := FromPlanes(turntable(ring, []float64{900}, 5, -180, 180))
	if err != nil {
		t.Fatal(err)
	}
	for _, u := range Directions(31) {
		if got, want := p.At(u, 900), far(ring, u, 900)/far(ring, field.Vec{X: 1}, 900); cmplx.Abs(got-want) > 1e-3 {
			t.Fatalf("%v: %v, want %v", u, got, want)
		}
	}
}

// What is not measured is taken and said: the other side from the one, the rear from the last
// direction. A plane without an axis, or that ends before its sides, is refused.
func TestPartsOfPlanes(t *testing.T) {
	hz := []float64{500}
	even := []monopole{{field.Vec{Y: 0.1, Z: 0.1}, 1}, {field.Vec{Y: -0.1, Z: -0.1}, 1}, {field.Vec{Y: -0.1, Z: 0.1}, 1}, {field.Vec{Y: 0.1, Z: -0.1}, 1}}
	whole, _, err := FromPlanes(turntable(even, hz, 10, -180, 180))
	if err != nil {
		t.Fatal(err)
	}
	one, taken, err := FromPlanes(turntable(even, hz, 10, 0, 180))
	if err != nil || !taken.UprightMirrored || !taken.LevelMirrored || taken.LevelHeld {
		t.Fatal(err, taken)
	}
	for i, x := range whole.Pressure[0] {
		if cmplx.Abs(x-one.Pressure[0][i]) > 1e-9 {
			t.Fatalf("mirrored: %v, want %v", one.Pressure[0][i], x)
		}
	}
	front, taken, err := FromPlanes(turntable(even, hz, 10, -100, 100))
	if err != nil || !taken.UprightHeld || taken.UprightMirrored {
		t.Fatal(err, taken)
	}
	want := cmplx.Abs(far(even, LevelDirection(100*math.Pi/180), 500)) / 4
	for _, a := range []float64{100, 140, 180} {
		if got := cmplx.Abs(front.At(LevelDirection(a*math.Pi/180), 500)); math.Abs(got-want) > 1e-3 {
			t.Errorf("%g degrees: %g, want %g of the last direction", a, got, want)
		}
	}
	if _, _, err := FromPlanes(turntable(even, hz, 10, -60, 60)); !errors.Is(err, ErrNarrow) {
		t.Errorf("60 degrees: %v", err)
	}
	if _, _, err := FromPlanes(turntable(even, hz, 10, -175, 175)); !errors.Is(err, ErrNoAxis) {
		t.Errorf("no axis: %v", err)
	}
	if _, _, err := FromPlanes(turntable(even, hz, 10, 0, 0)); !errors.Is(err, ErrNarrow) {
		t.Errorf("one direction: %v", err)
	}
}
