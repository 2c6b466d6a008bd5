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
		parts := b.layout.Radiating(band.of)
		if len(parts) == 0 {
			continue
		}
		out := Band{Name: band.name, What: inWords(b.layout.Parts[parts[0]].Kind, band.of, len(parts)), Inside: b.inside(band.of, parts)}
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

// inside is the way from a band's drivers to its mouths, m: through the horn, or from
// cones that stand behind the parts that radiate in their place; 0 where it is not known.
func (b *builder) inside(band layout.Band, parts []int) float64 {
	if band == layout.Horn {
		p := layout.PathOf(b.design)
		return p.Flares + p.Folded + numeric.Or(p.Walls, 0)
	}
	if b.layout.Parts[parts[0]].Kind == layout.Cone {
		return 0
	}
	front, cones, n := 0.0, 0.0, 0
	for _, i := range parts {
		front += b.layout.Parts[i].At.X / float64(len(parts))
	}
	for i := range b.layout.Parts {
		if p := &b.layout.Parts[i]; p.Kind == layout.Cone && p.Band == band {
			cones += p.At.X
			n++
		}
	}
	return front - cones/float64(max(n, 1))
}

// inWords says what the parts of a band are.
func inWords(kind layout.Kind, band layout.Band, n int) string {
	switch {
	case band == layout.Horn:
		return "1 mouth"
	case kind == layout.InsertMouth:
		return plural(n, "insert mouth", "insert mouths")
	case kind == layout.Opening:
		return plural(n, "opening beside the horn", "openings beside the horn")
	case band == layout.Mids:
		return plural(n, "mid", "mids")
	}
	return plural(n, "cone", "cones")
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
