// Package wave checks horns by solving the wave equation in the plane: the
// level of trust "wave", beside rule and aperture. It builds outlines from plain
// geometry and hands them to package bem.
//
//   - Plan: a horizontal section through cabinet, horn and woofers' openings, where
//     they stand. An endless straight line of boxes without gaps is the plane
//     problem itself; a long one is near it.
//   - Fold: the two layers of a folded guide, each a thin sheet in which the
//     field does not change across the thickness, joined along the wall curve.
//   - Bend: a section through the turn between the layers, with the thickness
//     as length that matters.
//
// Conventions are those of package bem: SI units, time factor e^{+jωt}, angles
// in rad. Impedances are normalised, ζ = Z/(ρc). Levels of a sheet hold below
// the first cross mode of its thickness, f = c/(2t).
package wave
