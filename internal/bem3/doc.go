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
// −jωρv. SI units throughout.
//
// # Equation
//
// With G = e^{-jkr}/(4πr) and q = ∂p/∂n, single layer V, double layer K, its
// adjoint K′ and the hypersingular operator N,
//
//	(½ − K − αN) p = −V q − α(½ + K′) q,  α = −j/k,
//
// which is unique at the resonances of the inside too (A. J. Burton, G. F. Miller,
// Proc. R. Soc. Lond. A 323, 1971; the sign of α belongs to that of the time
// factor). Below the first of them α stays at −j times the size of the mesh, so
// that N, which grows, does not drown the rest in single precision: the error at
// 5 Hz is that at 100 Hz.
//
// It is tested with the shape functions of the pressure (Galerkin), N integrated
// by parts (A. W. Maue, Z. Phys. 126, 1949),
//
//	(φ, Np) = ∬ G (k² n·n′ φp − curl φ · curl p),  curl φ = n × ∇φ,
//
// and K′ through its transpose, (φ, K′q) = (q, Kφ): tested directly it has a
// logarithm at convex edges that costs an order. Mirror images enter as further
// outer elements, whose curl carries the determinant of the reflection.
//
// # Elements
//
// Pressure is continuous and quadratic, six nodes to a flat triangle; velocity is
// constant over a triangle, or quadratic where six values are given. Corners need
// nothing special. Errors, per cent, of point sources in a cabinet of 0.43 × 0.62
// × 0.27 m at 1 kHz whose velocities are imposed as quadratics, root mean square;
// the length of an element is that of its longest side:
//
//	elements a wavelength      3      4      6      8
//	unknowns                 834   1466   2922   5114
//	surface                 0.69   0.32   0.13   0.07
//	far field              0.085  0.029  0.010  0.005
//	surface, with a plate of 6, 2 or 1 mm 30 mm in front, 4 a wavelength: 0.34
//	surface, two boxes 30 mm apart:  0.70   0.38   0.16
//	surface, two boxes 4 mm apart:   5.2    3.5    2.2   (far field 0.34 0.19 0.11)
//
// With the same velocities as means over the triangles the error of the surface is
// 7, 4 and 2 % at 3, 4 and 6 elements, so what bends should be given six values;
// a cone that moves as a whole needs one. The same cabinet with three rectangles
// of its front driven one by one differs at 4 elements from 9 elements by at most
// 0.05 % in the far field and 0.3 % in impedance. The gap of 4 mm loses in the
// outer rule: close gaps that acoustics does not need.
//
// Spheres of flat triangles have errors of second order from their shape, on top.
//
// # Integrals
//
// The rule on both elements has six points and degree four. For near pairs, those
// whose surrounding spheres are closer than nearGap elements, the kernel lacks its
// first real terms 1/r − k²r/2, which are integrated over the inner element in
// closed form, once for all frequencies; what is left is smooth enough for the
// rule, on the element itself too. So near pairs cost no kernel of their own. A
// wider or narrower nearGap, from 0 to 1, changes none of the errors above in its
// first two digits.
//
// # Arithmetic
//
// Kernel, matrix and solver work in single precision, geometry and closed forms in
// double. Eight elements are taken side by side in AVX2 where the processor has
// it. Fewer than some 1,200 unknowns are solved by factors, more by GMRES with
// blocks of 400 unknowns as preconditioner, in 12 steps for one box and 40 to 130
// for six boxes with gaps of 4 mm and plates; where it does not converge factors
// take over.
//
// Seconds of processor time for one frequency, assembly and solution, against
// LAPACK's dense solution alone in double precision (OpenBLAS, the same AVX2
// machine):
//
//	unknowns      this   LAPACK   ratio
//	   2,274      0.32     0.77    0.41
//	   5,114      1.46     7.96    0.18
//	  10,074      5.4     57.3    0.09
//
// An element's near pairs take 0.2 ms once in a sweep.
//
// # Limits
//
// Lossless air at rest, linear acoustics, rigid or moving walls. The matrix is
// dense: 8 bytes for each pair of unknowns, 3.2 GB at 20,000. A hierarchical one
// holds 40 % of that at 5,000 unknowns of boxes one above the other, 17 to 26 % at
// 9,000 and a tenth at 20,000, as a probe showed, and is not built: mirror planes and
// a mesh for each octave keep stacks of seven boxes to 2 kHz below 15,000, where
// neighbouring boxes, which do not compress, are most of it.
package bem3
