package review

import (
	"strings"

	"gapline/internal/check"
	"gapline/internal/describe"
	"gapline/internal/document"
	"gapline/internal/render/page"
)

// drawing is what the review is about, to scale: the box and the stack.
func (b *builder) drawing(s *document.Section) error {
	if faults := check.DrawProblems(b.design); len(faults) > 0 {
		missing(s, "The box is not drawn: "+strings.Join(problemTexts(faults), "; ")+".")
		return nil
	}
	page.Add(s, describe.Draw(b.design, &b.sizing, b.fit, false), b.sys)
	return nil
}
