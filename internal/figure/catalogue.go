package figure

import "slices"

// Sources that several figures share.
const (
	practice = "common practice, no source"
	keele    = `D. B. Keele Jr., "What's so sacred about exponential horns?", AES 51st Convention, 1975, preprint 1038`
	heil     = "C. Heil and M. Urban, AES 92nd Convention, 1992, preprint 3269; M. Urban, C. Heil and P. Bauman, JAES 51 (2003) 912-932"
	kinsler  = "L. E. Kinsler et al., Fundamentals of Acoustics, chapter on arrays"
	olson    = "H. F. Olson, Elements of Acoustical Engineering, 1947: product of array and element patterns"
	geometry = "geometry of the design file"
)

// catalogue lists every figure in the order in which it is printed: those of a sizing
// first, then what each command adds.
var catalogue = slices.Concat(sized, boxStudy, hornStudy, foldStudy, lineStudy, maximumStudy, crossoverStudy, listenStudy, waveStudy, waveFrontStudy, traceStudy,
	toleranceStudy, sweepStudy, searchStudy, drawStudy, gapWindow, gapRanges, midLevels, leverGaps)

// sized are the figures of a sizing.
var sized = slices.Concat(
	[]*Def{
		AirSoundSpeed, AirDensity,
		CouplingLower, CouplingPitch, CouplingLength,
	},
	CouplingOpen.all(), CouplingInsert.all(),
	[]*Def{
		CouplingInsertSpacingError, CouplingInsertChamber, CouplingInsertAreaRatio,
		CouplingInsertPathSpread, CouplingInsertInPhase, CouplingInsertCoupled, CouplingInsertPart,
	},
	CouplingMid.all(),
	[]*Def{
		HornPatternRule, HornPatternComputed, HornNarrowest, HornNarrowestAt, HornCutoff, HornLower,
		HornPath, HornSagitta, HornFlatTo, HornFlatLobe, HornShare,
		HornExitWidth, HornExitCoverage, HornFlaresFilled, HornRuleDeviation,
		HornRipple, HornHalfLoaded, HornEfficiency,
	},
	WoofersAcross.all(), MidsAcross.all(),
	[]*Def{
		FoldDepth, FoldBuiltDepth, FoldDepthSaved, FoldPathSpread, FoldFlatTo, FoldTaper, FoldCrossMode,
		FoldFan, FoldClearance, FoldWidth, FoldToleranceAxial, FoldToleranceLateral, FoldToleranceProfile,
		HornPatternWave, HornNarrowestWave, HornNarrowestWaveAt, FoldFlatToWave, CouplingLobeWave, CouplingInsertChamberWave, CouplingInsertPartWave, CouplingMeasured, HornPatternMeasured,

		GapOpen, GapInsert, GapLow, GapHigh, GapCrossover, GapWooferMid,
	},
	gapLevels,
	[]*Def{
		BoxF3, BoxMaxSPL, BoxMaxSPLAt, BoxSweptVolume, BoxDrivers, BoxLineDrivers, BoxCrossovers, BoxCost, BoxLineCost,
		LineSplayTotal, LineNearField1kHz,
	},
)

// Sized lists the figures that the estimates of a design give, in order.
func Sized() []*Def { return slices.Clone(sized) }
