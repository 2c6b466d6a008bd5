package source

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"gapline/cabinet/design"
	"gapline/cabinet/field"
	"gapline/internal/numeric"
	"gapline/internal/quantity"
)

// bands finds the bands that the design has and where their mouths sit.
func (b *builder) bands() {
	d := b.design
	parts := []part{b.woofers()}
	if d.HasMid() {
		parts = append(parts, b.mids())
	}
	parts = append(parts, b.horn())
	parts = slices.DeleteFunc(parts, func(p part) bool { return p.count == 0 })
	if len(parts) == 0 {
		b.problem("nothing radiates: give woofer.size, an [insert], or horn.mouth_height", "woofer.size", "horn.mouth_height")
		return
	}
	b.place(parts)
	for _, p := range parts {
		b.model.Bands = append(b.model.Bands, p.band)
		b.places = append(b.places, p.place)
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

// part is a band before its mouths are placed.
type part struct {
	band     Band
	place    *design.Place
	key      string      // table of the file
	count    int         // mouths in one box
	mouth    field.Mouth // one of them
	rise     float64     // between neighbours one above the other, m; NaN: side by side
	lateral  float64     // between neighbours side by side, m
	width    float64     // room that the band takes on the front, m
	fixed    bool        // the file says where it sits
	straddle float64     // free width between two columns, m; 0: none
}

// woofers are the cones, or the insert's mouths in their place. The room that
// the band takes is the cones' either way, so that an insert does not move the
// horn.
func (b *builder) woofers() part {
	d := b.design
	w, place := &d.Woofer, &d.Bands.Woofer
	diameter := w.Diameter()
	p := part{place: place, key: "woofer", band: Band{Name: Woofers}, count: w.PerBox}
	if p.count == 0 && (numeric.Given(diameter) || d.HasInsert()) {
		p.count = 1
	}
	if p.count == 0 {
		return p
	}
	p.mouth = circleOrPoint(diameter)
	p.rise, p.lateral = w.Spacing.Value(), place.Lateral.Value()
	p.band.What = plural(p.count, "cone", "cones")
	p.room(p.count, diameter, w.Size.Value())
	if d.HasInsert() && !b.choice.WithoutInsert {
		b.insert(&p)
	}
	return p
}

// insert puts the insert's mouths in place of the cones.
func (b *builder) insert(p *part) {
	i := &b.design.Insert
	p.count, p.rise, p.lateral, p.straddle = i.Mouths, b.design.InsertSpacing(), numeric.Absent, 0
	p.mouth = rectangleOrPoint(i.MouthWidth.Value(), i.MouthHeight.Value())
	p.width = math.Max(p.width, i.MouthWidth.Or(0))
	p.band.What = plural(i.Mouths, "insert mouth", "insert mouths")
}

func (b *builder) mids() part {
	d := b.design
	place := &d.Bands.Mid
	p := part{place: place, key: "mid", band: Band{Name: Mids}, count: max(d.Mid.PerBox, 1)}
	p.mouth = circleOrPoint(d.Mid.Diameter())
	p.rise, p.lateral = d.Mid.Spacing.Value(), place.Lateral.Value()
	p.band.What = plural(p.count, "mid", "mids")
	p.room(p.count, d.Mid.Diameter(), d.Mid.Size.Value())
	return p
}

// horn is the exit with its front: in the vertical plane as the path bends it, in
// the horizontal plane the arc of its coverage.
func (b *builder) horn() part {
	d := b.design
	h := &d.Horn
	p := part{place: &d.Bands.Horn, key: "horn", band: Band{Name: Horn}, rise: numeric.Absent}
	given := h.MouthWidth.Given() || h.MouthHeight.Given() || h.Coverage.Given()
	if !given {
		return p
	}
	height := h.MouthHeight.Value()
	if !numeric.Given(height) {
		height = b.outside.Height
		b.assume(Assumption{What: MouthOfBox, Value: height})
	}
	p.mouth = rectangleOrPoint(h.ExitWidth(), height)
	p.count, p.width = 1, numeric.Or(h.ExitWidth(), 0)
	p.mouth.VerticalApex = numeric.Or(d.PathLength(), 0)
	if angle := h.ExitCoverage(); numeric.Given(angle) && p.width > 0 {
		p.mouth.HorizontalApex = p.width / (2 * math.Tan(angle/2))
	}
	p.band.What = "1 mouth"
	return p
}

// room works out the width of a band of count drivers.
func (p *part) room(count int, diameter, size float64) {
	one := numeric.Or(size, numeric.Or(diameter, 0))
	p.width = one
	if numeric.Given(p.rise) || count < 2 {
		p.lateral = numeric.Absent
		return
	}
	p.lateral = numeric.Or(p.lateral, one)
	p.width = float64(count-1)*p.lateral + one
	if count == 2 {
		p.straddle = math.Max(p.lateral-one, 0)
	}
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

func length(m float64) string { return quantity.Format(m, quantity.Length, quantity.Metric) }
