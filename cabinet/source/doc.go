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
// # Patterns
//
// A band may radiate by the pattern of the whole box in place of its mouths: from a run in space
// of this very box, or from polars that were measured on one. It is hung at the middle of the
// band's mouths in each box, as the box hangs, 1 ahead, so that levels, filters, delays and
// gains stay what they are. Below its range mouths take over within an octave, above it within
// a third of one. A run of the middle box among its neighbours, whose cones the circuit drove,
// gives its level ahead too, and neighbours in frequency are matched to that.
//
// Five boxes solved together against five hung patterns of an invented box (one cone beside a
// horn, 0.62 m wide, 0.27 m high, 0.43 m deep), level of the sum less that of the solution, dB:
//
//	Hz                  100   160   200   250   400   630  1000
//	ahead, by itself   −1.9  −3.4  −3.0  −2.4  −1.4  +0.7  +0.7
//	       middle of 3 −0.6  −0.5  +0.1  +0.7  +1.4  −0.7   0.0
//	       middle of 5 +0.4  +0.8  +1.0  +1.1  −0.5  +0.4  −0.4
//	behind, by itself  −0.1  +0.5  +1.7  +3.6 +10.5  +6.3  +6.2
//	       middle of 3 +0.2  +1.1  +2.2  +3.6  +5.1  −5.5  +0.3
//	       middle of 5 +0.3  +0.7  +1.0  +1.3  −4.8  +3.5  −7.6
//
// Within 30 degrees the shape of the beam is right within 0.5 dB of that ahead up to 250 Hz, and within
// 1.8 dB above. What is left with the middle of five is that the outermost boxes are none:
// they have a neighbour on one side alone.
//
// # Growth
//
// Time is a product of boxes, seats and tones, and of what each band does. CPU time in ns of each
// (BenchmarkGrowth; a cone and a curved horn mouth a box, one core of 2026):
//
//	boxes  seats  tones  mouths  patterns of both bands
//	   12     80     96      57       201
//	   24     80     96      43       160
//	   48     80     96      30       128
//	   12    160     96      36       153
//	   12    320     96      26       124
//	   12     80    192      51       144
//	   12     80    384      45       115
//
// It falls as tables of the horn's front and the grid of the pattern, made once, are shared by more:
// four times as many boxes or seats take 2.1 or 1.8 times as long by mouths and 2.5 by
// patterns, four times as many tones 3.2 and 2.3 times.
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
