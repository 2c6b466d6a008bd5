// Package maximum works out how loud one box and a stack can play, over the whole range:
// each band by itself, all through the crossover, and programme at the seats; and what
// stops them.
//
// # Model
//
// A band of one box is a pressure on its axis at 1 m for each volt at its terminals, and
// so is what that volt does to its drivers: travel of the cones, heat in the coils (the
// power into Re, as ratings give it), air speed in vents and in an insert's mouths. All
// are linear. A limit is what one of them may be; over it, the stress of a volt is its
// share of that limit, and the largest voltage is the reciprocal of the largest stress.
//
// Through the crossover the bands stand in the ratio in which the design sums them, so
// that the band nearest to a limit stops all. A tone meets its limit in each band; of
// programme the heat is that of its mean power in the band, travel and air speed are
// those of its crest: the r.m.s. value of the sum over the spectrum, times the crest
// factor. Where a band that is heard has no limits, what all can give is not known.
//
// # Where it comes from
//
// Woofers and mids: their circuit, see package driver; without parameters their
// sensitivity and, for the travel, the volume that a pressure in half space needs. Horn:
// horn.sensitivity; or the compression driver's circuit on the horn, whose power is
// spread as the mouth's pattern spreads it; or its sensitivity in a plane-wave tube
// likewise. The horn is equalised flat, as package source takes it, down to an octave
// below its crossover; below that the equaliser holds.
//
// # Limits
//
// Level of trust: aperture. Small signals up to the limits; no power compression, which
// costs 2 to 6 dB in long use; no limit of amplifiers. The circuit is that of a box
// alone: neighbours in a stack change travel and heat a little. Air speed breaks
// nothing: at 17 m/s it is likely to be heard (common practice, no source).
package maximum
