// Package source turns a design into the stack of mouths that package field
// sums: which mouths each box has and where, how the boxes hang, and what each
// band is driven with.
//
// # Bands
//
// Woofers (or the mouths of an insert in front of them), mids, horn; each is one
// drive of the field's stack, in this order, the ones that the design has.
//
// # Levels
//
// The woofers' response is that of their box by its Thiele-Small parameters, on
// axis at 1 m in half space, at the design's drive voltage; that of the mids
// likewise, in their closed volume. Without those data a
// band is flat, at its sensitivity where one is given. The horn is taken as
// equalised flat on the axis of one box. Each band is matched on axis, at its
// crossover, to the one whose level is known; gains count from that match. When
// no level is known, levels are relative to one box on its axis at 1 m.
//
// All cones of a box move alike, and the circuit is that of a box alone: the air
// load of the neighbours and the vent's own place are left out.
//
// # Delays
//
// A band's delay counts at its mouths. The way from its drivers to them, see
// Band.Inside, is not in the model: a flare passes frequencies near its cutoff at
// another speed, so that its length is the better part of the delay and not all of it.
// Whoever sets a processor adds it. Cones behind the front radiate from where they
// stand.
//
// # Limits
//
// Level of trust: aperture. A half-space level holds as long as the front of the
// stack is large against the wavelength; below about c/(πW), W the width, a stack
// in the open is up to 6 dB quieter. The horn's own cutoff is not modelled: keep
// the crossover above it.
package source
