package driver

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// confidence is the probability of the intervals.
const confidence = 0.95

// tail is one model's say in an interval: Student's t about its value.
type tail struct{ weight, value, error, freedom float64 }

// below returns the probability that the tail gives to values below x.
func (t tail) below(x float64) float64 {
	if t.error == 0 {
		switch {
		case x < t.value:
			return 0
		case x > t.value:
			return 1
		}
		return 0.5
	}
	return distuv.StudentsT{Mu: t.value, Sigma: t.error, Nu: t.freedom}.CDF(x)
}

// averaged returns the two-sided interval with half of 1 − confidence beyond each end
// by the weighted mean of the tails (Turek and Fletcher 2012, eq. 4).
func averaged(tails []tail) (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	wide := true
	for _, t := range tails {
		half := t.error * studentQuantile(t.freedom)
		low, high = math.Min(low, t.value-half), math.Max(high, t.value+half)
		wide = wide && half > 0
	}
	if len(tails) == 1 || !wide {
		return low, high
	}
	end := func(probability float64) float64 {
		a, b := low, high
		for range halvings {
			x, sum := (a+b)/2, 0.0
			for _, t := range tails {
				sum += t.weight * t.below(x)
			}
			if sum < probability {
				a = x
			} else {
				b = x
			}
		}
		return (a + b) / 2
	}
	return end((1 - confidence) / 2), end((1 + confidence) / 2)
}

// halvings of a bracket fix an end of an interval to a millionth of the bracket.
const halvings = 20

func studentQuantile(freedom float64) float64 {
	return distuv.StudentsT{Mu: 0, Sigma: 1, Nu: freedom}.Quantile((1 + confidence) / 2)
}

// exp returns the estimate of e^x.
func (e Estimate) exp() Estimate {
	return Estimate{math.Exp(e.Value), math.Exp(e.Low), math.Exp(e.High)}
}

// unit is the gradient of one parameter.
func unit(slot int) (g vector) {
	g[slot] = 1
	return g
}

// variance returns gᵀ·C·g, the variance of a value with gradient g.
func (m *modelFit) variance(g *vector) float64 {
	sum := 0.0
	for i, a := range m.free {
		for j, b := range m.free {
			sum += g[a] * g[b] * m.covariance.At(i, j)
		}
	}
	return sum
}

// estimate returns a value, which each model gives with its gradient, and its
// interval over all models.
func (f *ImpedanceFit) estimate(of func(*modelFit) (float64, vector)) Estimate {
	var tails []tail
	for i := range f.models {
		m := &f.models[i]
		if m.weight < leastWeight {
			break
		}
		v, g := of(m)
		tails = append(tails, tail{m.weight, v, math.Sqrt(m.variance(&g)), m.freedom})
	}
	return interval(tails)
}

// leastWeight is that of a model that is left out of an interval.
const leastWeight = 1e-6

// interval returns the first tail's value with the interval of all.
func interval(tails []tail) Estimate {
	low, high := averaged(tails)
	return Estimate{Value: tails[0].value, Low: math.Min(low, tails[0].value), High: math.Max(high, tails[0].value)}
}
