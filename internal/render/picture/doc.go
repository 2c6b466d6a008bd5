// Package picture renders the drawable parts of results as charts of package plots,
// which says how a picture looks: here numbers get the unit that an axis writes and
// texts are set. It chooses nothing of what is shown.
package picture

import (
	"errors"

	"gapline/internal/quantity"
	"gapline/internal/render/terminal"
	"gapline/internal/result"
	"gapline/plots"
)

// ErrNothing says that a result holds no picture of the view asked for.
var ErrNothing = errors.New("there is nothing to draw of this view")

// Of returns the first picture of r that is of one of the views.
func Of(r *result.Result, sys quantity.System, views ...string) (plots.Figure, error) {
	for _, p := range flat(r.Chosen(result.Choice{Place: result.Drawn, Views: views})) {
		if fig := Figure(p, sys); fig != nil {
			return fig, nil
		}
	}
	return nil, ErrNothing
}

// flat takes the parts out of their sections.
func flat(parts []result.Part) []result.Part {
	var out []result.Part
	for _, p := range parts {
		if s, ok := p.(result.Section); ok {
			out = append(out, flat(s.Parts)...)
			continue
		}
		out = append(out, p)
	}
	return out
}

// Figure returns a part as a picture; nil for a part that cannot be drawn.
func Figure(p result.Part, sys quantity.System) plots.Figure {
	s := setter{sys}
	switch x := p.(type) {
	case result.Series:
		return s.series(&x)
	case result.Grid:
		if x.Look == nil {
			return nil
		}
		return s.grid(&x)
	case result.Shape:
		return s.shape(&x)
	case result.Strip:
		return s.strip(&x)
	case result.Ranking:
		return s.ranking(&x)
	case result.Scatter:
		return s.scatter(&x)
	case result.Oblique:
		return s.oblique(&x)
	}
	return nil
}

type setter struct{ sys quantity.System }

func (s setter) text(t result.Text) string {
	if t.Empty() {
		return ""
	}
	return terminal.Text(t, s.sys)
}

func (s setter) caption(c *result.Caption) plots.Caption {
	return plots.Caption{Title: c.Title + s.text(c.TitleAt), Subtitle: s.text(c.Subtitle), Design: c.Design, Air: s.text(c.Air),
		Trust: c.Trust, Origin: c.Origin, Alt: s.text(c.Alt)}
}
