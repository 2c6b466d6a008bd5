package picture

import (
	"math"

	"gapline/internal/quantity"
	"gapline/internal/result"
	"gapline/plots"
)

// large reports whether a drawing is of a stack rather than of a box: metres suit it.
func large(d *result.Shape) bool {
	for i := range d.Lines {
		for _, v := range d.Lines[i].Y {
			if math.Abs(v) >= 2 {
				return true
			}
		}
	}
	return false
}

var lineKinds = map[result.LineKind]plots.ShapeKind{
	result.Outline: plots.Outline, result.Wall: plots.Wall, result.Hidden: plots.Hidden,
	result.CentreLine: plots.CentreLine, result.Ray: plots.Ray, result.Layer: plots.Layer, result.Clash: plots.Clash,
}

func (s setter) shape(d *result.Shape) plots.Drawing {
	across, up := d.X, d.Y
	if s.sys == quantity.Document && large(d) && across.Unit == "" && up.Unit == "" {
		across.Unit, up.Unit = "m", "m"
	}
	x, y := s.axis(&across), s.axis(&up)
	out := plots.Drawing{Caption: s.caption(&d.Caption), X: x.Axis, Y: y.Axis, Notes: s.marks(d.Notes, &x, &y)}
	for _, l := range d.Lines {
		out.Shapes = append(out.Shapes, plots.Shape{Label: s.text(l.Label), X: x.all(l.X), Y: y.all(l.Y), Kind: lineKinds[l.Kind], Closed: l.Closed})
	}
	for _, m := range d.Dimensions {
		out.Dimensions = append(out.Dimensions, plots.Dimension{X0: x.of(m.X0), Y0: y.of(m.Y0), X1: x.of(m.X1), Y1: y.of(m.Y1),
			Offset: m.Offset, Text: s.text(m.Text)})
	}
	return out
}

var fills = map[result.Fill]plots.BarStyle{
	result.SolidFill: plots.SolidBar, result.HatchedFill: plots.HatchedBar, result.LightFill: plots.LightBar,
}

func (s setter) strip(x *result.Strip) plots.Strip {
	out := plots.Strip{Caption: s.caption(&x.Caption), Low: x.Low, High: x.High}
	for _, g := range x.Groups {
		group := plots.StripGroup{Title: g.Title}
		for _, r := range g.Rows {
			r.FromText, r.ToText = s.end(r.FromText, r.From), s.end(r.ToText, r.To)
			group.Rows = append(group.Rows, plots.StripRow{Label: r.Label, From: r.From, To: r.To, Fill: fills[r.Fill], Colour: r.Colour,
				FromText: r.FromText, ToText: r.ToText, Note: s.text(r.Note), Missing: r.Missing, Within: r.Within, Was: r.Was})
		}
		if w := g.Window; w != nil {
			group.Window = &plots.StripWindow{Low: w.Low, High: w.High, Label: s.text(w.Label), Overlap: w.Overlap}
		}
		out.Groups = append(out.Groups, group)
	}
	return out
}

// end is the text at an end of a bar: in a document in the one form that all its numbers
// have.
func (s setter) end(given string, hz float64) string {
	if s.sys != quantity.Document || given != "" || hz == 0 || math.IsInf(hz, 0) {
		return given
	}
	return quantity.Format(hz, quantity.Frequency, s.sys)
}

func (s setter) ranking(x *result.Ranking) plots.Bars {
	value := s.axis(&x.Value)
	out := plots.Bars{Caption: s.caption(&x.Caption), Value: value.Axis, Base: value.of(x.Base)}
	for _, b := range x.Bars {
		out.Bars = append(out.Bars, plots.Bar{Label: s.text(b.Label), AtLow: value.of(b.AtLow), AtHigh: value.of(b.AtHigh),
			LowText: s.text(b.LowText), HighText: s.text(b.HighText)})
	}
	return out
}

func (s setter) scatter(x *result.Scatter) plots.Scatter {
	across, up := s.axis(&x.X), s.axis(&x.Y)
	out := plots.Scatter{Caption: s.caption(&x.Caption), X: across.Axis, Y: up.Axis}
	for _, p := range x.Points {
		out.Points = append(out.Points, plots.Point{X: across.of(p.X), Y: up.of(p.Y), Label: s.text(p.Label), Front: p.Front, Present: p.Present})
	}
	return out
}

func (s setter) oblique(x *result.Oblique) plots.Oblique {
	value := s.axis(&x.Value)
	return plots.Oblique{Caption: s.caption(&x.Caption), Corners: x.Corners, Triangles: x.Triangles, Value: value.all(x.Values), Edges: x.Edges,
		Scale: value.Axis, Levels: x.Levels}
}
