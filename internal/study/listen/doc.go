// Package listen turns what the stack is predicted to do at one place into sound: the
// impulse response of two states of a design, applied to a signal.
//
// # Response
//
// The complex sum of all mouths through crossover, box and splay, as internal/study/line
// computes it, from 20 Hz to 20 kHz, with raised-cosine ends of no phase over the octave
// below and up to 22 kHz; a sample rate under 44.1 kHz takes both in proportion. The mouths'
// sums of unit strength are smooth once the way from the middle of the stack is taken out:
// they are computed over a grid that is eight times finer than their length in time needs
// and interpolated by a cubic spline; boxes and filters are computed at every frequency.
//
// Air absorbs as line says, in magnitude for each mouth by its own way. Its phase is the
// minimum phase of what the way from the middle of the stack takes, ISO 9613-1, of a system
// sampled at the rate of the sound.
//
// The time of flight from the middle of the stack is taken out, and Lead set before.
// Delays inside the boxes are not in the model, see package source.
package listen
