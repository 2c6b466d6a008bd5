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
//
// # How good it is
//
// Point sources in the solid of a starter, their velocity imposed on its surface at 1 kHz, are
// known exactly outside. The error against the number of elements to a wavelength, the longest
// one counted, by the root mean square in per cent of what is there: on walls; on the ways to
// the cones, which are plate, chambers and pockets; on what moves; and far away.
//
//	starter       sources in         elements  unknowns  walls  ways   moving  far away
//	hatch         body               3          876      0.51          0.25    0.12
//	                                 4         1302      0.30          0.11    0.06
//	                                 6         2388      0.11          0.04    0.01
//	                                 8         3490      0.05          0.02    0.005
//	hatch-insert  body               3         1676      0.46   0.39   0.33    0.13
//	                                 4         2374      0.28   0.14   0.24    0.05
//	                                 6         3350      0.10   0.39   0.12    0.02
//	                                 8         4549      0.05   0.15   0.05    0.005
//	hatch-mids    body               3         1651      0.47   0.68   0.25    0.13
//	                                 4         2310      0.27   0.32   0.17    0.06
//	                                 6         3725      0.10   0.12   0.05    0.02
//	                                 8         5369      0.05   0.09   0.03    0.01
//	hatch-insert  panel by chamber   3         1676      0.65   2.5    2.5     0.45
//	                                 4         2374      0.58   2.5    2.2     0.79
//	                                 6         3350      0.09   0.27   0.30    0.06
//	                                 8         4549      0.04   0.09   0.20    0.01
//	hatch-insert  plate              3         1676      2.2    7.5    6.5     1.1
//	                                 4         2374      1.1    2.4    2.1     0.6
//	                                 6         3350      1.1    4.4    2.9     1.1
//	                                 8         4549      0.7    2.6    1.4     0.6
//
// Unknowns are those of the half on one side of a mirror plane. The sources in the panel are
// 30 mm behind the front. Those in the plate fill it with a lattice, 6 mm from the nearest
// surface: their field changes within 6 mm, which no element here is short enough for, near
// the corner of the chamber, which raises what is wrong with their volume velocity. Nothing that
// moves in a box has such a field. What rigid walls with sharp edges cost when cones move is in
// the comment of package surface.
//
// Against finite elements in space, a box with one cone behind an insert (see
// testdata/reference/insert_finite_elements): load, flow out of the chamber and through the
// mouths, and far field all round agree within 0.3 dB and 2 degrees from 300 Hz to 2 kHz, with
// three elements to a wavelength as with nine.
package outside
