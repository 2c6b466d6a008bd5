// Package waveguide models the horn beside the woofers: how low its mouth holds the
// pattern, how flat its front is, how it loads the driver, and how its path is folded.
//
// Conventions. Time factor e^{+jωt}, outgoing waves e^{−jkr}. Lengths in m, angles in
// rad and full (from edge to edge), frequencies in Hz, impedances over ρc/S of the
// throat unless they say otherwise. "−6 dB" is exactly −6.000 dB.
//
//	quantity                         symbol  where
//	width of the mouth               W       Horn.MouthWidth
//	coverage                         θ       Horn.Coverage
//	path, apex of the front to mouth L       Horn.PathLength, FoldSpec.VirtualPath
//	bulge of the front (sagitta)     s       Sagitta
//	throat to the fold's wall        a       FoldSpec.ThroatToWall
//	thickness of a layer             t       FoldSpec.Layer
//
// Models and their limits.
//
//   - Pattern, rule: f = 25 400/(W·θ) (θ in degrees); its constant holds one speed of
//     sound, and against the integral it parts by −18 % at 120° and −30 % at 150°.
//   - Pattern, aperture: the mouth as a strip with a circular front in an infinite rigid
//     wall, even amplitude. A real mouth, whose amplitude falls to its edges, dips less
//     above its control frequency.
//   - Loading: Webster's equation on plane fronts, in cones short against the profile,
//     ended by a rectangular piston in a baffle. It is an estimate above the first cross
//     mode of the mouth.
//   - Fold: rays in a sheet whose layers are thin against the wavelength; the wall is a
//     conic with one focus at the throat. Above c/(2t) a layer carries more than one wave.
//
// Sources. D. B. Keele Jr., AES 51st Convention, 1975, preprint 1038 (rule). A. G.
// Webster, Proc. Nat. Acad. Sci. 5 (1919) 275; V. Salmon, JASA 17 (1946) 199-218
// (loading, profiles). C. Heil and M. Urban, AES 92nd Convention, 1992, preprint 3269;
// M. Urban, C. Heil and P. Bauman, JAES 51 (2003) 912-932 (flatness of the front).
package waveguide
