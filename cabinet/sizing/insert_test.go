package sizing

import (
	"testing"

	"gapline/cabinet/design"
	"gapline/internal/optional"
	"gapline/internal/reftable"
)

func TestPathSpread(t *testing.T) {
	d := design.New()
	d.Cabinet.Height = optional.Of(0.3)
	d.Woofer.EffectiveDiameter = optional.Of(0.2)
	d.Insert.Mouths = 2
	d.Insert.MouthHeight = optional.Of(0.05)
	// Mouths at ±75 mm, ±25 mm high: the cone's centre is 50 mm from the nearer
	// edge, its own edge (100 mm) faces the mouth's end exactly.
	reftable.Within(t, "spread", insertPaths(insertInputOf(&d, 343)).Spread, 0.050, 1e-12)
	// Mouths so high that they touch leave only the cone's edge, which they
	// face too: no spread.
	d.Insert.MouthHeight = optional.Of(0.15)
	reftable.Within(t, "spread of touching mouths", insertPaths(insertInputOf(&d, 343)).Spread, 0, 1e-12)
	// Narrow mouths leave the cone's sides: 100 mm less half the width.
	d.Insert.MouthWidth = optional.Of(0.06)
	reftable.Within(t, "spread of narrow mouths", insertPaths(insertInputOf(&d, 343)).Spread, 0.070, 1e-12)
	reftable.Near(t, "in phase", insertPaths(insertInputOf(&d, 343)).Quarter, 343/(4*0.070), 1e-12)
}
