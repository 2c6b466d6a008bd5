// Package layout gives every part of one box its place, size and attitude, and every
// box of the stack its own: the one geometry that all studies read.
//
// # Frame
//
// x points forward, y to the left as seen from behind the box, z up; the origin is the
// middle of the cabinet's front. Lengths in m, angles in rad. A turn is about the upright
// line through the middle of a mouth, positive to the left. A coaxial band takes the offset
// and the rise that it does not state from the woofers.
//
// # The horn's path
//
// From the throat to the listener the sound passes, in this order, the fold (where there
// is one), the side walls and the side flares:
//
//	throat ─ fold ─ side walls ─ mouth ─ side flares ─ exit
//
// The exit is flush with the front; without flares the mouth is the exit. horn length is
// the length of the air path from the throat to the mouth along its middle, so that it runs
// through the fold and ends where the flares begin. In depth stand behind each other: the
// flares, the side walls (the length less the path through the fold), and the fold's built
// depth. The path through the fold is longer than the fold is deep; the difference is what
// folding saves. Without a length the side walls are as deep as the coverage asks for.
//
// A fold is two layers side by side: the one that ends in the horn's slot lies on the horn's
// axis, the other beside it, towards the middle of the box, with the compression driver on
// its outer face. Of a horn that no offset sets to one side that is taken to be the left.
// Without a fold the compression driver stands behind the throat.
//
// # Bodies
//
// A driver is a cone frustum from its flange to a back half as wide (common practice, no
// source). A horn is bounded by its slot and its mouth, a fold by its wall; the material of
// horn, fold and chamber is not counted. What a design does not state has no body, and what
// has no body is in nobody's way: a sketch of five keys has nothing to collide.
package layout
