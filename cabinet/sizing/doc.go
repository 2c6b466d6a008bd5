// Package sizing estimates what boxes in a line do: how far a stack of woofers couples,
// what a mouth-splitting insert does, how low the horn holds its pattern, where the
// crossover gap lies, and what one box does at the low end.
//
// Model. An endless straight line of equal boxes at pitch p. Its lobes lie at
// sin θ_m = m·λ/p; their level against the axis is |E(θ_m)|/|E(0)|, E the sum of the
// mouths of one box with their own patterns, and does not depend on frequency. The
// half-wave rule, f = c/(2·s), takes the largest spacing s of neighbouring centres. The
// gap is log2(f_horn/f_couple): positive is open.
//
//	quantity                        symbol    field
//	upper end of coupling           f_couple  Gap.Low
//	lower limit of the horn         f_horn    Gap.High
//	gap in octaves                  g         Gap.Open, Gap.Insert
//	largest spacing of centres      s         CouplingLimit.Spacing
//	corner of the front chamber     f_ch      InsertSizing.Chamber
//	covers the horn's angle up to   f_θ       Horizontal.CoversTo
//
// To the sides, woofers and mids are columns in the horizontal plane, each with the
// pattern of its mouths; the reference is the level straight ahead.
//
// Levels of trust: rules and closed forms or aperture integrals only; a sizing takes
// microseconds. NaN is what the design does not give enough for, +Inf a limit that does
// not exist. What the wave level found is put in by whoever holds a stored run.
//
// Limits. Boxes do not shade each other, mouths move as rigid pistons, the low end is a
// lumped circuit.
//
// Sources. H. F. Olson, Elements of Acoustical Engineering, 1947 (product of array and
// element patterns); L. E. Kinsler et al., Fundamentals of Acoustics (directivity of
// lines); Keele 1975 and Urban, Heil and Bauman 2003 as in package waveguide; Small 1972
// and 1973 as in package driver. The catalogue of figures names the source of each.
package sizing
