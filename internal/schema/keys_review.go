package schema

import "gapline/cabinet/design"

// reviewKeys are the designer's own words in the review document.
var reviewKeys = []Key{
	{Path: "review.question", Doc: "what the design has to answer", Type: Text,
		text: free(func(d *design.Design) *string { return &d.Review.Question })},
	{Path: "review.decision", Doc: "what was chosen", Type: Text,
		text: free(func(d *design.Design) *string { return &d.Review.Decision })},
	{Path: "review.reasons", Doc: "why this one was chosen among the alternatives", Type: Text, Points: true,
		text: free(func(d *design.Design) *string { return &d.Review.Reasons })},
	{Path: "review.open_points", Doc: "what is still to be decided or measured", Type: Text, Points: true,
		text: free(func(d *design.Design) *string { return &d.Review.OpenPoints })},
	{Path: "review.author", Doc: "who answers for the design", Type: Text,
		text: free(func(d *design.Design) *string { return &d.Review.Author })},
	{Path: "review.revision", Doc: "name of this state of the design, such as B or 2026-03", Type: Text,
		text: free(func(d *design.Design) *string { return &d.Review.Revision })},
}
