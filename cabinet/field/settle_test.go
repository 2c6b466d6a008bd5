package field

import (
	"context"
	"math"
	"testing"
)

// The tones that settle agree with four times as many tones, within the tolerance that
// they settled to, at places that are not among those they settled at.
func TestSettledTones(t *testing.T) {
	e, err := New(sampleStack(8), Options{})
	if err != nil {
		t.Fatal(err)
	}
	bands, _ := Bands(1, 500, 4000)
	line := func(n int, from, to, z float64) (at []Vec) {
		for i := range n {
			at = append(at, Vec{X: from + (to-from)*float64(i)/float64(n-1), Z: z})
		}
		return at
	}
	const depth = 20
	s := SettleSpec{Bands: bands, At: line(40, 3, 40, 1.2), From: 3, To: 384, Depth: depth}
	n, settled, err := e.SettledTones(context.Background(), s)
	if err != nil || !settled {
		t.Fatalf("%d tones, settled %v, %v", n, settled, err)
	}
	means := func(tones int) [][]float64 {
		m, err := e.bandMeans(context.Background(), AudienceSpec{Bands: bands, Tones: tones}, points(line(37, 4, 39, 1.2)))
		if err != nil {
			t.Fatal(err)
		}
		return m.plain
	}
	got, want := means(n), means(4*n)
	worst := 0.0
	for b := range want {
		top := 0.0
		for _, x := range want[b] {
			top = math.Max(top, x)
		}
		for k, x := range want[b] {
			if x > top*math.Pow(10, -depth/10) {
				worst = math.Max(worst, math.Abs(10*math.Log10(got[b][k]/x)))
			}
		}
	}
	// Each doubling moves levels less than the last: by the tolerance and what is left.
	if worst > 2*ToneTolerance {
		t.Errorf("%d tones are off by %.2f dB", n, worst)
	}
	t.Logf("%d tones, off by %.3f dB", n, worst)
	s.To = 4
	if n, settled, _ := e.SettledTones(context.Background(), s); settled || n != 3 {
		t.Errorf("%d tones, settled %v, where no doubling is allowed", n, settled)
	}
}
