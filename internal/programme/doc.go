// Package programme holds what speech and music look like to a loudspeaker: a published
// spectrum in third octaves, a crest factor, and the frequency weightings by which
// levels of it are judged.
//
// A spectrum is the share of the signal's power in each third octave; within one the
// power is spread evenly over log frequency, as in pink noise. Levels are in dB.
package programme
