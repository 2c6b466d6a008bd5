package space

import (
	"gapline/cabinet/design"
	"gapline/cabinet/sizing"
	"gapline/internal/schema"
	"gapline/internal/study/size"
)

// Value returns the measure of a design and its sizing, SI; NaN when the design does
// not give enough.
func Value(m schema.Measure, d *design.Design, s *sizing.Sizing) float64 {
	if m.Figure != nil {
		return size.Of(s, m.Figure)
	}
	return m.Key.Number(d)
}
