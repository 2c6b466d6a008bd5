// Package numeric holds the small numerical tools that several physics
// packages need: bracketed roots, one-dimensional minima, fixed
// Gauss-Legendre rules and decibel conversion.
//
// Absent values. Throughout the project a float64 that is "not given" or
// "cannot be computed" is NaN; Given reports whether a value is present. NaN
// never comes from user input, because the quantity parser refuses it.
package numeric

import (
	"math"
	"slices"
)

// Absent is the value of a quantity that was not given or that the inputs do
// not suffice to compute.
var Absent = math.NaN()

// Given reports whether x is present, that is, not NaN.
func Given(x float64) bool { return !math.IsNaN(x) }

// AnyGiven reports whether any of the values is present.
func AnyGiven(xs []float64) bool { return slices.ContainsFunc(xs, Given) }

// Or returns x, or otherwise when x is not present.
func Or(x, otherwise float64) float64 {
	if Given(x) {
		return x
	}
	return otherwise
}

// DB returns the level in dB of the pressure (or amplitude) ratio x,
// 20 log10 |x|. DB(0) is -Inf.
func DB(x float64) float64 { return 20 * math.Log10(math.Abs(x)) }

// FromDB returns the amplitude ratio of a level in dB.
func FromDB(db float64) float64 { return math.Pow(10, db/20) }

// Sinc returns sin(x)/x, with Sinc(0) = 1.
func Sinc(x float64) float64 {
	if math.Abs(x) < 1e-4 {
		x2 := x * x
		return 1 - x2/6*(1-x2/20)
	}
	return math.Sin(x) / x
}
