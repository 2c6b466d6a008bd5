package sizing

import (
	"gapline/cabinet/design"
	"gapline/driver"
	"gapline/internal/air"
	"gapline/internal/numeric"
	"gapline/internal/optional"
)

// InsertSizing is the coupling limit with an insert, and what the insert costs.
type InsertSizing struct {
	CouplingLimit
	SpacingError float64 // of the mouths, relative to pitch/mouths
	Chamber      float64 // corner of the front chamber, Hz
	AreaRatio    float64 // cones over mouths
	PathSpread   float64 // m
	InPhase      float64 // frequency at which PathSpread is a quarter wave, Hz
	Coupled      float64 // corner of the front chamber with the mouths' action on each other, Hz
	Part         float64 // lowest frequency at which two mouths differ by 90 degrees, Hz; +Inf: none do
}

var absentInsert = InsertSizing{
	CouplingLimit: absentLimit, SpacingError: numeric.Absent, Chamber: numeric.Absent,
	AreaRatio: numeric.Absent, PathSpread: numeric.Absent, InPhase: numeric.Absent, Coupled: numeric.Absent, Part: numeric.Absent,
}

// insertInput is what an insert depends on beside its line of mouths.
type insertInput struct {
	mouths        int     // one above the other
	columns       int     // side by side
	height, width float64 // of one mouth, m
	between       float64 // neighbouring mouths of one box, m
	depth         float64 // of the mouths through the plate, m
	chamber       float64 // between cones and plate, m³

	cones    int     // one above the other in a column
	coneArea float64 // of one cone, m²
	diameter float64 // of one cone, m
	spacing  float64 // between them, m
	c        float64 // speed of sound, m/s
}

// insertCosts is the stage of what an insert costs: chamber, areas and paths.
func insertCosts(in insertInput) InsertSizing {
	chamber := design.Insert{Mouths: in.mouths, MouthHeight: optional.Of(in.height), MouthWidth: optional.Of(in.width),
		SlotDepth: optional.Of(in.depth), ChamberVolume: optional.Of(in.chamber)}
	paths := insertPaths(in)
	mouths := in.mouthsOf()
	return InsertSizing{
		Coupled:    coupledCorner(in, mouths),
		Part:       mouths.MouthsPart(driver.ConePositions(in.cones, 1, in.spacing, numeric.Absent), in.diameter/2, in.c),
		Chamber:    chamber.ChamberCorner(in.columns, in.c),
		AreaRatio:  float64(in.cones) * in.coneArea / (float64(in.mouths) * in.height * in.width),
		PathSpread: paths.Spread,
		InPhase:    paths.Quarter,
	}
}

// insertPaths compares the ways from the parts of the cones to the mouths. Mouths
// whose height is not given count as lines.
func insertPaths(in insertInput) driver.PathSpread {
	p := in.mouthsOf()
	cones := driver.ConePositions(in.cones, 1, in.spacing, numeric.Absent)
	return p.PathSpread(cones, in.diameter/2, in.c)
}

// mouthsOf is the plate of one column of woofers.
func (in *insertInput) mouthsOf() *driver.Insert {
	return &driver.Insert{Mouths: in.mouths, Spacing: in.between, Width: in.width, Height: numeric.Or(in.height, 0)}
}

// coupledCorner is the corner of the chamber with the mouths' action on each other, Hz; NaN
// where a dimension is missing. It does not depend on the density of the air.
func coupledCorner(in insertInput, i *driver.Insert) float64 {
	i.Depth, i.ChamberVolume, i.Columns = in.depth, in.chamber, in.columns
	chamber, err := i.Chamber(air.Air{SoundSpeed: in.c, Density: 1})
	if err != nil {
		return numeric.Absent
	}
	return chamber.Corner
}

// spacingError is how far the distance in m between the n mouths of a box is off
// pitch/n, relative; 0 for one mouth.
func spacingError(n int, spacing, pitch float64) float64 {
	if n == 1 {
		return 0
	}
	return spacing*float64(n)/pitch - 1
}
