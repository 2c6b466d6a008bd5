// Package spread says how uncertain inputs spread a result. It knows nothing of
// designs: a result is a plain function of the inputs.
//
// Inputs are independent, each uniform within plus and minus a half width or
// normal with a standard deviation. Sample draws a Latin hypercube of them
// (M. D. McKay, R. J. Beckman and W. J. Conover, Technometrics 21 (1979)
// 239-245), BandOf and ChanceOf sum up what came out, and OneAtATime ranks the
// inputs.
package spread
