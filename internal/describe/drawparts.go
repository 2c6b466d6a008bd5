package describe

import (
	"math"
	"slices"

	"gapline/cabinet/layout"
	"gapline/internal/result"
)

// shapeOf is a line of a drawing about a closed outline.
func shapeOf(kind result.LineKind, outline [][2]float64) result.Line {
	l := through(kind, "", outline...)
	l.Closed = len(outline) > 2
	return l
}

// rect is an upright rectangle.
func rect(left, bottom, right, top float64) [][2]float64 {
	return [][2]float64{{left, bottom}, {right, bottom}, {right, top}, {left, top}}
}

// partLines draws the parts in a view of the box. What stands behind another is dashed,
// from the front all that stands behind the front panel; what cannot be built is bold and
// hatched.
func (w drawing) partLines(v layout.View) []result.Line {
	clash := w.clashes()
	var out []result.Line
	for i := range w.Parts {
		p := &w.Parts[i]
		kind := w.lineKind(i, v)
		if clash.parts[i] {
			kind = result.Clash
		}
		for _, o := range w.outlinesOf(p, v) {
			out = append(out, shapeOf(kind, o))
			if p.Kind == layout.Cone && kind == result.Layer {
				out[len(out)-1].Kind = result.Outline
			}
		}
		if p.Kind != layout.Cone {
			continue
		}
		if v == layout.FromFront {
			out = append(out, shapeOf(result.Hidden, p.Face(v, p.Radiates)))
		} else {
			out = append(out, w.axisLine(p, v))
		}
	}
	return distinctLines(out)
}

// lineKind is how the part is drawn: tinted where it is air that carries sound.
func (w drawing) lineKind(i int, v layout.View) result.LineKind {
	p := &w.Parts[i]
	hidden := w.Covered(i, v)
	if v == layout.FromFront {
		hidden = hidden || p.Side != layout.FrontSide || p.At.X < -layout.Touch || p.Squeezed
		switch p.Kind {
		case layout.Chamber, layout.Fold, layout.HornBody, layout.Flare, layout.CompressionDriver:
			hidden = true
		}
	}
	switch {
	case hidden:
		return result.Hidden
	case p.Kind == layout.Cone || p.Kind == layout.Plate || p.Kind == layout.CompressionDriver || p.Kind == layout.Radiator:
		return result.Outline
	}
	return result.Layer
}

// outlinesOf are the outlines of a part in a view.
func (w drawing) outlinesOf(p *layout.Part, v layout.View) [][][2]float64 {
	var out [][2]float64
	switch p.Kind {
	case layout.HornExit, layout.InsertMouth, layout.Opening:
		out = p.Face(v, p.Width)
	case layout.HornBody, layout.Flare:
		if v == layout.FromFront {
			return some(p.Rear(v))
		}
		out = p.Silhouette(v)
	case layout.Cone, layout.Plate:
		if v == layout.FromFront {
			return some(p.Face(v, p.Width))
		}
		out = p.Silhouette(v)
	default:
		out = p.Silhouette(v)
		if v == layout.FromFront && p.Side == layout.FrontSide && (p.Kind == layout.Vent || p.Kind == layout.Radiator) {
			out = p.Face(v, p.Width)
		}
	}
	return some(out)
}

// some drops an outline without points.
func some(o [][2]float64) [][][2]float64 {
	if len(o) < 2 {
		return nil
	}
	return [][][2]float64{o}
}

// axisLine is a cone's axis.
func (w drawing) axisLine(p *layout.Part, v layout.View) result.Line {
	depth := math.Max(p.Depth, 0)
	if math.IsNaN(depth) {
		depth = 0
	}
	a, b := p.At.Sub(p.Axis().Scale(1.15*depth)), p.At.Add(p.Axis().Scale(0.15*p.Width))
	l := result.Line{Kind: result.CentreLine}
	for _, q := range []layout.Vec{a, b} {
		x, y := v.Project(q)
		l.X, l.Y = append(l.X, x), append(l.Y, y)
	}
	return l
}

// distinctLines drops lines without extent and those that lie on one drawn before; a
// line that shows stands in place of a dashed one.
func distinctLines(lines []result.Line) []result.Line {
	slices.SortStableFunc(lines, func(a, b result.Line) int { return rank(a.Kind) - rank(b.Kind) })
	var out []result.Line
	for _, l := range lines {
		if len(l.X) < 2 || slices.ContainsFunc(out, func(o result.Line) bool { return o.Kind != result.CentreLine && onto(&o, &l) }) {
			continue
		}
		out = append(out, l)
	}
	slices.Reverse(out) // the bold over the fine
	return out
}

func rank(k result.LineKind) int {
	switch k {
	case result.Clash:
		return 0
	case result.Outline, result.Layer:
		return 1
	}
	return 2
}

// onto reports whether two lines run through the same points.
func onto(a, b *result.Line) bool {
	const same = 1e-5 // m
	near := func(p, q []float64) bool {
		return slices.EqualFunc(p, q, func(x, y float64) bool { return math.Abs(x-y) < same })
	}
	return near(a.X, b.X) && near(a.Y, b.Y)
}
