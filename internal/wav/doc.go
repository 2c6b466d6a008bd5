// Package wav reads and writes sound files in the WAV format: one channel, samples as
// float64 whose full scale is ±1.
//
// The readers and writers among the usual modules decode to integers or leave the
// dither to the caller; reading with the place of every fault and writing two codings
// are about 250 lines, and both ends share the codes of the format.
package wav
