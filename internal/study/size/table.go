package size

import (
	"math"
	"slices"

	"gapline/cabinet/sizing"
	"gapline/internal/figure"
	"gapline/internal/numeric"
)

// Figure is a figure together with where a sizing holds it, SI.
type Figure struct {
	*figure.Def
	Of func(*sizing.Sizing) float64 // NaN when the design does not give enough
}

// Table lists every figure that a sizing holds, in the order of the catalogue. Who
// needs all of them for each of many designs walks it.
var Table = slices.Concat(
	air, stack,
	line(figure.CouplingOpen, func(s *sizing.Sizing) *sizing.CouplingLimit { return &s.Coupling.Open }),
	line(figure.CouplingInsert, func(s *sizing.Sizing) *sizing.CouplingLimit { return &s.Coupling.Insert.CouplingLimit }),
	insert,
	line(figure.CouplingMid, func(s *sizing.Sizing) *sizing.CouplingLimit { return &s.Coupling.Mid }),
	horn,
	across(figure.WoofersAcross, func(s *sizing.Sizing) *sizing.Horizontal { return &s.Woofers }),
	across(figure.MidsAcross, func(s *sizing.Sizing) *sizing.Horizontal { return &s.Mids }),
	fold, wave, measured, gap,
	level(figure.GapByRule, sizing.ByRule), level(figure.GapByAperture, sizing.ByAperture), level(figure.GapByWave, sizing.ByWave), level(figure.GapByMeasured, sizing.ByMeasured),
	box, stackLine)

var air = []Figure{
	{figure.AirSoundSpeed, func(s *sizing.Sizing) float64 { return s.Air.SoundSpeed }},
	{figure.AirDensity, func(s *sizing.Sizing) float64 { return s.Air.Density }},
}

var stack = []Figure{
	{figure.CouplingLower, func(s *sizing.Sizing) float64 { return s.Coupling.Lower }},
	{figure.CouplingPitch, func(s *sizing.Sizing) float64 { return s.Coupling.Pitch }},
	{figure.CouplingLength, func(s *sizing.Sizing) float64 { return s.Coupling.Length }},
}

// line binds the figures of one line of mouths.
func line(l figure.Line, of func(*sizing.Sizing) *sizing.CouplingLimit) []Figure {
	return []Figure{
		{l.Spacing, func(s *sizing.Sizing) float64 { return of(s).Spacing }},
		{l.HalfWave, func(s *sizing.Sizing) float64 { return of(s).HalfWave }},
		{l.Lobe, func(s *sizing.Sizing) float64 { return of(s).Lobe }},
		{l.FirstLobe, func(s *sizing.Sizing) float64 { return of(s).FirstLobe }},
		{l.Share, func(s *sizing.Sizing) float64 { return of(s).Share }},
		{l.Efficiency, func(s *sizing.Sizing) float64 { return of(s).Efficiency }},
	}
}

var insert = []Figure{
	{figure.CouplingInsertSpacingError, func(s *sizing.Sizing) float64 { return s.Coupling.Insert.SpacingError }},
	{figure.CouplingInsertChamber, func(s *sizing.Sizing) float64 { return s.Coupling.Insert.Chamber }},
	{figure.CouplingInsertAreaRatio, func(s *sizing.Sizing) float64 { return s.Coupling.Insert.AreaRatio }},
	{figure.CouplingInsertPathSpread, func(s *sizing.Sizing) float64 { return s.Coupling.Insert.PathSpread }},
	{figure.CouplingInsertInPhase, func(s *sizing.Sizing) float64 { return s.Coupling.Insert.InPhase }},
	{figure.CouplingInsertCoupled, func(s *sizing.Sizing) float64 { return s.Coupling.Insert.Coupled }},
	{figure.CouplingInsertPart, func(s *sizing.Sizing) float64 { return s.Coupling.Insert.Part }},
}

