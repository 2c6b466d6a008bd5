package design

import (
	"gapline/internal/air"
	"gapline/internal/numeric"
	"gapline/waveguide"
)

// Fold is the folded horn path. NaN marks what was not given.
type Fold struct {
	ThroatToWall  float64 // throat to the wall's vertex, m; not given: solved for
	VirtualPath   float64 // m; +Inf for a plane front; not given: what targets.flat_to needs
	Wall          waveguide.FoldWall
	Layer         float64 // thickness of each layer, m
	MouthDistance float64 // mouth plane in front of the throat's centre, m
	ThroatHeight  float64 // throat above the mouth's middle, m
	BendRadius    float64 // inner radius of the turn, m
	RearAllowance float64 // material and clearance behind the turn, m
	WallMaterial  float64 // thickness of the strip that is drawn for the wall, m
	Depth         float64 // available for the fold, m; by default the cabinet's
	WidestFan     float64 // full angle at the throat that may be used, rad
}

func newFold() Fold {
	a := numeric.Absent
	return Fold{
		ThroatToWall: a, VirtualPath: a, Layer: a, MouthDistance: a, ThroatHeight: a, BendRadius: a,
		RearAllowance: a, WallMaterial: a, Depth: a, WidestFan: a,
	}
}

// HasFold reports whether the design gives enough for one fold: throat to wall,
// layer and mouth height.
func (d *Design) HasFold() bool {
	return numeric.Given(d.Fold.ThroatToWall) && numeric.Given(d.Fold.Layer) && numeric.Given(d.Horn.MouthHeight)
}

// FoldDepth is the depth in m that the fold may take; NaN when neither it nor the
// cabinet's is given.
func (d *Design) FoldDepth() float64 { return numeric.Or(d.Fold.Depth, d.Cabinet.Depth) }

// FoldSpec is the design's fold as package waveguide takes it. The fold has the
// cabinet's height, or the pitch, and its width to fit in; the front is to be
// flat up to targets.flat_to.
func (d *Design) FoldSpec() waveguide.FoldSpec {
	f := &d.Fold
	s := waveguide.NewFoldSpec(f.ThroatToWall, f.VirtualPath, f.Layer, d.Horn.MouthHeight)
	s.Wall = f.Wall
	s.MouthDistance, s.ThroatHeight, s.ThroatDiameter = f.MouthDistance, f.ThroatHeight, d.Horn.Throat
	s.BendRadius, s.RearAllowance, s.MaxFan = f.BendRadius, f.RearAllowance, f.WidestFan
	s.CabinetDepth, s.CabinetWidth = d.FoldDepth(), d.Cabinet.Width
	s.CabinetHeight = numeric.Or(d.Cabinet.Height, d.Pitch())
	s.TopFrequency = d.Targets.FlatTo
	s.SoundSpeed = air.SoundSpeed(d.Air)
	return s
}

// PathLength returns the distance of the front's apex behind the horn's mouth
// in m: that of the fold where the design gives one, else the fold's virtual
// path or the horn's own path.
func (d *Design) PathLength() float64 {
	if f, ok := d.Folded(); ok {
		return f.VirtualPath()
	}
	return numeric.Or(d.Fold.VirtualPath, d.Horn.PathLength)
}

// Folded works out the design's fold; ok is false when it gives none, or one that
// cannot be.
func (d *Design) Folded() (f waveguide.Fold, ok bool) {
	if !d.HasFold() {
		return f, false
	}
	f, err := waveguide.NewFold(d.FoldSpec())
	return f, err == nil
}
