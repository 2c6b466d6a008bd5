package sizing

import (
	"gapline/driver"
	"gapline/internal/numeric"
)

// BoxSizing is what one box does at the low end and what it takes, SI. The
// circuit is the alignment tables' one: air load as mass only, no insert.
type BoxSizing struct {
	F3          float64 // half power, without voice-coil inductance, Hz
	LevelAt     float64 // frequency of MaxLevel: targets.level_at, targets.lowest or F3, Hz
	MaxLevel    float64 // dB at 1 m in half space
	Limit       driver.Limit
	SweptVolume float64 // of all woofers, one way, m³
	Drivers     float64 // woofers, mids and the compression driver; NaN without any word of a woofer
	LineDrivers float64 // in the whole line; NaN without line.boxes
	Crossovers  float64 // crossover points of one box
	Cost        float64 // of one box; NaN when the price of a part is missing
	LineCost    float64 // of the whole line
}

// partsInput is what a box takes.
type partsInput struct {
	hasWoofer           bool
	drivers, crossovers int     // of one box
	boxes               int     // in the line; 0: not given
	cost                float64 // of one box
}

// countParts is the stage of what box and line take: all of a BoxSizing but the low
// end. It costs less than to remember it.
func countParts(in partsInput) BoxSizing {
	s := BoxSizing{
		F3: numeric.Absent, LevelAt: numeric.Absent, MaxLevel: numeric.Absent, SweptVolume: numeric.Absent,
		Drivers: numeric.Absent, Crossovers: numeric.Absent, Cost: in.cost,
		LineDrivers: numeric.Absent, LineCost: numeric.Absent,
	}
	if in.hasWoofer {
		s.Drivers, s.Crossovers = float64(in.drivers), float64(in.crossovers)
	}
	if n := float64(in.boxes); n > 0 {
		s.LineDrivers, s.LineCost = n*s.Drivers, n*s.Cost
	}
	return s
}
