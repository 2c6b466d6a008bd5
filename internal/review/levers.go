package review

import (
	"fmt"
	"math"

	"gapline/internal/describe"
	"gapline/internal/document"
	"gapline/internal/numeric"
	"gapline/internal/quantity"
	"gapline/internal/schema"
	"gapline/internal/study/space"
)

// leverKeys are the levers that are drawn.
var leverKeys = []string{"cabinet.pitch", "horn.mouth_width", "horn.coverage"}

// Span of a lever about the present value, as shares of it, and its steps.
const (
	leverFrom, leverTo = 0.7, 1.4
	leverSteps         = 70
)

// levers draws the gap against each lever.
func (b *builder) levers(s *document.Section) error {
	if math.IsNaN(b.sizing.Gap.AsGiven()) {
		b.misses("The gap is not known, so nothing is drawn against it.")
		return nil
	}
	var drawn document.Section
	for _, path := range leverKeys {
		if err := b.lever(&drawn, schema.FindKey(path)); err != nil {
			return err
		}
	}
	s.Add(inGalleries(drawn.Blocks)...)
	return nil
}

func (b *builder) lever(s *document.Section, k *schema.Key) error {
	at := k.Number(b.design)
	if !numeric.Given(at) {
		b.misses("The gap against " + k.Path + " is not drawn: the file does not give it.")
		return nil
	}
	axis, err := space.ParseAxis(fmt.Sprintf("%s=%s:%s:%s", k.Path, lever(k, at*leverFrom), lever(k, at*leverTo), lever(k, at*(leverTo-leverFrom)/leverSteps)))
	if err != nil {
		return err
	}
	grid, err := space.NewGrid(&b.File.Project, []space.Axis{axis})
	if err != nil {
		return err
	}
	curves, err := grid.MouthCurves(b.ctx)
	if err != nil {
		return err
	}
	b.add(s, describe.LeverChart(axis, curves, b.design, &b.sizing))
	return nil
}

// lever writes a value of a lever, kept within the key's range.
func lever(k *schema.Key, x float64) string {
	return quantity.Canonical(math.Min(x, k.Max), k.Kind)
}
