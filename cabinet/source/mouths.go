package source

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"gapline/cabinet/design"
	"gapline/cabinet/field"
	"gapline/cabinet/layout"
	"gapline/internal/numeric"
)

// bands finds the bands that the design has, and their mouths where the layout has them.
func (b *builder) bands() {
	for _, band := range []struct {
		of    layout.Band
		name  string
		place *design.Place
	}{
		{layout.Woofers, Woofers, &b.design.Bands.Woofer}, {layout.Mids, Mids, &b.design.Bands.Mid}, {layout.Horn, Horn, &b.design.Bands.Horn},
	} {
		parts, what := b.radiating(band.of)
		if len(parts) == 0 {
			continue
		}
		out := Band{Name: band.name, What: what}
		for _, i := range parts {
			out.Mouths = append(out.Mouths, b.mouth(&b.layout.Parts[i]))
		}
		b.model.Bands = append(b.model.Bands, out)
		b.places = append(b.places, band.place)
	}
	if len(b.model.Bands) == 0 {
		b.problem("nothing radiates: give woofer.size, an [insert], or horn.mouth_height", "woofer.size", "horn.mouth_height")
	}
	for _, d := range b.layout.Defaults {
		switch d.Of {
		case layout.MouthOfBox:
			b.assume(Assumption{What: MouthOfBox, Value: d.Value})
		case layout.FrontWidth:
			b.assume(Assumption{What: SideBySide, Value: d.Value})
		}
	}
}

// keep drops the bands that were not asked for.
func (b *builder) keep() {
	if b.choice.Only == nil {
		return
	}
	b.model.Bands = slices.DeleteFunc(b.model.Bands, func(x Band) bool { return !slices.Contains(b.choice.Only, x.Name) })
	if len(b.model.Bands) == 0 {
		b.problem("the design has none of the bands asked for: " + strings.Join(b.choice.Only, ", "))
	}
}

// radiating lists the parts through which a band radiates: the horn's exit, the insert's
// mouths in place of the woofers, the free openings beside the horn in place of the cones
// behind them, or the cones.
func (b *builder) radiating(band layout.Band) (parts []int, what string) {
	l := b.layout
	if band == layout.Horn {
		return l.Of(layout.HornExit, band), "1 mouth"
	}
	if parts = l.Of(layout.InsertMouth, band); len(parts) > 0 {
		return parts, plural(len(parts), "insert mouth", "insert mouths")
	}
	cones := l.Of(layout.Cone, band)
	if openings := l.Of(layout.Opening, band); len(openings) > 0 {
		for _, i := range openings {
			left := l.Parts[i].At.Y > 0
			cones = slices.DeleteFunc(cones, func(c int) bool { return l.Parts[c].At.Y > 0 == left })
		}
		return append(openings, cones...), plural(len(openings), "opening beside the horn", "openings beside the horn")
	}
	if band == layout.Mids {
		return cones, plural(len(cones), "mid", "mids")
	}
	return cones, plural(len(cones), "cone", "cones")
}

// mouth is a part as it radiates. The horn's exit has its front: in the vertical plane as
// the path bends it, in the horizontal plane the arc of its coverage.
func (b *builder) mouth(p *layout.Part) field.Mouth {
	var m field.Mouth
	switch p.Kind {
	case layout.Cone:
		m = circleOrPoint(p.Radiates)
		m.Pan = p.Turn
	case layout.HornExit:
		m = b.exit(p)
	default:
		m = rectangleOrPoint(p.Width, p.Height)
	}
	m.Position = p.At
	return m
}

func (b *builder) exit(p *layout.Part) field.Mouth {
	m := rectangleOrPoint(p.Width, p.Height)
	width := numeric.Or(p.Width, 0)
	m.VerticalApex = numeric.Or(b.design.PathLength(), 0)
	if angle := b.design.Horn.ExitCoverage(); numeric.Given(angle) && width > 0 {
		m.HorizontalApex = width / (2 * math.Tan(angle/2))
	}
	return m
}

func circleOrPoint(diameter float64) field.Mouth {
	if numeric.Given(diameter) {
		return field.Mouth{Kind: field.Circle, Diameter: diameter}
	}
	return field.Mouth{Kind: field.Point}
}

// rectangleOrPoint is a rectangle where its height is known; without a width it
// is a thin strip.
func rectangleOrPoint(width, height float64) field.Mouth {
	if numeric.Given(height) {
		return field.Mouth{Kind: field.Rectangle, Width: numeric.Or(width, 0), Height: height}
	}
	return field.Mouth{Kind: field.Point}
}

func plural(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}
