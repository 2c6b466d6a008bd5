package field

import (
	"context"
	"fmt"
	"math"
	"testing"
)

// aimHall is the search of BenchmarkAim: a stack of n boxes hung high over a rake.
func aimHall(n int, rising bool) (Stack, AimSpec) {
	s := hallStack(n)
	s.Splay, s.TopHeight = nil, 5+0.32*float64(n)
	spec := AimSpec{
		Audience: AudienceSpec{Seating: []Seating{
			{Start: 6, End: 40, Ear: 1.2}, {Start: 41, End: 70, StartFloor: 0.5, EndFloor: 6, Ear: 1.2}}, Step: 2},
		Steps: stepsOf(0, 0.5, 1, 1.5, 2, 3, 4, 6), Tilts: stepsOf(-4, -3, -2, -1, 0, 1, 2, 3, 4), Floor: math.NaN(), Over: -6, Rising: rising,
	}
	return s, spec
}

// BenchmarkAim tells how a search in any order grows with the boxes.
func BenchmarkAim(b *testing.B) {
	for _, n := range []int{6, 12, 24} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			s, spec := aimHall(n, false)
			start := spent()
			var got *Aimed
			for b.Loop() {
				var err error
				if got, err = Aim(context.Background(), s, Options{}, spec); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(float64((spent()-start).Milliseconds())/float64(b.N), "cpu-ms")
			b.ReportMetric(float64(got.Evaluations), "stacks")
			b.ReportMetric(got.Best.Cost, "dB")
		})
	}
}