var horn = []Figure{
	{figure.HornPatternRule, func(s *sizing.Sizing) float64 { return s.Horn.PatternRule }},
	{figure.HornPatternComputed, func(s *sizing.Sizing) float64 { return s.Horn.PatternComputed }},
	{figure.HornNarrowest, func(s *sizing.Sizing) float64 { return s.Horn.Narrowest }},
	{figure.HornNarrowestAt, func(s *sizing.Sizing) float64 { return s.Horn.NarrowestAt }},
	{figure.HornCutoff, func(s *sizing.Sizing) float64 { return s.Horn.Cutoff }},
	{figure.HornLower, func(s *sizing.Sizing) float64 { return s.Horn.Lower }},
	{figure.HornPath, func(s *sizing.Sizing) float64 { return s.Horn.Path }},
	{figure.HornSagitta, func(s *sizing.Sizing) float64 { return s.Horn.Sagitta }},
	{figure.HornFlatTo, func(s *sizing.Sizing) float64 { return s.Horn.FlatTo }},
	{figure.HornFlatLobe, func(s *sizing.Sizing) float64 { return s.Horn.FlatLobe }},
	{figure.HornShare, func(s *sizing.Sizing) float64 { return s.Horn.Share }},
	{figure.HornExitWidth, func(s *sizing.Sizing) float64 { return s.Horn.ExitWidth }},
	{figure.HornExitCoverage, func(s *sizing.Sizing) float64 { return s.Horn.ExitCoverage }},
	{figure.HornFlaresFilled, func(s *sizing.Sizing) float64 { return s.Horn.FlaresFilled }},
	{figure.HornRuleDeviation, func(s *sizing.Sizing) float64 { return s.Horn.RuleDeviation }},
	{figure.HornRipple, func(s *sizing.Sizing) float64 { return s.Horn.Ripple }},
	{figure.HornHalfLoaded, func(s *sizing.Sizing) float64 { return s.Horn.HalfLoaded }},
	{figure.HornEfficiency, func(s *sizing.Sizing) float64 { return s.Horn.EfficiencyLow }},
}

// across binds the figures of one band in the horizontal plane.
func across(a figure.Across, of func(*sizing.Sizing) *sizing.Horizontal) []Figure {
	return []Figure{
		{a.Crossover, func(s *sizing.Sizing) float64 { return of(s).Crossover }},
		{a.Width, func(s *sizing.Sizing) float64 { return of(s).Width }},
		{a.CoversTo, func(s *sizing.Sizing) float64 { return of(s).CoversTo }},
		{a.Dip, func(s *sizing.Sizing) float64 { return of(s).Dip }},
		{a.DipAt, func(s *sizing.Sizing) float64 { return of(s).DipAt }},
	}
}

var fold = []Figure{
	{figure.FoldDepth, func(s *sizing.Sizing) float64 { return s.Fold.Depth }},
	{figure.FoldBuiltDepth, func(s *sizing.Sizing) float64 { return s.Fold.BuiltDepth }},
	{figure.FoldDepthSaved, func(s *sizing.Sizing) float64 { return s.Fold.DepthSaved }},
	{figure.FoldPathSpread, func(s *sizing.Sizing) float64 { return s.Fold.PathSpread }},
	{figure.FoldFlatTo, func(s *sizing.Sizing) float64 { return s.Fold.FlatTo }},
	{figure.FoldTaper, func(s *sizing.Sizing) float64 { return s.Fold.Taper }},
	{figure.FoldCrossMode, func(s *sizing.Sizing) float64 { return s.Fold.CrossMode }},
	{figure.FoldFan, func(s *sizing.Sizing) float64 { return s.Fold.Fan }},
	{figure.FoldClearance, func(s *sizing.Sizing) float64 { return s.Fold.Clearance }},
	{figure.FoldWidth, func(s *sizing.Sizing) float64 { return s.Fold.Width }},
	{figure.FoldToleranceAxial, func(s *sizing.Sizing) float64 { return s.Fold.ToleranceAxial }},
	{figure.FoldToleranceLateral, func(s *sizing.Sizing) float64 { return s.Fold.ToleranceLateral }},
	{figure.FoldToleranceProfile, func(s *sizing.Sizing) float64 { return s.Fold.ToleranceProfile }},
}

