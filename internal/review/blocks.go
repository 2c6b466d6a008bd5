package review

import (
	"context"
	"errors"
	"strings"

	"gapline/internal/check"
	"gapline/internal/designfile"
	"gapline/internal/document"
	"gapline/internal/render/page"
	"gapline/internal/render/terminal"
	"gapline/internal/result"
	"gapline/internal/study/line"
)

// text sets a text in the document's units.
func (b *builder) text(t result.Text) string { return terminal.Text(t, b.sys) }

// missing says what is not there.
func missing(s *document.Section, text string) {
	s.Add(document.Text{Tone: document.Missing, Text: text})
}

// lacking says what keeps a study from being made. That the work was stopped is
// returned.
func lacking(s *document.Section, what string, err error) error {
	var texts []string
	var faults designfile.Problems
	var problems line.Problems
	var noBox *check.BoxError
	switch {
	case err == nil:
		return nil
	case errors.Is(err, context.Canceled), errors.Is(err, context.DeadlineExceeded):
		return err
	case errors.As(err, &faults):
		for _, p := range faults {
			texts = append(texts, p.Text)
		}
	case errors.As(err, &noBox):
		texts = problemTexts(noBox.Problems)
	case errors.As(err, &problems):
		texts = problemTexts(problems)
	default:
		texts = []string{strings.TrimSuffix(err.Error(), ".")}
	}
	missing(s, what+" is not worked out: "+strings.Join(texts, "; ")+".")
	return nil
}

func problemTexts(problems []check.Problem) []string {
	var out []string
	for _, p := range problems {
		out = append(out, strings.TrimSuffix(p.Text, "."))
	}
	return out
}

// addPart adds a part of a result.
func (b *builder) addPart(s *document.Section, p result.Part) {
	page.Add(s, &result.Result{Parts: []result.Part{p}}, b.sys)
}
