package review

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"

	"gapline/internal/advice"
	"gapline/internal/check"
	"gapline/internal/describe"
	"gapline/internal/designfile"
	"gapline/internal/document"
	"gapline/internal/render/page"
	"gapline/internal/render/terminal"
	"gapline/internal/result"
	"gapline/internal/study/line"
	"gapline/plots"
)

// text sets a text in the document's units.
func (b *builder) text(t result.Text) string { return terminal.Text(t, b.sys) }

// missing says what is not there.
func missing(s *document.Section, text string) {
	s.Add(document.Text{Tone: document.Missing, Text: text})
}

// misses remembers what the document does not hold, and why.
func (b *builder) misses(text string) {
	if !slices.Contains(b.absences, text) {
		b.absences = append(b.absences, text)
	}
}

// lacking says what keeps a study from being made. That the work was stopped is
// returned.
func (b *builder) lacking(what string, err error) error {
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
	b.misses(what + " is not worked out: " + strings.Join(texts, "; ") + ".")
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
	b.add(s, &result.Result{Parts: []result.Part{p}})
}

// add adds a result; its tables say how far they can be trusted and what they rest on.
func (b *builder) add(s *document.Section, r *result.Result) {
	page.Add(s, r, b.sys, page.Options{Cite: func(text string) string { return fmt.Sprint(b.sourceNumber(text)) },
		Design: title(b.design), Air: b.text(describe.Air(b.design, &b.sizing)), Shorter: shorter})
}

// shorter leaves of the caution on rigging what a picture needs by itself: the whole stands
// under Cautions.
func shorter(conditions string) string {
	return strings.Replace(conditions, advice.SuspensionCaution, "Rigging is not computed.", 1)
}

// pick says what of a study stands among the evidence: a picture, the first of those
// named that there is, and tables by words of their captions. The rest goes
// to the appendix.
type pick struct {
	pictures, tables []string
	large            bool // the picture takes the width
}

// besideColumns is how many columns a table may have to stand beside a picture.
const besideColumns = 4

// evidence adds a study to its section: the sentence that says what it shows, one picture
// and a few figures.
func (b *builder) evidence(s *document.Section, opening result.Text, r *result.Result, keep pick) {
	var all document.Section
	b.add(&all, r)
	s.Add(document.Text{Tone: document.Lead, Text: b.text(opening)})
	chosen := -1
	for _, id := range keep.pictures {
		if chosen < 0 {
			chosen = slices.IndexFunc(all.Blocks, func(x document.Block) bool { p, ok := x.(document.Picture); return ok && p.ID == "picture-"+id })
		}
	}
	var beside []document.Block
	rest := b.detail(s.ID)
	for i, x := range all.Blocks {
		t, isTable := x.(document.Table)
		switch {
		case i == chosen:
		case isTable && slices.ContainsFunc(keep.tables, func(c string) bool { return strings.Contains(t.Caption, c) }):
			beside = append(beside, x)
		default:
			rest.Add(x)
		}
	}
	if chosen < 0 {
		s.Add(beside...)
		return
	}
	narrow := slices.DeleteFunc(slices.Clone(beside), func(x document.Block) bool { return len(x.(document.Table).Head) > besideColumns })
	switch {
	case keep.large:
		s.Add(append([]document.Block{all.Blocks[chosen]}, narrow...)...)
	case len(narrow) > 0:
		s.Add(document.Beside{Blocks: narrow, Picture: all.Blocks[chosen].(document.Picture)})
	default:
		s.Add(b.two(rest, all.Blocks[chosen].(document.Picture), keep.pictures))
	}
	for _, x := range beside {
		if t := x.(document.Table); len(t.Head) > besideColumns {
			s.Add(t)
		}
	}
}

// two puts a picture into a row with the next of those named that there is.
func (b *builder) two(rest *document.Section, first document.Picture, ids []string) document.Gallery {
	for _, id := range ids {
		at := slices.IndexFunc(rest.Blocks, func(x document.Block) bool { p, ok := x.(document.Picture); return ok && p.ID == "picture-"+id })
		if at < 0 || rest.Blocks[at].(document.Picture).ID == first.ID {
			continue
		}
		second := rest.Blocks[at].(document.Picture)
		rest.Blocks = slices.Delete(rest.Blocks, at, at+1)
		return document.Gallery{first, second}
	}
	return document.Gallery{first}
}

// detail is the section of the appendix that takes the rest of a section of evidence.
func (b *builder) detail(id string) *document.Section {
	if b.details[id] == nil {
		b.details[id] = &document.Section{}
	}
	return b.details[id]
}

// detailsOf fills a section of the appendix with the rest of one of evidence.
func detailsOf(id string) func(*builder, *document.Section) error {
	return func(b *builder, s *document.Section) error {
		s.Add(inGalleries(b.detail(id).Blocks)...)
		return nil
	}
}

// flat is the height of a picture, in points, under which it takes the width: narrow, as in
// a row, nothing could be read off it.
const flat = 225

// inGalleries puts pictures that follow each other into rows, the highest first.
func inGalleries(blocks []document.Block) []document.Block {
	var out []document.Block
	for _, x := range blocks {
		p, ok := x.(document.Picture)
		if !ok || plots.Height(p.Figure) < flat {
			out = append(out, x)
			continue
		}
		if n := len(out); n > 0 {
			if g, ok := out[n-1].(document.Gallery); ok {
				out[n-1] = append(g, p)
				continue
			}
		}
		out = append(out, document.Gallery{p})
	}
	for _, x := range out {
		if g, ok := x.(document.Gallery); ok {
			byHeight(g)
		}
	}
	return out
}

// byHeight puts pictures of like height side by side.
func byHeight(g document.Gallery) {
	height := map[string]float64{}
	for _, p := range g {
		height[p.ID] = plots.Height(plots.Narrow(p.Figure))
	}
	slices.SortStableFunc(g, func(a, b document.Picture) int { return cmp.Compare(height[b.ID], height[a.ID]) })
}
