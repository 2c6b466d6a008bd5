package driver

import (
	"math"
	"testing"
)

// A pair about one cone is symmetric: its mouths never part. One mouth cannot.
func TestSymmetricMouthsDoNotPart(t *testing.T) {
	for _, n := range []int{1, 2} {
		i := Insert{Mouths: n, Width: 0.05, Height: 0.1, Spacing: 0.14}
		if f := i.MouthsPart(ConePositions(1, 1, 0, 0), 0.07, 343); !math.IsInf(f, 1) {
			t.Errorf("%d mouths part at %g Hz", n, f)
		}
	}
}

// Three lines in front of a cone so small that it is a point: the middle one has no way, the
// outer ones 100 mm, a quarter wave at 343/0.4 = 857.5 Hz.
func TestThreeMouthsPartByTheirWays(t *testing.T) {
	i := Insert{Mouths: 3, Width: 0.05, Height: 0, Spacing: 0.1}
	if f := i.MouthsPart(ConePositions(1, 1, 0, 0), 1e-6, 343); math.Abs(f-857.5) > 0.1 {
		t.Errorf("mouths part at %g Hz, want 857.5", f)
	}
	// A slow sum over 200 rings of 400 spokes of a real cone.
	i = Insert{Mouths: 3, Width: 0.06, Height: 0.05, Spacing: 0.08}
	spread := func(f float64) float64 {
		k := 2 * math.Pi * f / 343
		var re, im [3]float64
		for ring := range 200 {
			r := 0.09 * (float64(ring) + 0.5) / 200
			for spoke := range 400 {
				s, c := math.Sincos(2 * math.Pi * float64(spoke) / 400)
				for m := range 3 {
					d := i.pathTo(m, r*c, r*s)
					re[m] += r * math.Cos(k*d)
					im[m] -= r * math.Sin(k*d)
				}
			}
		}
		low, high := math.Inf(1), math.Inf(-1)
		for m := range 3 {
			p := math.Atan2(im[m], re[m])
			low, high = min(low, p), max(high, p)
		}
		return high - low
	}
	f := i.MouthsPart(ConePositions(1, 1, 0, 0), 0.09, 343)
	if got := spread(f); math.Abs(got-math.Pi/2) > 0.03 {
		t.Errorf("at %g Hz the mouths differ by %g rad, want a quarter turn", f, got)
	}
}
