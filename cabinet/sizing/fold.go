package sizing

import (
	"math"

	"gapline/internal/numeric"
	"gapline/waveguide"
)

// FoldSizing is what the fold does, by rays and by arithmetic.
type FoldSizing struct {
	Given      bool
	Depth      float64 // wall to mouth plane, m
	BuiltDepth float64 // with the turn and the allowance behind it, m
	DepthSaved float64 // against the straight horn of the same flatness, m
	PathSpread float64 // m
	FlatTo     float64 // Hz
	Taper      float64 // dB
	CrossMode  float64 // Hz
	Fan        float64 // rad
	Clearance  float64 // throat's rim to wall, m
	Width      float64 // both layers and the plate between them, m

	// Errors of the wall that leave the front flat to targets.flat_to, m; only a
	// study of the fold works them out.
	ToleranceAxial, ToleranceLateral, ToleranceProfile float64
}

var absentFold = FoldSizing{
	Depth: numeric.Absent, BuiltDepth: numeric.Absent, DepthSaved: numeric.Absent, PathSpread: numeric.Absent,
	FlatTo: numeric.Absent, Taper: numeric.Absent, CrossMode: numeric.Absent, Fan: numeric.Absent,
	Clearance: numeric.Absent, Width: numeric.Absent,
	ToleranceAxial: numeric.Absent, ToleranceLateral: numeric.Absent, ToleranceProfile: numeric.Absent,
}

// folded is a fold with its sizing and its front but for the lobes; ok is false where
// no such fold can be.
type folded struct {
	ok     bool
	sizing FoldSizing
	front  front
	fold   waveguide.Fold
}

// sizeFold is the stage of the fold.
func sizeFold(spec waveguide.FoldSpec) folded {
	f, err := waveguide.NewFold(spec)
	if err != nil {
		return folded{sizing: absentFold}
	}
	s := absentFold
	s.Given = true
	s.Depth, s.BuiltDepth, s.DepthSaved = f.Depth(), f.BuiltDepth(), f.DepthSaved()
	s.PathSpread, s.FlatTo, s.Taper = spreadOf(f), f.FlatTo(), f.Taper()
	s.CrossMode, s.Clearance, s.Width = f.CrossMode(), f.ThroatClearance(), f.StackWidth()
	s.Fan = f.Fan().Width()
	return folded{true, s, front{f.VirtualPath(), s.PathSpread, s.FlatTo, numeric.Absent}, f}
}

// spreadOf is the fold's path spread in m, 0 for a plane front, whose rays differ
// by the rounding of their lengths.
func spreadOf(f waveguide.Fold) float64 {
	if math.IsInf(f.VirtualPath(), 1) {
		return 0
	}
	return f.PathSpread()
}

// foldLobesInput is what the lobes of a line of folds depend on.
type foldLobesInput struct {
	fold   waveguide.Fold
	pitch  float64 // m
	target float64 // highest lobe allowed, a pressure ratio to the axis
}

// foldLobes is the stage of the lobes: the lowest frequency in Hz at which one is
// over the target.
func foldLobes(in foldLobesInput) float64 {
	if !numeric.Given(in.pitch) {
		return numeric.Absent
	}
	return in.fold.LobeLimit(in.pitch, in.target)
}

// withoutSize leaves out of a fold what its lobes do not depend on: where it stands,
// what is behind its turn and what it was asked for.
func withoutSize(f waveguide.Fold) waveguide.Fold {
	s, n := &f.Spec, numeric.Absent
	s.CabinetDepth, s.CabinetHeight, s.CabinetWidth = n, n, n
	s.BendRadius, s.RearAllowance, s.ThroatDiameter, s.MaxFan, s.TopFrequency = n, n, n, n, n
	return f
}

// foldStages size folds.
type foldStages struct {
	fold  remembered[waveguide.FoldSpec, folded]
	lobes remembered[foldLobesInput, float64]
}

// size returns ok false where no such fold can be.
func (z *foldStages) size(spec waveguide.FoldSpec, pitch, target float64) (s FoldSizing, f front, ok bool) {
	k := z.fold.of(spec, sizeFold)
	if !k.ok {
		return k.sizing, f, false
	}
	f = k.front
	f.flatLobe = *z.lobes.of(foldLobesInput{withoutSize(k.fold), pitch, target}, foldLobes)
	return k.sizing, f, true
}
