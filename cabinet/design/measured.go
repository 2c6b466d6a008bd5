package design

import "gapline/internal/optional"

// Measured names the traces that are kept beside the design and what they were taken on.
// Files are relative to the design's.
type Measured struct {
	// Stack is a trace of this design's stack, Closer one of a stack whose mouths stand closer
	// together, taken at the same place: where the two part the stack's coupling ends.
	Stack, Closer string
	// Axis is a trace on the horn's axis, Edge one as far to the side as half its coverage.
	Axis, Edge string
	// Aligned are the ends of the band in which levels are moved to match, Hz; empty: as measured.
	Aligned   []float64
	Threshold optional.Float // difference that counts as parting, dB; by default DefaultThreshold
	Smoothing int            // n of 1/n octave; by default DefaultSmoothing

	State string // what the traces were taken on
	// StackDigest and EdgeDigest are of the keys that the traces depend on, as they stood.
	StackDigest, EdgeDigest string
}

// What traces are read with unless the design says otherwise (common practice, no source).
const (
	DefaultThreshold = 3  // dB
	DefaultSmoothing = 12 // of an octave
)
