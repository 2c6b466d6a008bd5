package picture

import (
	"fmt"
	"math"
	"strings"

	"gapline/cabinet/design"
	"gapline/cabinet/sizing"
	"gapline/internal/figure"
	"gapline/internal/quantity"
	"gapline/internal/schema"
	"gapline/internal/study/space"
	"gapline/plots"
)

// Sized is a design with its sizing.
type Sized struct {
	Design *design.Design
	Sizing sizing.Sizing
}

// LeverChart draws the gap against one lever, one curve for each number of
// mouths, with the present design marked.
func LeverChart(axis space.Axis, curves []space.Curve, present Sized, sys quantity.System) plots.Lever {
	x := displayValues(axis, sys)
	chart := plots.Lever{Lever: leverAxis(axis.Key, sys)}
	dashed := false
	for i, c := range curves {
		dash := plots.Solid
		if c.Unlinked {
			dash, dashed = plots.Dashed, true
		}
		chart.Curves = append(chart.Curves, plots.Curve{Label: c.Label, X: x, Y: finite(c.Gap), Dash: dash, Colour: 1 + i%6})
	}
	subtitle := axis.Key.Path + " varies; " + present.Sizing.Gap.Basis.Name() + " basis" + curvesText(present.Design, axis.Key)
	if dashed {
		subtitle += "; dashed: nothing follows the lever and nothing has to fit"
	}
	chart.Caption = caption("Crossover gap against the "+axis.Key.Label(), subtitle, present.Design, &present.Sizing,
		trustOfGap(&present.Sizing), leverAlt(axis, curves), sys)
	if at := axis.Key.Number(present.Design); !math.IsNaN(at) && isFinite(present.Sizing.Gap.AsGiven()) {
		chart.Present = &plots.Mark{X: displayOf(axis.Key.Kind, at, sys), Y: present.Sizing.Gap.AsGiven(), Text: "this design"}
	}
	return chart
}

// curvesText says what the curves of a lever chart stand for.
func curvesText(d *design.Design, lever *schema.Key) string {
	switch {
	case d.HasMid():
		return "; with the mid band and without it"
	case lever.Table() == "insert":
		return "; with the insert and without it"
	}
	return "; one curve for each number of mouths per box, spaced evenly"
}

// GapMap draws the gap over two levers. rows follow the grid's order: the
// second axis varies fastest.
func GapMap(axes []space.Axis, gap []float64, present Sized, sys quantity.System) plots.GapMap {
	nx, ny := axes[0].Len(), axes[1].Len()
	z := make([][]float64, ny)
	for j := range z {
		z[j] = make([]float64, nx)
		for i := range nx {
			z[j][i] = gap[i*ny+j]
		}
		z[j] = finite(z[j])
	}
	m := plots.GapMap{
		X: leverAxis(axes[0].Key, sys), Y: leverAxis(axes[1].Key, sys),
		XValues: displayValues(axes[0], sys), YValues: displayValues(axes[1], sys),
		Octaves: z,
	}
	flip(&m)
	m.Caption = caption(fmt.Sprintf("Crossover gap over %s and %s", axes[0].Key.Label(), axes[1].Key.Label()),
		fmt.Sprintf("%s and %s vary; %s basis; white: the design cannot exist", axes[0].Key.Path, axes[1].Key.Path, present.Sizing.Gap.Basis), present.Design, &present.Sizing, trustOfGap(&present.Sizing),
		fmt.Sprintf("Map of the crossover gap in octaves over %s and %s.", axes[0].Key.Label(), axes[1].Key.Label()), sys)
	x, y := axes[0].Key.Number(present.Design), axes[1].Key.Number(present.Design)
	if isFinite(x) && isFinite(y) {
		m.Present = &plots.Mark{X: displayOf(axes[0].Key.Kind, x, sys), Y: displayOf(axes[1].Key.Kind, y, sys), Text: "this design"}
	}
	return m
}

// flip puts falling axes into rising order.
func flip(m *plots.GapMap) {
	if n := len(m.XValues); n > 1 && m.XValues[0] > m.XValues[n-1] {
		reverse(m.XValues)
		for _, row := range m.Octaves {
			reverse(row)
		}
	}
	if n := len(m.YValues); n > 1 && m.YValues[0] > m.YValues[n-1] {
		reverse(m.YValues)
		for i, j := 0, n-1; i < j; i, j = i+1, j-1 {
			m.Octaves[i], m.Octaves[j] = m.Octaves[j], m.Octaves[i]
		}
	}
}

func reverse(xs []float64) {
	for i, j := 0, len(xs)-1; i < j; i, j = i+1, j-1 {
		xs[i], xs[j] = xs[j], xs[i]
	}
}

func leverAxis(k *schema.Key, sys quantity.System) plots.Axis {
	return plots.Axis{Label: capital(k.Label()), Unit: unitInWords(k.Kind, sys)}
}

// unitInWords is the unit of displayOf for an axis: a word where the sign alone
// could be read as something else.
func unitInWords(k quantity.Kind, sys quantity.System) string {
	switch unit := displayUnit(k, sys); unit {
	case "°":
		return "degrees"
	case "in":
		return "inches"
	case "L":
		return "litres"
	case "oct":
		return "octaves"
	default:
		return unit
	}
}

// capital starts a label with a capital letter.
func capital(s string) string { return strings.ToUpper(s[:1]) + s[1:] }

// displayUnit is the unit of displayOf.
func displayUnit(k quantity.Kind, sys quantity.System) string {
	if k == quantity.Frequency {
		return "Hz"
	}
	_, unit := quantity.Display(1, k, sys)
	return unit
}

// displayValues returns the values of an axis in one unit throughout.
func displayValues(a space.Axis, sys quantity.System) []float64 {
	out := make([]float64, a.Len())
	for i := range out {
		out[i] = displayOf(a.Key.Kind, a.At(i).Number, sys)
	}
	return out
}

// displayOf returns a value in one unit whatever its size: that of displayUnit.
func displayOf(k quantity.Kind, x float64, sys quantity.System) float64 {
	switch {
	case k == quantity.Frequency:
		return x
	case k == quantity.Length && sys == quantity.Inch:
		return x / 0.0254
	case k == quantity.Length:
		return x * 1e3
	}
	v, _ := quantity.Display(x, k, sys)
	return v
}

func trustOfGap(s *sizing.Sizing) string {
	if s.Gap.Basis == design.Lobe {
		return figure.Aperture.String()
	}
	return figure.Rule.String()
}

func leverAlt(axis space.Axis, curves []space.Curve) string {
	return fmt.Sprintf("Crossover gap in octaves against the %s, %d curves.", axis.Key.Label(), len(curves))
}

func isFinite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }

// finite breaks a curve where the gap is not a number.
func finite(xs []float64) []float64 {
	out := make([]float64, len(xs))
	for i, x := range xs {
		out[i] = x
		if math.IsInf(x, 0) {
			out[i] = math.NaN()
		}
	}
	return out
}
