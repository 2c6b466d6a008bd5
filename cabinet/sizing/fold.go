package sizing

import (
	"math"

	"gapline/cabinet/design"
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

func sizeFold(f *waveguide.Fold) FoldSizing {
	s := absentFold
	s.Given = true
	s.Depth, s.BuiltDepth, s.DepthSaved = f.Depth(), f.BuiltDepth(), f.DepthSaved()
	s.PathSpread, s.FlatTo, s.Taper = spreadOf(f), f.FlatTo(), f.Taper()
	s.CrossMode, s.Clearance, s.Width = f.CrossMode(), f.ThroatClearance(), f.StackWidth()
	s.Fan = f.Fan().Width()
	return s
}

// spreadOf is the fold's path spread in m, 0 for a plane front, whose rays differ
// by the rounding of their lengths.
func spreadOf(f *waveguide.Fold) float64 {
	if math.IsInf(f.VirtualPath(), 1) {
		return 0
	}
	return f.PathSpread()
}

// frontOf puts the front of the fold, or of a straight guide, into the horn's
// figures.
func (s *HornSizing) frontOf(d *design.Design, f *waveguide.Fold, c float64) {
	h, pitch := d.Horn.MouthHeight, d.Pitch()
	if f != nil {
		s.Path, s.Sagitta, s.FlatTo = f.VirtualPath(), spreadOf(f), f.FlatTo()
		if numeric.Given(pitch) {
			s.FlatLobe = f.LobeLimit(pitch, d.LobeTarget())
		}
		return
	}
	s.Path = numeric.Or(d.Fold.VirtualPath, d.Horn.PathLength)
	s.Sagitta = waveguide.Sagitta(h, s.Path)
	s.FlatTo = waveguide.FlatTo(s.Sagitta, c)
	if numeric.Given(s.Sagitta) && numeric.Given(pitch) {
		s.FlatLobe = waveguide.FrontLobeLimit(h, s.Path, pitch, d.LobeTarget(), c)
	}
}
