// Package bem solves the Helmholtz equation in the plane by boundary elements.
//
// A Problem is made of one or more domains filled with air. The boundary of
// each is a set of outlines, chains of smooth edges. An edge is a wall, rigid
// by default, with a prescribed normal velocity or a normal impedance or both,
// or it joins two domains: pressure is continuous across it and flow carries
// over. A domain is bounded, or exterior and then reaches to infinity. Mirror
// planes x = 0 and y = 0 (rigid walls, or planes of symmetry) are taken into
// the Green's function and need no elements.
//
// Conventions. Time factor e^{+jωt}, outgoing waves e^{-jkr}, k = ω/c. Normals
// point out of the fluid. Wall velocity is positive into the fluid, so a wall
// at v gives ∂p/∂n = +jωρv, and one of normalised impedance ζ = Z/(ρc) gives
// ∂p/∂n = −jkp/ζ.
//
//	quantity            symbol  unit
//	pressure            p       Pa
//	normal velocity     v       m/s
//	line-source flow    Q       m²/s, volume flow per metre of height
//	normalised impedance ζ      1
//	frequency           f       Hz
//
// Method. Direct boundary integral equation, collocation. On each element
// pressure and its normal derivative are polynomials through the Gauss points,
// which are also the collocation points (discontinuous elements: corners and
// jumps of the wall condition need no special care). Far elements are then
// integrated by one kernel value per pair of nodes, near ones by bisection
// towards the point, and an element's own logarithmic and hypersingular
// integrals by a power substitution and by closed finite parts. In exterior
// domains the equation is combined with its normal derivative, with an imaginary
// factor, which makes the solution unique at the resonances of the inside
// (A. J. Burton, G. F. Miller, Proc. R. Soc. Lond. A 323, 1971). Elements
// shrink geometrically towards edges and mouths where the field is singular.
//
// Element size. Options.NodesPerWave nodes per wavelength, DefaultNodesPerWave
// when zero, is the stated rule; Check solves again with every element cut in two
// and returns the change.
//
// Limits. Lossless air at rest, linear acoustics, two dimensions. Walls must
// have a thickness; it may be small against the elements.
package bem
