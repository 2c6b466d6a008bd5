package box

import (
	"gapline/cabinet/design"
	"gapline/driver"
	"gapline/internal/check"
)

// EffectOf works out what the insert does to the design's box, as Run does; ok is false
// without one, or where the design does not give enough.
func EffectOf(d *design.Design) (e driver.InsertEffect, ok bool) {
	if !d.HasInsert() {
		return e, false
	}
	setup, err := check.BoxSetup(d)
	if err != nil || setup.Insert == nil {
		return e, false
	}
	c, err := driver.NewCircuit(ofInsert(setup))
	if err != nil {
		return e, false
	}
	e, err = c.InsertEffect()
	return e, err == nil
}
