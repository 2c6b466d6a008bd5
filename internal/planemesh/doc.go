// Package planemesh fills polygons in a plane with triangles of wanted size: a
// constrained Delaunay triangulation of the given nodes, refined by nodes in its inside
// and smoothed. No node is ever added on a polygon's edge, so that faces which meet
// there share their nodes.
//
// Sources: C. L. Lawson, Software for C1 surface interpolation (1977), flips;
// S. W. Sloan, Computers & Structures 47 (1993) 441, edges that must be there;
// J. Ruppert, J. Algorithms 18 (1995) 548, nodes in the middles of circumcircles.
//
// Places are held as whole numbers of a 2^26th of the outline, so that on which side of a
// line a node lies is decided exactly.
package planemesh
