// Package field sums the sound of every mouth of every box of a stack: near
// and far, straight and curved, in the open and over a floor, and aims the
// stack at an audience.
//
// # Frames
//
// World: X forward into the audience, Y to the left, Z up, ground at Z = 0.
// The upper front edge of the top box is at X = 0. Box: the same axes with the
// origin in the middle of the front panel. Angles are in rad; tilt and splay
// are positive downwards, angles of a polar are positive upwards and to the
// left.
//
// # Model
//
// Level of trust: aperture. Time convention e^{+jωt}, outgoing waves e^{-jkr}.
// A mouth is a flat patch Σ with even strength and, for a curved front, a delay
// δ that grows away from its middle:
//
//	p = s/S ∫_Σ e^{-jk(r+δ)}/r dS,  δ = √(L²+z²) − L
//
// with s the strength in Pa·m (the on-axis pressure at 1 m, taken back from the
// far field, of a mouth in phase; Mouth.AxisFactor is what a curved front takes
// from it), S the area, L the distance of the virtual apex behind the mouth.
// Nothing scatters: boxes do not shade each other, and the floor, if there is
// one, is a plane that reflects (image source).
//
// A drive may have the pattern of the whole box in place of its mouths, see BoxPattern: then
// the cabinet is in it, boxes still do not shade each other, and each place lies in the far
// field of each box.
//
// Free field: each point of a mouth is a monopole, Q = s·4π/(jωρ). Baffled:
// each mouth sits in its own infinite wall (Rayleigh integral), Q = s·2π/(jωρ),
// and sends nothing behind it.
//
// # Error
//
// A mouth in whose near field a place lies is cut into patches until the error
// of each mouth is at most Options.Tolerance of what it would give in phase;
// bound.go derives the bound and a test holds it against brute quadrature.
// Phasors and patterns of far mouths come from the kernels of vector.go, good to 2e-8 of
// what the mouths would give in phase, those of near and of curved ones from tables good
// to 4e-7. Places nearer than a fiftieth of the radius to a round piston are outside the
// bound.
//
// # Levels
//
// When every drive gives its on-axis pressure at 1 m or its volume velocity,
// pressures are rms Pa and levels dB re 20 µPa. When none does, each mouth has
// strength 1 and levels are dB re one mouth at 1 m. Engine.Absolute says which.
//
// # Harm
//
// No suspension, rigging or load is computed here. Licensed rigging practice and
// local codes decide. Exposure cautions are in exposure.go.
package field
