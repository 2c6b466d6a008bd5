// Package hankel gives the Bessel functions J0, Y0, J1, Y1 of a real argument,
// all four at once and fast: a boundary-element matrix wants millions of
// them. Together they are the Hankel functions
//
//	Hn⁽²⁾(z) = Jn(z) − j Yn(z)
//
// of outgoing waves under the time convention e^{+jωt}.
//
// Method. A table holds the four values at nodes; between nodes the Taylor
// series of Bessel's equation z f″ + f′ + z f = 0 is summed to fourth degree,
// its coefficients coming from the two stored values by the equation's own
// recurrence. J1 = −J0′ and Y1 = −Y0′ fall out of the same coefficients
// (NIST Digital Library of Mathematical Functions, 10.6.3 and 10.2.1). Nodes
// are spaced in proportion to z below z = 4, where Y0 and Y1 are singular, and
// evenly above.
//
// Accuracy. The largest error found by the tests over (0, zmax], relative to
// the modulus |Hn|, is below 3e-9 for both orders.
package hankel