var wave = []Figure{
	{figure.HornPatternWave, func(s *sizing.Sizing) float64 { return s.Wave.Pattern }},
	{figure.HornNarrowestWave, func(s *sizing.Sizing) float64 { return s.Wave.Narrowest }},
	{figure.HornNarrowestWaveAt, func(s *sizing.Sizing) float64 { return s.Wave.NarrowestAt }},
	{figure.FoldFlatToWave, func(s *sizing.Sizing) float64 { return s.Wave.FlatTo }},
	{figure.CouplingLobeWave, func(s *sizing.Sizing) float64 { return s.Wave.Lobe }},
	{figure.CouplingInsertChamberWave, func(s *sizing.Sizing) float64 { return s.Wave.Chamber }},
	{figure.CouplingInsertPartWave, func(s *sizing.Sizing) float64 { return s.Wave.Part }},
}

var measured = []Figure{
	{figure.CouplingMeasured, func(s *sizing.Sizing) float64 { return s.Measured.Coupling }},
	{figure.HornPatternMeasured, func(s *sizing.Sizing) float64 { return s.Measured.Pattern }},
}

var gap = []Figure{
	{figure.GapOpen, func(s *sizing.Sizing) float64 { return s.Gap.Open }},
	{figure.GapInsert, func(s *sizing.Sizing) float64 { return s.Gap.Insert }},
	{figure.GapLow, func(s *sizing.Sizing) float64 { return s.Gap.Low }},
	{figure.GapHigh, func(s *sizing.Sizing) float64 { return s.Gap.High }},
	{figure.GapCrossover, func(s *sizing.Sizing) float64 { return s.Gap.Crossover }},
	{figure.GapWooferMid, func(s *sizing.Sizing) float64 { return s.Gap.WooferMid }},
}

// level binds the figures of the gap at a level of trust; NaN where that has no figure of
// its own on either side.
func level(g figure.GapLevel, l sizing.Level) []Figure {
	at := func(of func(*sizing.LevelGap) float64) func(*sizing.Sizing) float64 {
		return func(s *sizing.Sizing) float64 {
			g := s.Level(l)
			if !g.Given || math.IsNaN(g.Gap) {
				return numeric.Absent
			}
			return of(&g)
		}
	}
	return []Figure{
		{g.Low, at(func(g *sizing.LevelGap) float64 { return g.Low.Hz })},
		{g.High, at(func(g *sizing.LevelGap) float64 { return g.High.Hz })},
		{g.Gap, at(func(g *sizing.LevelGap) float64 { return g.Gap })},
	}
}

var box = []Figure{
	{figure.BoxF3, func(s *sizing.Sizing) float64 { return s.Box.F3 }},
	{figure.BoxMaxSPL, func(s *sizing.Sizing) float64 { return s.Box.MaxLevel }},
	{figure.BoxMaxSPLAt, func(s *sizing.Sizing) float64 { return s.Box.LevelAt }},
	{figure.BoxSweptVolume, func(s *sizing.Sizing) float64 { return s.Box.SweptVolume }},
	{figure.BoxDrivers, func(s *sizing.Sizing) float64 { return s.Box.Drivers }},
	{figure.BoxLineDrivers, func(s *sizing.Sizing) float64 { return s.Box.LineDrivers }},
	{figure.BoxCrossovers, func(s *sizing.Sizing) float64 { return s.Box.Crossovers }},
	{figure.BoxCost, func(s *sizing.Sizing) float64 { return s.Box.Cost }},
	{figure.BoxLineCost, func(s *sizing.Sizing) float64 { return s.Box.LineCost }},
}

var stackLine = []Figure{
	{figure.LineSplayTotal, func(s *sizing.Sizing) float64 { return s.Line.Turn }},
	{figure.LineNearField1kHz, func(s *sizing.Sizing) float64 { return s.Line.NearField }},
}
