// Package outside solves the air outside a box, or a stack of boxes, in space: what cones and
// horn radiate with the cabinet, its insert and its neighbours as they are. It is the wave
// level of trust without the plane's simplification.
//
// # What moves
//
// Each set of cones that are each other's mirror images is a drive of its own, so that one
// solution holds the radiation impedances between all cones. The velocities then follow from
// the drivers' circuit, with the solved load in front of it, or, where the design does not
// give one, from equal accelerations. The horn is its exit, which moves as its front does.
// Vents and passive radiators stand still.
//
// # What is read off
//
// Far fields all round in the upright and the level plane; the load on the cones; the volume
// flow through each mouth of the insert, from the pressure a little before and behind the
// middle of the plate.
//
// Frequencies are solved octave by octave from the top, each on a surface with elements for
// its highest.
package outside
