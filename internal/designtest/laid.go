package designtest

import (
	"math"
	"math/rand/v2"

	"gapline/cabinet/design"
	"gapline/cabinet/field"
	"gapline/internal/optional"
)

// Laid draws an invented box that states every place and size which decides whether it
// can be built, among them boxes of each usual arrangement. About half of them fit: each
// is drawn with room to spare, and most then have a few of their values disturbed.
func Laid(r *rand.Rand) design.Design {
	b := laid{Rand: r, d: design.New()}
	d := &b.d
	wall := b.in(0.012, 0.022)
	d.Cabinet.Height, d.Cabinet.Wall, d.Cabinet.Gap = optional.Of(b.in(0.24, 0.42)), optional.Of(wall), optional.Of(b.in(0.002, 0.01))
	d.Cabinet.Depth = optional.Of(b.in(0.36, 0.6))
	d.Line.Boxes = 2 + b.IntN(4)
	b.horn()
	b.arrange()
	b.outlets()
	d.Enclosure.Volume = optional.Of(b.in(0.3, 0.75) * (d.Cabinet.Depth.Value() - 2*wall) * (d.Cabinet.Width.Value() - 2*wall) * (b.height() - 2*wall))
	b.hang()
	if b.chance(0.6) {
		for range 1 + b.IntN(2) {
			b.disturb()
		}
	}
	return b.d
}

// laid is a box in the making.
type laid struct {
	*rand.Rand
	d design.Design
}

func (b *laid) in(low, high float64) float64 { return low + (high-low)*b.Float64() }

func (b *laid) chance(p float64) bool { return b.Float64() < p }

func (b *laid) height() float64 { return b.d.Cabinet.Height.Value() }

// hang gives the cabinet a taper and the stack its splay.
func (b *laid) hang() {
	d := &b.d
	d.Cabinet.RearHeight = d.Cabinet.Height
	if b.chance(0.5) {
		d.Cabinet.RearHeight = optional.Of(b.height() * b.in(0.8, 1))
	}
	d.Hanging.Hinge = field.FrontHinge
	if b.chance(0.2) {
		d.Hanging.Hinge = field.RearHinge
	}
	most := 2 * math.Atan((d.Cabinet.Gap.Value()+b.height()-d.Cabinet.RearHeight.Value())/2/d.Cabinet.Depth.Value())
	if d.Hanging.Hinge == field.RearHinge { // the fronts open, the rears cannot close
		most = 0.1
	}
	for range d.Line.Boxes - 1 {
		d.Line.Splay = append(d.Line.Splay, most*b.in(0, 0.98))
	}
}

// disturb changes one of the values that the box gives, so that it may not fit any more.
func (b *laid) disturb() {
	d := &b.d
	k, w, h, e := &d.Cabinet, &d.Woofer, &d.Horn, &d.Enclosure
	changes := []struct {
		of        *optional.Float
		low, high float64 // by which it is multiplied
	}{
		{&k.Width, 0.75, 1}, {&k.Depth, 0.5, 0.95}, {&k.RearHeight, 0.7, 1},
		{&w.Size, 1, 1.25}, {&w.Spacing, 0.7, 1.2}, {&d.Bands.Woofer.Depth, 1, 2.5}, {&d.Bands.Woofer.Lateral, 0.7, 1.1}, {&d.Bands.Woofer.Setback, 0.3, 1.5},
		{&h.Length, 0.7, 1.8}, {&h.Length, 0.3, 1}, {&h.MouthHeight, 1, 1.3}, {&d.HornDrive.Depth, 1, 3}, {&d.HornDrive.Diameter, 1, 2.5},
		{&e.Volume, 1, 2.5}, {&e.Vent.Length, 1, 8}, {&d.Bands.Mid.Lateral, 0.8, 1.1}, {&d.Fold.RearAllowance, 1, 30},
	}
	shifts := []struct {
		of *optional.Float
		by float64 // at most, m
	}{
		{&d.Bands.Woofer.Offset, 0.06}, {&d.Bands.Horn.Offset, 0.06}, {&d.Bands.Mid.Offset, 0.05}, {&d.Bands.Woofer.Rise, 0.05}, {&d.Bands.Mid.Rise, 0.1},
		{&e.VentPlace.Offset, 0.08}, {&e.VentPlace.Rise, 0.05}, {&e.RadiatorPlace.Offset, 0.1},
	}
	for {
		switch i := b.IntN(len(changes) + len(shifts) + 4); {
		case i < len(changes):
			c := changes[i]
			if c.of == &h.MouthHeight && d.HasFold() { // its wall may not reach so high
				continue
			}
			if c.of.Given() && c.of.Value() > 0 {
				*c.of = optional.Of(c.of.Value() * b.in(c.low, c.high))
				return
			}
		case i < len(changes)+len(shifts):
			if c := shifts[i-len(changes)]; c.of.Given() {
				*c.of = optional.Of(c.of.Value() + b.in(-c.by, c.by))
				return
			}
		case i == len(changes)+len(shifts):
			k.Pitch, k.Gap = optional.Of(b.height()+b.in(-0.004, 0.008)), optional.Float{}
			return
		default:
			for i := range d.Line.Splay {
				d.Line.Splay[i] *= b.in(0.8, 1.6)
			}
			return
		}
	}
}
