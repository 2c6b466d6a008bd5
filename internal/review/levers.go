package review

import (
	"fmt"
	"math"

	"gapline/internal/describe"
	"gapline/internal/document"
	"gapline/internal/numeric"
	"gapline/internal/quantity"
	"gapline/internal/render/page"
	"gapline/internal/result"
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

// levers draws the gap against each lever and lists the changes that would close
// it.
func (b *builder) levers(s *document.Section) error {
	if l := page.Findings(b.findings, b.sys, result.Try); len(l.Items) > 0 {
		s.Add(document.Heading("Changes to try, one at a time"), document.List{Items: l.Items})
	}
	if math.IsNaN(b.sizing.Gap.AsGiven()) {
		missing(s, "The gap is not known, so nothing is drawn against it.")
		return nil
	}
	for _, path := range leverKeys {
		if err := b.lever(s, schema.FindKey(path)); err != nil {
			return err
		}
	}
	return nil
}

func (b *builder) lever(s *document.Section, k *schema.Key) error {
	at := k.Number(b.design)
	if !numeric.Given(at) {
		missing(s, "The gap against "+k.Path+" is not drawn: the file does not give it.")
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
	page.Add(s, describe.LeverChart(axis, curves, b.design, &b.sizing), b.sys)
	return nil
}

// lever writes a value of a lever, kept within the key's range.
func lever(k *schema.Key, x float64) string {
	return quantity.Canonical(math.Min(x, k.Max), k.Kind)
}
