package review

import (
	"strings"

	"gapline/internal/describe"
	"gapline/internal/document"
	"gapline/internal/render/page"
)

// changes says what differs from the earlier revision: the verdict, the design's
// keys, and every figure.
func (b *builder) changes(s *document.Section) error {
	if b.since == nil {
		missing(s, "No earlier revision was given (--since OLD.toml).")
		return nil
	}
	old := b.since
	s.Add(document.Text{Tone: document.Plain, Text: "Against " + old.Name + ", revision " + orMissing(old.design.Review.Revision, "review.revision") + "."})
	for _, f := range old.findings {
		if f.Severity.Judges() {
			s.Add(document.Text{Tone: document.Remark, Text: "Then " + strings.ToLower(f.Severity.Label()) + ": " + b.text(f.Text)})
		}
	}
	then, now := old.shown("then"), b.sized.shown("now")
	page.Add(s, describe.Changes(then, now, [2]string{old.data, b.sized.data}), b.sys)
	strip := describe.Strip([]describe.Sized{then, now})
	strip.ID, strip.Page = "since", "Frequency strips, then and now"
	b.addPart(s, strip)
	return nil
}
