package describe

import (
	"fmt"
	"slices"
	"strings"

	"gapline/cabinet/design"
	"gapline/cabinet/sizing"
	"gapline/internal/figure"
	"gapline/internal/result"
	"gapline/internal/schema"
	"gapline/internal/study/space"
)

// LeverChart draws the gap against one lever, one curve for each number of mouths,
// with the present design and its sizing marked. A curve that has no gap anywhere, as of
// bare cones whose diameter is not given, is left out beside others.
func LeverChart(axis space.Axis, curves []space.Curve, d *design.Design, s *sizing.Sizing) *result.Result {
	x := valuesOf(axis)
	p := result.Panel{Y: gapAxis}
	none := func(c space.Curve) bool { return !slices.ContainsFunc(c.Gap, isFinite) }
	if !slices.ContainsFunc(curves, func(c space.Curve) bool { return !none(c) }) {
		none = func(space.Curve) bool { return false } // the picture cannot be drawn, and says so
	}
	dashed := false
	for i, c := range curves {
		if none(c) {
			continue
		}
		dash := result.Solid
		if c.Unlinked {
			dash, dashed = result.Dashed, true
		}
		p.Curves = append(p.Curves, result.Curve{Label: result.Plain(c.Label), X: x, Y: finite(c.Gap), Dash: dash, Colour: 1 + i%6, Hollow: misfits(c.Fits)})
	}
	subtitle := axis.Key.Path + " varies; " + s.Gap.Basis.Name() + " basis" + curvesText(d, axis.Key)
	if dashed {
		subtitle += "; dashed: nothing follows the lever and nothing has to fit"
	}
	if slices.ContainsFunc(curves, func(c space.Curve) bool { return slices.Contains(c.Fits, false) }) {
		subtitle += "; rings: a box that cannot be built"
	}
	r := &result.Result{Title: d.Title}
	r.Add(result.Series{Shown: result.At(result.Drawn | result.Page), Form: result.Lever, X: keyAxis(axis.Key), Panels: []result.Panel{p},
		Present: onLever(axis.Key, d, s), Caption: captioned(result.Caption{
			ID: "lever-" + letters(axis.Key.Path), Title: "Crossover gap against the " + axis.Key.Label(),
			Page: "The gap against " + axis.Key.Path + ": " + axis.Key.Doc, Subtitle: result.Plain(subtitle), Trust: gapTrust(s),
			Alt: result.Say("Crossover gap in octaves against the %s, %s curves.", axis.Key.Label(), result.Count(len(p.Curves))),
		}, d, s)})
	return r
}

// curvesText says what the curves of a lever chart stand for.
func curvesText(d *design.Design, lever *schema.Key) string {
	switch {
	case d.HasMid():
		return "; with the mid band and without it"
	case lever.Table() == "insert":
		return "; with the insert and without it"
	}
	text := "; one curve for each number of mouths per box, spaced evenly"
	if space.CarriesChamber(d) {
		return text + ", in front of the same chamber: slot depth, width and total area stay"
	}
	return text + "; no chamber: the limit of what an insert can do"
}

// GapMap draws the gap over two levers, with the present design marked. gap follows the
// grid's order: the second axis varies fastest.
func GapMap(axes []space.Axis, gap []float64, fits []bool, d *design.Design, s *sizing.Sizing) *result.Result {
	x, y := axes[0], axes[1]
	nx, ny := x.Len(), y.Len()
	z, hollow := make([][]float64, ny), make([][]bool, ny)
	for j := range z {
		z[j], hollow[j] = make([]float64, nx), make([]bool, nx)
		for i := range nx {
			z[j][i], hollow[j][i] = gap[i*ny+j], !fits[i*ny+j]
		}
		z[j] = finite(z[j])
	}
	look := &result.Map{Form: result.GapMap, Hollow: hollow, X: keyAxis(x.Key), Y: keyAxis(y.Key), Caption: captioned(result.Caption{
		ID: "map", Title: fmt.Sprintf("Crossover gap over %s and %s", x.Key.Label(), y.Key.Label()),
		Subtitle: result.Plain(fmt.Sprintf("%s and %s vary; %s basis; white: the design cannot exist%s", x.Key.Path, y.Key.Path, s.Gap.Basis, ringsText(fits))),
		Trust:    gapTrust(s),
		Alt:      result.Plain(fmt.Sprintf("Map of the crossover gap in octaves over %s and %s.", x.Key.Label(), y.Key.Label())),
	}, d, s)}
	if atX, atY := x.Key.Number(d), y.Key.Number(d); isFinite(atX) && isFinite(atY) {
		look.Present = &result.Mark{X: atX, Y: atY, Text: thisDesign}
	}
	g := result.Grid{Shown: result.At(result.Drawn), X: result.Values{SI: valuesOf(x)}, Y: result.Values{SI: valuesOf(y)},
		Fig: figure.GapOpen, Z: z, Look: look}
	rising(&g)
	r := &result.Result{Title: d.Title}
	r.Add(g)
	return r
}

// misfits are the points that cannot be built; nil where nothing has to fit.
func misfits(fits []bool) []bool {
	if fits == nil {
		return nil
	}
	out := make([]bool, len(fits))
	for i, is := range fits {
		out[i] = !is
	}
	return out
}

// ringsText says what rings mean where there are any.
func ringsText(fits []bool) string {
	if slices.Contains(fits, false) {
		return "; rings: cannot be built"
	}
	return ""
}

// rising puts falling axes into rising order.
func rising(g *result.Grid) {
	if falls(g.X.SI) {
		slices.Reverse(g.X.SI)
		for j, row := range g.Z {
			slices.Reverse(row)
			slices.Reverse(g.Look.Hollow[j])
		}
	}
	if falls(g.Y.SI) {
		slices.Reverse(g.Y.SI)
		slices.Reverse(g.Z)
		slices.Reverse(g.Look.Hollow)
	}
}

func falls(x []float64) bool { return len(x) > 1 && x[0] > x[len(x)-1] }

// valuesOf returns the values of an axis of numbers.
func valuesOf(a space.Axis) []float64 {
	out := make([]float64, a.Len())
	for i := range out {
		out[i] = a.At(i).Number
	}
	return out
}

// letters makes a part of an id of a key.
func letters(path string) string { return strings.NewReplacer(".", "-", "_", "-").Replace(path) }
