package source

import (
	"fmt"
	"math"

	"gapline/cabinet/field"
	"gapline/internal/numeric"
)

// place puts the bands on the front: where the file says, else beside each other
// from left to right as seen from behind, with even gaps. Two columns of one band
// that leave room for the others stand at both sides of them.
func (b *builder) place(parts []part) {
	sum, open := 0.0, 0
	for i := range parts {
		p := &parts[i]
		p.fixed = p.place.Offset.Given()
		sum += p.width
		if !p.fixed {
			open++
		}
	}
	if !numeric.Given(b.outside.Width) {
		b.outside.Width = sum
		for i := range parts {
			if p := &parts[i]; p.fixed {
				b.outside.Width = math.Max(b.outside.Width, 2*math.Abs(p.place.Offset.Value())+p.width)
			}
		}
		b.outside.Width = math.Max(b.outside.Width, minimumWidth)
		b.assume(Assumption{What: SideBySide, Value: b.outside.Width})
	}
	offsets := b.offsets(parts, sum)
	for i := range parts {
		b.fill(&parts[i], offsets[i])
	}
}

// minimumWidth keeps a front of points from having no width, m.
const minimumWidth = 0.1

// offsets returns the middle of each band on the front.
func (b *builder) offsets(parts []part, sum float64) []float64 {
	out := make([]float64, len(parts))
	if centred(parts) {
		return b.given(parts, out)
	}
	gap := (b.outside.Width - sum) / float64(len(parts)+1)
	left := b.outside.Width / 2
	if gap < 0 && len(parts) > 1 {
		gap = (b.outside.Width - sum) / float64(len(parts)-1)
		left += gap
		b.assume(Assumption{What: Overlap, Value: b.outside.Width, By: -gap})
	}
	left -= gap
	for i := range parts {
		out[i] = left - parts[i].width/2
		left -= parts[i].width + gap
	}
	return b.given(parts, out)
}

// given puts the offsets of the file in place of the worked-out ones.
func (b *builder) given(parts []part, out []float64) []float64 {
	for i := range parts {
		if parts[i].fixed {
			out[i] = parts[i].place.Offset.Value()
		}
	}
	return out
}

// centred reports whether two columns of one band leave room between them for
// all others.
func centred(parts []part) bool {
	if len(parts) == 1 {
		return true
	}
	for i := range parts {
		room := 0.0
		for j := range parts {
			if j != i {
				room += parts[j].width
			}
		}
		if parts[i].straddle >= room && parts[i].straddle > 0 {
			return len(parts) == 2
		}
	}
	return false
}

// fill makes the mouths of a band about its middle.
func (b *builder) fill(p *part, middle float64) {
	for i := range p.count {
		m := p.mouth
		m.Position.Y = middle
		step := float64(i) - float64(p.count-1)/2
		switch {
		case p.count == 1:
		case numeric.Given(p.rise):
			m.Position.Z = step * p.rise
		default:
			m.Position.Y -= step * p.lateral
		}
		p.band.Mouths = append(p.band.Mouths, m)
	}
	b.fits(p)
}

// fits says in keys of the file when a band leaves the front.
func (b *builder) fits(p *part) {
	const slack = 1e-6
	for i := range p.band.Mouths {
		m := &p.band.Mouths[i]
		w, h := halfSize(m)
		switch {
		case math.Abs(m.Position.Y)+w > b.outside.Width/2+slack:
			b.problem(fmt.Sprintf("%s.offset: the %s reach %s from the middle of a front that is %s wide (cabinet.width): a smaller offset or lateral spacing is needed",
				p.key, p.band.Name, length(math.Abs(m.Position.Y)+w), length(b.outside.Width)), p.key+".offset", p.key+".lateral_spacing", "cabinet.width")
			return
		case math.Abs(m.Position.Z)+h > b.outside.Height/2+slack:
			b.problem(fmt.Sprintf("the %s reach %s from the middle of a front that is %s high: they leave the cabinet", p.band.Name,
				length(math.Abs(m.Position.Z)+h), length(b.outside.Height)), p.key+".spacing", "cabinet.height", "cabinet.pitch")
			return
		}
		// Rounding must not put a mouth that just fits outside.
		m.Position.Y = clamp(m.Position.Y, b.outside.Width/2-w)
		m.Position.Z = clamp(m.Position.Z, b.outside.Height/2-h)
	}
}

func clamp(x, most float64) float64 { return math.Max(-most, math.Min(most, x)) }

func halfSize(m *field.Mouth) (w, h float64) {
	if m.Kind == field.Circle {
		return m.Diameter / 2, m.Diameter / 2
	}
	return m.Width / 2, m.Height / 2
}
