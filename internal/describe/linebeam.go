package describe

import (
	"math"

	"gapline/cabinet/field"
	"gapline/internal/figure"
	"gapline/internal/result"
	"gapline/internal/study/line"
)

func peakOf(b field.Beam) float64  { return b.Level }
func aimOf(b field.Beam) float64   { return b.Aim }
func upperOf(b field.Beam) float64 { return b.Upper }
func lowerOf(b field.Beam) float64 { return b.Lower }
func lobeOf(b field.Beam) float64  { return b.Lobe }
func lobeAt(b field.Beam) float64  { return b.LobeAt }

// around is the stack's beam at the few frequencies.
func (v lineParts) around() result.Table {
	p, h := v.r.Polar, v.r.Horizontal
	where := result.Plain("FAR FIELD, levels at 1 m")
	if !math.IsInf(p.Distance, 1) {
		where = result.Say("AT %s", far(p.Distance))
	}
	var rows result.List
	f := figure.LinePolar
	row(&rows, "level on axis, dB", f.OnAxis, p.OnAxis)
	row(&rows, "beam over the axis, dB", f.Peak, each(p.Beam, peakOf))
	row(&rows, "beam aims", f.Aim, p.Directions(aimOf))
	edges(&rows, "upper edge, −6 dB", f.Upper, p.Directions(upperOf))
	edges(&rows, "lower edge, −6 dB", f.Lower, p.Directions(lowerOf))
	widths(&rows, "vertical beam, −6 dB", f.Beamwidth, p.Beamwidth)
	if p.Seats != nil {
		row(&rows, "farthest seat, dB re beam", figure.LineSeatsSeen.Under, p.Seats.FarthestUnderBeam)
	}
	row(&rows, lobeWords(p)+", dB re beam", f.Lobe, each(p.Beam, lobeOf))
	widths(&rows, "horizontal beam, −6 dB", figure.LineHorizontal.Beamwidth, h.Beamwidth)
	return v.overFew(where, rows)
}

// seatsSeen says where the seats lie beside the beam.
func seatsSeen(p *line.Polar) result.Text {
	up := "Beam: angles count up from the horizontal"
	d := p.Seats
	if d == nil {
		return result.Plain(up + ".")
	}
	return result.Say(up+"; from the middle of the stack the seats lie from %s, %s out, to %s, %s out.",
		angle(d.Lowest-p.Axis), far(d.AtLowest.X), angle(d.Highest-p.Axis), far(d.AtHigh.X))
}

// lobeWords says which lobes count.
func lobeWords(p *line.Polar) string {
	if p.Seats != nil {
		return "lobe beside seats"
	}
	return "highest lobe"
}

// overHalf stands for a width that does not exist, in a narrow column.
const overHalf = ">180°"

// widths is a row of beamwidths, edges one of edges: what does not exist is wider than
// the front half.
func widths(rows *result.List, label string, f *figure.Def, si []float64) {
	rows.Row(result.Plain(label), orWords(f, si, overHalf)...)
}

func edges(rows *result.List, label string, f *figure.Def, si []float64) {
	rows.Row(result.Plain(label), orWords(f, si, "none")...)
}

func orWords(f *figure.Def, si []float64, words string) []result.Cell {
	cells := result.Figs(f, si).List
	for i, x := range si {
		if math.IsInf(x, 0) {
			cells[i] = cells[i].Saying(words)
		}
	}
	return cells
}

// referred words what is 0 dB in pictures over angle.
func (v lineParts) referred(p *line.Polar) result.Text {
	r := v.Conditions.Reference
	switch {
	case r.To == line.ToAxis || r.To == line.ToSeat && p.Plane == field.Horizontal:
		return result.Plain("0 dB on the axis")
	case r.To == line.ToSeat && p.Seats != nil:
		return result.Say("0 dB towards the seat %s out", far(p.Seats.Reference.X))
	}
	return result.Plain("0 dB at the loudest angle of each frequency")
}

// referredTo is the same over a table.
func (v lineParts) referredTo(p *line.Polar) string {
	switch r := v.Conditions.Reference; {
	case r.To == line.ToAxis:
		return "dB re axis"
	case r.To == line.ToSeat && p.Seats != nil:
		return "dB re seat"
	}
	return "dB re beam"
}

// referredLevels are the levels of a polar as pictures show them.
func referredLevels(p *line.Polar) [][]float64 {
	out := make([][]float64, len(p.Level))
	for i := range out {
		out[i] = p.Referred(i)
	}
	return out
}

// seatEdges are the directions of the seats over a map of angles, against the axis.
func seatEdges(p *line.Polar) []result.Overlay {
	d := p.Seats
	if d == nil || len(p.Hz) < 2 {
		return nil
	}
	span := []float64{p.Hz[0], p.Hz[len(p.Hz)-1]}
	var out []result.Overlay
	for _, e := range []struct {
		at    float64
		label string
	}{{d.Highest, "highest seat"}, {d.Lowest, "lowest seat"}} {
		if e.at > p.Angle[0] && e.at < p.Angle[len(p.Angle)-1] {
			out = append(out, result.Overlay{Label: e.label, X: span, Y: []float64{e.at, e.at}, Thin: true})
		}
	}
	return out
}

// seatSpokes are the directions of the seats in a polar.
func seatSpokes(p *line.Polar) []result.Curve {
	d := p.Seats
	if d == nil {
		return nil
	}
	var out []result.Curve
	for _, a := range []float64{d.Highest, d.Lowest} {
		if math.Abs(a) <= math.Pi/2 {
			out = append(out, result.Curve{X: []float64{a, a}, Y: []float64{deepest, 0}, Colour: 6, Dash: result.Dotted})
		}
	}
	if len(out) > 0 {
		out[0].Label = result.Plain("edges of the seats")
	}
	return out
}
