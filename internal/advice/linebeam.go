package advice

import (
	"math"

	"gapline/cabinet/field"
	"gapline/internal/quantity"
	"gapline/internal/result"
	"gapline/internal/study/line"
)

// beam judges the stack by its main beam: whether it reaches the farthest seat, and what
// it sends beside the seats.
func (l *list) beam(p *line.Polar) {
	d := p.Seats
	if d == nil {
		return
	}
	var under []float64
	least, most := math.Inf(1), 0.0
	for i, x := range d.FarthestUnderBeam {
		b := p.Beam[i]
		if d.TowardsFarthest >= b.Lower && d.TowardsFarthest <= b.Upper {
			continue
		}
		under = append(under, p.Hz[i])
		least, most = math.Min(least, -x), math.Max(most, -x)
	}
	if len(under) > 0 {
		by := level(most)
		text := result.Say("%s", by)
		if tenth := math.Round(10 * least); tenth != math.Round(10*most) {
			text = result.Say("%s to %s", tenths(least), by)
		}
		l.add(result.Note, "line.splay", "The farthest seat, %s out, lies outside the −6 dB edges of the beam at %s: %s under it. Tilt and splay decide (gapline line --aim).",
			away(d.Farthest.X), octaveNames(under), text)
	}
	loud := -1
	for i, b := range p.Beam {
		if b.Lobe > -field.BeamDrop && (loud < 0 || b.Lobe > p.Beam[loud].Lobe) {
			loud = i
		}
	}
	if loud >= 0 {
		b := p.Beam[loud]
		where, off := "above", b.LobeAt-d.Highest
		if b.LobeAt < d.Lowest {
			where, off = "below", d.Lowest-b.LobeAt
		}
		l.add(result.Note, "line.splay", "Beside the seats a lobe reaches %s of the beam at %s, %s "+where+" them.",
			level(b.Lobe).As(quantity.Style{Verb: "%+.1f"}), octaveNames(p.Hz[loud:loud+1]), angle(off))
	}
}

// octaveNames lists frequencies in short.
func octaveNames(hz []float64) result.Text {
	out := octaveName(hz[0])
	for _, f := range hz[1:] {
		out = result.Say("%s, %s", out, octaveName(f))
	}
	return out
}
