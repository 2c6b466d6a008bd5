package figure

import "gapline/internal/quantity"

// What gapline sweep prints beside the figures of size.
var (
	SweepValue = &Def{Key: "sweep.vary.values", Name: "value of a varied key", Symbol: "x", Kind: quantity.Number, Trust: Geometry,
		Formula: "SI, as --vary gives it", Source: geometry, Chosen: true}
	SweepNotListed = &Def{Key: "sweep.skipped_not_listed", Name: "designs that cannot exist, beyond those listed", Symbol: "n_+", Kind: quantity.Number, Trust: Geometry,
		Formula: "count beyond the first thousand", Terms: From("sweep.vary.values"), Source: ofRun}
)

// sweepStudy lists them.
var sweepStudy = []*Def{SweepValue, SweepNotListed}
