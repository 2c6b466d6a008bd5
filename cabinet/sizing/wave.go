package sizing

import "gapline/internal/numeric"

// WaveSizing is what a run of the wave level found for a design, SI. NaN marks
// what no run has answered. Size leaves it absent, since a solution takes
// seconds; whoever has a run that matches the design puts it in.
type WaveSizing struct {
	Pattern     float64 // lowest frequency at which the width first equals the coverage, Hz
	PatternFrom float64 // between which and PatternTo it lies by the run's own frequencies and elements, Hz
	PatternTo   float64
	Narrowest   float64 // least width from there up to the end of the run, rad
	NarrowestAt float64 // Hz
	FallsTo     float64 // where that is the end of the run, the width still falling: its frequency, Hz
	FlatTo      float64 // frequency to which the folded front is flat, Hz
	// Of a run of the outside in space with the woofers, or the mids, driven: the frequency from which
	// a stack of such boxes has a lobe over the target, the chamber's corner, and where two of the
	// insert's mouths differ by 90 degrees, Hz. FrontTo is the highest frequency of the run: what is
	// absent lies above it, or does not exist.
	Lobe, LobeFrom, LobeTo          float64
	Chamber, ChamberFrom, ChamberTo float64
	Part, PartFrom, PartTo          float64
	FrontTo                         float64
	FlatBeyond                      float64 // where FlatTo lies above the run: the run's highest frequency, Hz

	Run string // digest of the stored run that Pattern is from; empty: of none
}

// AbsentWave is the result of no run.
var AbsentWave = WaveSizing{
	Pattern: numeric.Absent, PatternFrom: numeric.Absent, PatternTo: numeric.Absent,
	Narrowest: numeric.Absent, NarrowestAt: numeric.Absent, FallsTo: numeric.Absent,
	FlatTo: numeric.Absent, FlatBeyond: numeric.Absent,
	Lobe: numeric.Absent, LobeFrom: numeric.Absent, LobeTo: numeric.Absent,
	Chamber: numeric.Absent, ChamberFrom: numeric.Absent, ChamberTo: numeric.Absent,
	Part: numeric.Absent, PartFrom: numeric.Absent, PartTo: numeric.Absent, FrontTo: numeric.Absent,
}
