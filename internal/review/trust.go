package review

import (
	"gapline/internal/describe"
	"gapline/internal/render/page"

	"gapline/internal/document"
	"gapline/internal/numeric"
	"gapline/internal/study/space"
)

// wave sets stored figures of the wave level beside rule and aperture.
func (b *builder) wave(s *document.Section) error {
	r, stored := describe.TrustLevels(&b.sizing, b.sized.data)
	page.Add(s, r, b.sys)
	w := &b.sizing.Wave
	if !stored {
		missing(s, "No stored run of the wave level matches this design: gapline wave FILE solves the horn in its cabinet, gapline wave FILE --of fold the folded path.")
		return nil
	}
	if !numeric.Given(w.Pattern) {
		missing(s, "No stored run of the horn in its cabinet matches this design: gapline wave FILE.")
	}
	if !numeric.Given(w.FrontTo) {
		missing(s, "No stored run of the box's outside in space matches this design: gapline wave FILE --of front.")
	}
	if !numeric.Given(w.FlatTo) && !numeric.Given(w.FlatBeyond) {
		missing(s, "No stored run of the folded path matches this design: gapline wave FILE --of fold.")
	}
	return nil
}

// tolerance says how far a built box may be off and what that does.
func (b *builder) tolerance(s *document.Section) error {
	if t := b.File.Tolerances; t == nil || len(t.List) == 0 {
		missing(s, "The file has no [tolerance] table: it names the keys that may be off, and by how much.")
		return nil
	}
	t, err := space.NewTolerance(&b.File.Project)
	if err != nil {
		return lacking(s, "The spread within the tolerances", err)
	}
	r, err := t.Run(b.ctx, func(int) {})
	if err != nil {
		return lacking(s, "The spread within the tolerances", err)
	}
	page.Add(s, describe.Tolerance(t, r, nil), b.sys)
	return nil
}

// measured lays measured responses over the prediction.
func (b *builder) measured(s *document.Section) error {
	v := b.o.Traces
	if v == nil {
		missing(s, "No measured response was given (--trace FILE): all numbers here are predictions.")
		return nil
	}
	page.Add(s, describe.Trace(v), b.sys)
	return nil
}
