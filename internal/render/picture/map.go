package picture

import (
	"gapline/internal/result"
	"gapline/plots"
)

func (s setter) grid(g *result.Grid) plots.Figure {
	m := g.Look
	x, y, value := s.axis(&m.X), s.axis(&m.Y), s.axis(&m.Value)
	z := make([][]float64, len(g.Y.SI))
	for j := range z {
		z[j] = make([]float64, len(g.X.SI))
		for i := range z[j] {
			z[j][i] = value.of(g.Z[j][i])
		}
	}
	c := s.caption(&m.Caption)
	switch m.Form {
	case result.AngleMap:
		return plots.AngleMap{Caption: c, FrequencyHz: g.X.SI, AngleDeg: degrees.all(g.Y.SI), Level: z, Range: m.Range,
			Marks: s.marks(m.Marks, &x, &degrees), Overlays: overlays(m.Overlays, &x, &degrees)}
	case result.GapMap:
		return plots.GapMap{Caption: c, X: x.Axis, Y: y.Axis, XValues: x.all(g.X.SI), YValues: y.all(g.Y.SI), Octaves: z, Hollow: m.Hollow,
			Present: s.mark(m.Present, &x, &y)}
	case result.FieldMap:
		return plots.FieldMap{Caption: c, X: x.Axis, Y: y.Axis, XValues: x.all(g.X.SI), YValues: y.all(g.Y.SI), Level: z, Value: value.Axis,
			Levels: m.Levels, Overlays: overlays(m.Overlays, &x, &y), Marks: s.marks(m.Marks, &x, &y)}
	}
	out := plots.Map{Caption: c, X: x.Axis, Y: y.Axis, XValues: x.all(g.X.SI), YValues: y.all(g.Y.SI), Z: z, Value: value.Axis,
		Levels: m.Levels, BoldOnly: m.BoldOnly, EqualAxes: m.Equal, Marks: s.marks(m.Marks, &x, &y), Overlays: overlays(m.Overlays, &x, &y), Height: m.Height}
	for _, b := range m.Bold {
		out.Bold = append(out.Bold, plots.BoldLevel{Value: b.X, Text: s.text(b.Text)})
	}
	if m.Swings {
		out.Scheme = plots.PressureScheme
	}
	return out
}

func overlays(list []result.Overlay, x, y *axis) []plots.Overlay {
	var out []plots.Overlay
	for _, o := range list {
		out = append(out, plots.Overlay{Label: o.Label, X: x.all(o.X), Y: y.all(o.Y), Thin: o.Thin, Solid: o.Solid, Blank: o.Blank})
	}
	return out
}
