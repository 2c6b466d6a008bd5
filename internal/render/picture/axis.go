package picture

import (
	"gapline/internal/quantity"
	"gapline/internal/result"
	"gapline/plots"
)

// axis is an axis of a picture with the way from SI to the unit that it writes.
type axis struct {
	plots.Axis
	of func(si float64) float64
}

var scales = map[result.Scale]plots.ScaleKind{
	result.Linear: plots.Linear, result.Logarithmic: plots.Logarithmic, result.FrequencyScale: plots.Frequency,
}

func (s setter) axis(a *result.Axis) axis {
	kind := a.Kind
	if a.Fig != nil {
		kind = a.Fig.Kind
	}
	unit := a.Unit
	switch {
	case a.Suited:
		unit = kind.Unit(s.sys)
	case s.sys == quantity.Inch && a.InchUnit != "":
		unit = a.InchUnit
	case unit == "" && kind == quantity.Length && s.sys == quantity.Inch:
		unit = "in"
	case unit == "" && kind == quantity.Length:
		unit = "mm" // as a workshop measures
	}
	out := axis{of: func(si float64) float64 { return kind.In(unit, si) }}
	out.Axis = plots.Axis{Label: a.Label, Unit: unitName(unit), Kind: scales[a.Scale], Step: out.of(a.Step)}
	if a.Suited {
		out.Unit = inWords(unit)
	}
	if a.Low != 0 || a.High != 0 {
		out.Low, out.High = out.of(a.Low), out.of(a.High)
	}
	return out
}

// unitName writes a unit out where an axis does.
func unitName(unit string) string {
	switch unit {
	case "deg":
		return "degrees"
	case "oct":
		return "octaves"
	}
	return unit
}

// inWords writes a unit out where its sign alone could be read as something else.
func inWords(unit string) string {
	switch unit {
	case "°":
		return "degrees"
	case "in":
		return "inches"
	case "L":
		return "litres"
	}
	return unitName(unit)
}

func (a *axis) all(si []float64) []float64 {
	if si == nil {
		return nil
	}
	out := make([]float64, len(si))
	for i, x := range si {
		out[i] = a.of(x)
	}
	return out
}

func (s setter) marks(list []result.Mark, x, y *axis) []plots.Mark {
	var out []plots.Mark
	for _, m := range list {
		out = append(out, plots.Mark{X: x.of(m.X), Y: y.of(m.Y), Text: s.text(m.Text)})
	}
	return out
}

func (s setter) mark(m *result.Mark, x, y *axis) *plots.Mark {
	if m == nil {
		return nil
	}
	return &plots.Mark{X: x.of(m.X), Y: y.of(m.Y), Text: s.text(m.Text)}
}

// degrees is the axis of angles where the chart itself writes the unit.
var degrees = axis{of: func(rad float64) float64 { return quantity.Angle.In("deg", rad) }}
