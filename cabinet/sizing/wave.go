package sizing

import "gapline/internal/numeric"

// WaveSizing is what a run of the wave level found for a design, SI. NaN marks
// what no run has answered. Size leaves it absent, since a solution takes
// seconds; whoever has a run that matches the design puts it in.
type WaveSizing struct {
	Pattern     float64 // lowest frequency at which the width first equals the coverage, Hz
	Narrowest   float64 // least width from there up to the end of the run, rad
	NarrowestAt float64 // Hz
	FallsTo     float64 // where that is the end of the run, the width still falling: its frequency, Hz
	FlatTo      float64 // frequency to which the folded front is flat, Hz
	FlatBeyond  float64 // where FlatTo lies above the run: the run's highest frequency, Hz

	Run string // digest of the stored run that Pattern is from; empty: of none
}

// AbsentWave is the result of no run.
var AbsentWave = WaveSizing{Pattern: numeric.Absent, Narrowest: numeric.Absent, NarrowestAt: numeric.Absent, FallsTo: numeric.Absent,
	FlatTo: numeric.Absent, FlatBeyond: numeric.Absent}
