package spread

import (
	"math"
	"slices"
)

// Band is where the middle 90 % of a result lie.
type Band struct {
	Low, Median, High float64 // 5, 50 and 95 %; NaN without values
	Given             int     // values that are not NaN
}

// BandOf returns the band of values. NaN values are left out; infinite ones take
// their place in the order. The slice is sorted in place.
func BandOf(values []float64) Band {
	slices.Sort(values) // NaN come first
	first, _ := slices.BinarySearchFunc(values, 0, func(x float64, _ int) int {
		if math.IsNaN(x) {
			return -1
		}
		return 1
	})
	given := values[first:]
	return Band{quantile(given, 0.05), quantile(given, 0.5), quantile(given, 0.95), len(given)}
}

// quantile interpolates between order statistics (R. J. Hyndman and Y. Fan, The
// American Statistician 50 (1996) 361-365, definition 7); NaN for no values.
func quantile(sorted []float64, p float64) float64 {
	if len(sorted) == 0 {
		return math.NaN()
	}
	at := p * float64(len(sorted)-1)
	i := int(at)
	a, t := sorted[i], at-float64(i)
	if t == 0 || i+1 == len(sorted) {
		return a
	}
	b := sorted[i+1]
	if a == b { // infinities have no difference
		return a
	}
	return a + t*(b-a)
}

// Chance is the share of a sample that meets a condition, with the interval in
// which the true share lies with 95 % confidence.
type Chance struct {
	Met, Of          int
	Share, Low, High float64
}

// ChanceOf returns the share met/of with Wilson's score interval (E. B. Wilson,
// JASA 22 (1927) 209-212). The interval is that of independent draws; a Latin
// hypercube of n points does worse by a factor of n/(n−1) in variance at most
// (A. B. Owen, SIAM J. Numer. Anal. 34 (1997) 1884-1910; from memory). of = 0
// gives NaN.
func ChanceOf(met, of int) Chance {
	const z = 1.959963984540054 // 97.5 % point of the normal distribution
	n := float64(of)
	p := float64(met) / n
	mid := (p + z*z/(2*n)) / (1 + z*z/n)
	half := z / (1 + z*z/n) * math.Sqrt(p*(1-p)/n+z*z/(4*n*n))
	return Chance{Met: met, Of: of, Share: p, Low: math.Max(mid-half, 0), High: math.Min(mid+half, 1)}
}
