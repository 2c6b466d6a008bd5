package designfile

import (
	"fmt"
	"strings"

	"gapline/cabinet/design"
)

// reviewKeys are the designer's own words in the review document.
var reviewKeys = []Key{
	{Path: "review.question", Doc: "what the design has to answer", Type: Text,
		text: free(func(d *design.Design) *string { return &d.Review.Question })},
	{Path: "review.decision", Doc: "what was chosen", Type: Text,
		text: free(func(d *design.Design) *string { return &d.Review.Decision })},
	{Path: "review.reasons", Doc: "why this one was chosen among the alternatives", Type: Text, points: true,
		text: free(func(d *design.Design) *string { return &d.Review.Reasons })},
	{Path: "review.open_points", Doc: "what is still to be decided or measured", Type: Text, points: true,
		text: free(func(d *design.Design) *string { return &d.Review.OpenPoints })},
	{Path: "review.author", Doc: "who answers for the design", Type: Text,
		text: free(func(d *design.Design) *string { return &d.Review.Author })},
	{Path: "review.revision", Doc: "name of this state of the design, such as B or 2026-03", Type: Text,
		text: free(func(d *design.Design) *string { return &d.Review.Revision })},
}

// textFromTOML reads free text. A key of points takes a list of texts too, one
// for each point, which become its lines.
func (k *Key) textFromTOML(raw any) (string, error) {
	items, isList := raw.([]any)
	if !isList || !k.points {
		s, ok := raw.(string)
		if !ok {
			return "", fmt.Errorf("is %s: %s is needed", describe(raw), k.Accepted())
		}
		return k.word(s)
	}
	lines := make([]string, len(items))
	for i, item := range items {
		s, ok := item.(string)
		if !ok {
			return "", fmt.Errorf("entry %d is %s: a text is needed", i+1, describe(item))
		}
		lines[i] = strings.Join(strings.Fields(s), " ")
	}
	return k.word(strings.Join(lines, "\n"))
}
