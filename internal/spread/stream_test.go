package spread

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"gonum.org/v1/gonum/stat"
)

// laws are kinds of values that a figure may take: dense, skewed, far out, in steps,
// mostly one value, with limits that do not exist.
var laws = map[string]func(*rand.Rand) float64{
	"even":    func(r *rand.Rand) float64 { return r.Float64() },
	"normal":  func(r *rand.Rand) float64 { return 1000 + 3*r.NormFloat64() },
	"skewed":  func(r *rand.Rand) float64 { return math.Exp(4 * r.NormFloat64()) },
	"steps":   func(r *rand.Rand) float64 { return float64(r.IntN(40)) },
	"one":     func(*rand.Rand) float64 { return 12.5 },
	"mostly":  func(r *rand.Rand) float64 { return math.Max(r.NormFloat64(), 0.3) },
	"no ends": func(r *rand.Rand) float64 { return 1 / math.Max(r.Float64()-0.07, 0) },
	"two":     func(r *rand.Rand) float64 { return r.NormFloat64() + 1e3*float64(r.IntN(2)) },
}

// The percentile of a long stream has the share of the values below it that it is asked
// for, to a cell; a short one is exact.
func TestStreamAgainstSortedValues(t *testing.T) {
	for name, law := range laws {
		for _, n := range []int{1, 100, Held, Held + 1, 50_000, 200_000} {
			r := rand.New(rand.NewPCG(3, uint64(n)))
			values := make([]float64, n)
			var s Stream
			for i := range values {
				values[i] = law(r)
				s.Add(values[i])
				if i%1000 == 0 {
					s.Add(math.NaN())
				}
			}
			got, want := s.Band(), BandOf(slices.Clone(values))
			slices.Sort(values)
			for _, q := range []struct{ p, got, want float64 }{{0.05, got.Low, want.Low}, {0.5, got.Median, want.Median}, {0.95, got.High, want.High}} {
				if n <= Held {
					if q.got != q.want {
						t.Errorf("%s, %d values, %g: %v, want %v", name, n, q.p, q.got, q.want)
					}
					continue
				}
				from, _ := slices.BinarySearch(values, q.got)
				to, _ := slices.BinarySearchFunc(values, q.got, func(x, y float64) int {
					if x <= y {
						return -1
					}
					return 1
				})
				rank := q.p * float64(n-1)
				// A cell holds 1/cells of the first values, give or take their own
				// chance: four times that is never reached.
				if off := math.Max(float64(from)-rank, rank-float64(to)); off > 4*float64(n)/cells {
					t.Errorf("%s, %d values, %g: %v has ranks %d to %d, want %g", name, n, q.p, q.got, from, to, rank)
				}
			}
			if got.Given != n {
				t.Errorf("%s: %d of %d values given", name, got.Given, n)
			}
		}
	}
}

// Where values lie densely the percentiles themselves are near: to a five-hundredth of
// the band of a normal law's.
func TestStreamIsNearOfDenseValues(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 1))
	var s Stream
	values := make([]float64, 200_000)
	for i := range values {
		values[i] = r.NormFloat64()
		s.Add(values[i])
	}
	got, want := s.Band(), BandOf(values)
	for _, d := range []float64{got.Low - want.Low, got.Median - want.Median, got.High - want.High} {
		if math.Abs(d) > 1e-3*(want.High-want.Low) {
			t.Errorf("off by %g of a band of %g", d, want.High-want.Low)
		}
	}
	t.Logf("off by %.2g, %.2g and %.2g of a band of %.3g", got.Low-want.Low, got.Median-want.Median, got.High-want.High, want.High-want.Low)
}

// A stream's memory does not grow with what went through it.
func TestStreamForgets(t *testing.T) {
	var s Stream
	for i := range 10 * Held {
		s.Add(float64(i % 7919))
	}
	if s.held != nil || len(s.edges) > cells+1 {
		t.Errorf("%d values held, %d edges", len(s.held), len(s.edges))
	}
}

// Drawn point by point or at once, each input falls once into each share.
func TestPointsAreALatinHypercube(t *testing.T) {
	inputs := []Input{{Half: 1}, {Centre: 3, Half: 2}, {Half: 0.5}}
	for _, n := range []int{500, Many, 40_000} {
		t.Run(fmt.Sprint(n), func(t *testing.T) {
			at := Points(inputs, n, 5)
			columns := make([][]float64, len(inputs))
			seen := make([][]bool, len(inputs))
			for j := range seen {
				seen[j] = make([]bool, n)
			}
			x := make([]float64, len(inputs))
			for i := range n {
				at(i, x)
				for j, in := range inputs {
					share := int((x[j] - in.Centre + in.Half) / (2 * in.Half) * float64(n))
					if share < 0 || share >= n || seen[j][share] {
						t.Fatalf("input %d of point %d falls into share %d of %d, again or out of it", j, i, share, n)
					}
					seen[j][share] = true
					columns[j] = append(columns[j], x[j])
				}
			}
			// Independent inputs, and no drift from point to point: a correlation of n
			// pairs has a standard deviation of 1/√n.
			for j := range columns {
				for k := range j {
					if c := stat.Correlation(columns[j], columns[k], nil); math.Abs(c) > 4/math.Sqrt(float64(n)) {
						t.Errorf("inputs %d and %d correlate by %g", j, k, c)
					}
				}
				if c := stat.Correlation(columns[j][1:], columns[j][:n-1], nil); math.Abs(c) > 4/math.Sqrt(float64(n)) {
					t.Errorf("input %d follows the point before by %g", j, c)
				}
			}
		})
	}
}
