// Package surface turns a design into the surface that meets the outside air, as
// triangles that the wave level solves on in space: the cabinet with what is let into its
// front, sides and rear, alone or hung as a stack.
//
// # Frame
//
// That of package layout for one box: x forward, y to the left as seen from behind, z up,
// the origin in the middle of the front. Of several boxes the origin lies half way between
// the upper edge of the first front and the lower edge of the last, and x looks along the
// mean of their axes, so that a straight stack looks along x whatever its tilt.
//
// # What becomes what
//
// All is one air. Rigid and without a group of their own are the cabinet's walls, which
// meet at sharp edges. Cones are flat discs that move along their axis:
//
//   - A cone flush with the front, or less than a millimetre behind it, is a disc in it.
//   - One that stands back is the floor of a straight pocket whose opening is the cone as
//     seen from the front.
//   - One behind the horn that radiates through a free part of the front is in the floor of
//     a pocket from there to the plane of its flange. The pocket has flat walls: the outer
//     one goes straight back, the inner one to the flange's inner end. Cones of one side
//     stand in one plane.
//   - Behind an insert it is in the floor of a chamber, which opens to the outside through
//     the plate's mouths. The plate is as thick as the mouths are deep. The chamber is as
//     wide and high as cones and mouths of its column with a margin, and as deep as its
//     volume asks for; where the design states how far the cones stand back it is as deep
//     as that leaves.
//
// The horn is its exit, flush with the front: a flat aperture, along which its front lags
// behind that in the middle by Lag. What lies in the horn is not meshed, but for side
// flares where they are asked for, without splitters. Vents and passive radiators are flat
// patches in their panels. A round patch has at least 16 sides and the area of its circle,
// unless that would reach beyond its flange: Factor makes up for what is missing, and for
// what a coaxial part in front covers.
//
// A corner of a patch nearer than 0.3 mm to another edge is moved onto it.
//
// # Joints
//
// Between boxes of a stack that hang closer than MostClosed the joint is closed in all of
// its depth: the boxes reach to the plane half way between them, through their hinge, and
// the stack is one body. What that leaves out is a wedge a few millimetres wide that is
// open to the sides and the rear. Open joints can be asked for.
//
// # Mirror planes
//
// Where cabinet, parts and drive are alike on both sides of y = 0, or of z = 0, only the
// part at y ≥ 0, z ≥ 0 is meshed, with its open edges on the planes. Parts of one band are
// taken to be driven alike, in all boxes unless Options.Strength says otherwise; who drives
// one of two images asks for the whole surface.
//
// # Floor
//
// Over a rigid floor the origin lies on it and x along it. A single box and boxes hung straight
// stand level; the whole stack has its tilt. What is less than half of MostClosed above the floor
// stands on it: its joint is closed as one between boxes. The floor is the solver's; it takes
// the place of the mirror plane z = 0 and needs no elements.
//
// # Elements
//
// No edge is longer than the shortest wavelength over Options.PerWave. Far from edges of
// the body and rims of what moves it comes near that; beside them it is about half as long,
// and between them it grows as the cube root of the distance, as in a mesh whose lines are
// drawn together with exponent 1.5. In narrow strips and in chambers, edges are short
// against their width.
//
// How good that is was measured with quadratic pressure, against a mesh of twice as many
// elements a wavelength, on one box of each starter at 1 to 2 kHz: at 3 to the longest edge
// the far field is right to 0.05 to 0.6 %, the load on a cone to 0.2 to 0.7 %; most is
// missing behind an insert. The lag of a horn's front has to be taken along each triangle,
// as Drive does: one value for each costs 1 % at 2 kHz.
package surface
