// Package special holds the special functions of piston radiation that Go's
// math package lacks: the Struve function H₁ and the combination 2J₁(x)/x with
// its complement. Arguments are real and dimensionless.
//
// Accuracy was measured against power series in 200-bit arithmetic; the tests
// repeat the measurement.
package special
