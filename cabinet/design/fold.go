package design

import (
	"gapline/internal/air"
	"gapline/internal/optional"
	"gapline/waveguide"
)

// Fold is the folded horn path.
type Fold struct {
	ThroatToWall  optional.Float // throat to the wall's vertex, m; not given: solved for
	VirtualPath   optional.Float // m; +Inf for a plane front; not given: what targets.flat_to needs
	Wall          waveguide.FoldWall
	Layer         optional.Float // thickness of each layer, m
	MouthDistance optional.Float // mouth plane in front of the throat's centre, m
	ThroatHeight  optional.Float // throat above the mouth's middle, m
	BendRadius    optional.Float // inner radius of the turn, m
	RearAllowance optional.Float // material and clearance behind the turn, m
	WallMaterial  optional.Float // thickness of the strip that is drawn for the wall, m
	Depth         optional.Float // available for the fold, m; by default the cabinet's
	WidestFan     optional.Float // full angle at the throat that may be used, rad
}

// HasFold reports whether the design gives enough for one fold: throat to wall,
// layer and mouth height.
func (d *Design) HasFold() bool {
	return d.Fold.ThroatToWall.Given() && d.Fold.Layer.Given() && d.Horn.MouthHeight.Given()
}

// FoldDepth is the depth in m that the fold may take; NaN when neither it nor the
// cabinet's is given.
func (d *Design) FoldDepth() float64 { return d.Fold.Depth.Or(d.Cabinet.Depth.Value()) }

// FoldSpec is the design's fold as package waveguide takes it. The fold has the
// cabinet's height, or the pitch, and its width to fit in; the front is to be
// flat up to targets.flat_to.
func (d *Design) FoldSpec() waveguide.FoldSpec {
	f := &d.Fold
	s := waveguide.NewFoldSpec(f.ThroatToWall.Value(), f.VirtualPath.Value(), f.Layer.Value(), d.Horn.MouthHeight.Value())
	s.Wall = f.Wall
	s.MouthDistance, s.ThroatHeight, s.ThroatDiameter = f.MouthDistance.Value(), f.ThroatHeight.Value(), d.Horn.Throat.Value()
	s.BendRadius, s.RearAllowance, s.MaxFan = f.BendRadius.Value(), f.RearAllowance.Value(), f.WidestFan.Value()
	s.CabinetDepth, s.CabinetWidth = d.FoldDepth(), d.Cabinet.Width.Value()
	s.CabinetHeight = d.Cabinet.Height.Or(d.Pitch())
	s.TopFrequency = d.Targets.FlatTo.Value()
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
	return d.Fold.VirtualPath.Or(d.Horn.PathLength.Value())
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
