// Package bem3 solves the Helmholtz equation in the air about moving surfaces by
// boundary elements.
//
// A Problem is a closed surface of flat triangles with a prescribed normal
// velocity, for any number of drives at once, in free air. Up to three mirror
// planes, a rigid floor among them, need no elements. Sweep solves it at many
// frequencies; a Solution gives surface pressures, forces, the field at points,
// the far field and powers.
//
// Conventions. Time factor e^{+jωt}, outgoing waves e^{-jkr}, k = ω/c. Normals
// point into the air, and velocities are positive into the air, so ∂p/∂n =
// −jωρv.
package bem3
