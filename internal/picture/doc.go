// Package picture turns results into charts of package plots: it chooses what
// is shown and says it in words. It computes no physics and draws nothing.
package picture

import (
	"gapline/cabinet/design"
	"gapline/cabinet/sizing"
	"gapline/internal/quantity"
	"gapline/internal/screen"
	"gapline/plots"
)

// caption fills the words that every picture carries.
func caption(title, subtitle string, d *design.Design, s *sizing.Sizing, trust, alt string, sys quantity.System) plots.Caption {
	name := d.Title
	if name == "" {
		name = "untitled design"
	}
	return plots.Caption{
		Title:    title,
		Subtitle: subtitle,
		Design:   name,
		Air:      screen.AirText(d, s, sys),
		Trust:    trust,
		Alt:      alt,
	}
}
