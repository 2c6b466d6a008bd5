package picture

import (
	"gapline/internal/result"
	"gapline/plots"
)

func (s setter) series(x *result.Series) plots.Figure {
	c := s.caption(&x.Caption)
	across := s.axis(&x.X)
	switch x.Form {
	case result.Polar:
		return s.polar(x, c)
	case result.Beamwidth:
		p := &x.Panels[0]
		return plots.Beamwidth{Caption: c, X: across.Axis, Curves: s.curves(p.Curves, &across, &degrees),
			Nominal: degrees.of(x.Nominal), Marks: s.marks(p.Marks, &across, &degrees)}
	case result.Lever:
		p := s.panel(&x.Panels[0], &across)
		octaves := axis{of: func(oct float64) float64 { return oct }}
		return plots.Lever{Caption: c, Lever: across.Axis, Curves: p.Curves, Present: s.mark(x.Present, &across, &octaves)}
	}
	panels := make([]plots.Panel, len(x.Panels))
	for i := range x.Panels {
		panels[i] = s.panel(&x.Panels[i], &across)
	}
	return plots.Chart{Caption: c, X: across.Axis, Panels: panels}
}

var proportions = map[result.Proportion]plots.Proportion{
	result.Free: plots.FreeProportion, result.LevelProportion: plots.LevelProportion, result.LogProportion: plots.LogProportion,
}

func (s setter) panel(p *result.Panel, across *axis) plots.Panel {
	y := s.axis(&p.Y)
	out := plots.Panel{Y: y.Axis, Curves: s.curves(p.Curves, across, &y), Marks: s.marks(p.Marks, across, &y),
		Proportion: proportions[p.Proportion], Height: p.Height}
	for _, g := range p.Guides {
		of := y.of
		if g.Vertical {
			of = across.of
		}
		out.Guides = append(out.Guides, plots.Guide{Value: of(g.Value), Vertical: g.Vertical, Text: s.text(g.Text), Strong: g.Strong})
	}
	for _, z := range p.Zones {
		out.Zones = append(out.Zones, plots.Zone{Low: y.of(z.Low), High: y.of(z.High), Text: s.text(z.Text), Open: z.Open})
	}
	return out
}

var dashes = map[result.Dash]plots.Dash{
	result.AutoDash: plots.AutoDash, result.Solid: plots.Solid, result.Dashed: plots.Dashed, result.Dotted: plots.Dotted,
	result.DashDot: plots.DashDot, result.LongDash: plots.LongDash, result.ShortDash: plots.ShortDash,
}

func (s setter) curves(list []result.Curve, x, y *axis) []plots.Curve {
	var out []plots.Curve
	for _, c := range list {
		out = append(out, plots.Curve{Label: s.text(c.Label), X: x.all(c.X), Y: y.all(c.Y), Low: y.all(c.Low), High: y.all(c.High),
			Dash: dashes[c.Dash], Colour: c.Colour, Thin: c.Thin, Dots: c.Dots, Hollow: c.Hollow})
	}
	return out
}

func (s setter) polar(x *result.Series, c plots.Caption) plots.Polar {
	out := plots.Polar{Caption: c, Left: x.Left}
	for _, curve := range x.Panels[0].Curves {
		out.Curves = append(out.Curves, plots.PolarCurve{Label: s.text(curve.Label), AngleDeg: degrees.all(curve.X), LevelDB: curve.Y,
			Dash: dashes[curve.Dash], Colour: curve.Colour})
	}
	return out
}
