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

// partNotes names the parts, each kind of each band once.
func (w drawing) partNotes(v layout.View) []result.Mark {
	type kind struct {
		layout.Kind
		layout.Band
	}
	named := map[kind]bool{}
	clash := w.clashes()
	var out []result.Mark
	for i := range w.Parts {
		p := &w.Parts[i]
		k := kind{p.Kind, p.Band}
		if named[k] || p.Shape == layout.Unknown || unnamed(p, v) {
			continue
		}
		named[k] = true
		x, y := middle(w.outlinesOf(p, v))
		if p.Kind == layout.HornExit || p.Kind == layout.Opening {
			x, y = x-0.2*p.Width, y-0.3*p.Height // off what stands behind its middle
		}
		if slices.ContainsFunc(out, func(m result.Mark) bool { return math.Hypot(m.X-x, m.Y-y) < 5e-3 }) {
			continue
		}
		out = append(out, result.Mark{X: x, Y: y, Text: w.noteText(p)})
	}
	for _, c := range clash.notes {
		m := result.Mark{X: w.Width / 2, Y: w.Height / 2, Text: result.Plain("misfit: " + c.text)}
		if v == layout.FromAbove {
			m.Y = w.BoxDepth()
		} else if v == layout.FromRight {
			m.X = 0
		}
		if c.part >= 0 {
			if lines := w.outlinesOf(&w.Parts[c.part], v); len(lines) > 0 {
				m.X, m.Y = lines[0][0][0], lines[0][0][1]
			}
		}
		out = append(out, m)
	}
	return out
}

// unnamed reports whether a part needs no name in a view: what is seen edge on, and what
// other views show better.
func unnamed(p *layout.Part, v layout.View) bool {
	switch p.Kind {
	case layout.HornExit, layout.Opening, layout.InsertMouth:
		return v != layout.FromFront
	case layout.HornBody, layout.Flare, layout.Fold, layout.CompressionDriver:
		return v == layout.FromFront
	case layout.Chamber, layout.Plate:
		return v != layout.FromAbove
	}
	return v != layout.FromFront && p.Squeezed || v == layout.FromFront && p.Side != layout.FrontSide
}

// middle of the box about outlines.
func middle(outlines [][][2]float64) (x, y float64) {
	low, high := [2]float64{math.Inf(1), math.Inf(1)}, [2]float64{math.Inf(-1), math.Inf(-1)}
	for _, o := range outlines {
		for _, p := range o {
			for k := range p {
				low[k], high[k] = math.Min(low[k], p[k]), math.Max(high[k], p[k])
			}
		}
	}
	return (low[0] + high[0]) / 2, (low[1] + high[1]) / 2
}

// noteText names a part with its size and count.
func (w drawing) noteText(p *layout.Part) result.Text {
	name := partName(p)
	switch p.Kind {
	case layout.InsertMouth:
		name = "mouth"
	case layout.Opening:
		name = "opening"
	}
	n := len(w.Of(p.Kind, p.Band))
	if n > 1 {
		name = countedName(n, name)
	}
	var text result.Text
	switch p.Kind {
	case layout.Fold, layout.Chamber, layout.HornBody, layout.Flare, layout.Plate:
		return result.Plain(name)
	case layout.HornExit, layout.InsertMouth, layout.Opening:
		text = result.Say(name+", %s × %s", length(p.Width), length(p.Height))
	case layout.Vent:
		if p.Shape == layout.Square {
			text = result.Say(name+", %s × %s", length(p.Width), length(p.Height))
			break
		}
		text = result.Say(name+", Ø %s", length(p.Width))
	default:
		text = result.Say(name+", Ø %s", length(p.Width))
	}
	if p.Kind == layout.Cone && math.Abs(p.Turn) > 1e-6 {
		text = text.And(result.Say(", turned %s "+sideOf(p), angle(math.Abs(p.Turn))))
	}
	if p.Squeezed {
		text = text.And(result.Plain(": no room found for it"))
	}
	return text
}

// sideOf says to which side a cone is turned: outward where it stands off the middle.
func sideOf(p *layout.Part) string {
	switch {
	case math.Abs(p.At.Y) < layout.Touch && p.Turn > 0:
		return "left"
	case math.Abs(p.At.Y) < layout.Touch:
		return "right"
	case p.At.Y*p.Turn > 0:
		return "outward"
	}
	return "inward"
}

// clash is what of a misfit shows in a drawing.
type clash struct {
	parts  map[int]bool
	joints map[int]bool // of the stack, from the top
	notes  []clashNote  // of the box
	stack  []clashNote
}

// clashNote is a reason beside a part or, with −1, the cabinet, or beside a joint.
type clashNote struct {
	part int
	text string
}

// clashes are the parts and joints that cannot be built.
func (w drawing) clashes() clash {
	out := clash{parts: map[int]bool{}, joints: map[int]bool{}}
	mark := func(kinds []layout.Kind, bands ...layout.Band) int {
		first := -1
		for i := range w.Parts {
			if p := &w.Parts[i]; slices.Contains(kinds, p.Kind) && slices.Contains(bands, p.Band) {
				out.parts[i] = true
				if first < 0 {
					first = i
				}
			}
		}
		return first
	}
	for i := range w.fit.Misfits {
		c := &w.fit.Misfits[i]
		at := c.A
		switch c.Of {
		case layout.BoxesOverlap, layout.BoxesCollide:
			out.joints[c.Joint] = true
			out.stack = append(out.stack, clashNote{c.Joint, c.Of.String()})
			continue
		case layout.TooWide:
			at = mark([]layout.Kind{layout.Cone, layout.HornExit, layout.InsertMouth}, c.Bands...)
		case layout.PathShort, layout.WallsShort:
			at = mark([]layout.Kind{layout.HornBody, layout.Fold}, layout.Horn)
		case layout.FoldDeep:
			at = mark([]layout.Kind{layout.Fold}, layout.Horn)
		default:
			for _, i := range []int{c.A, c.B} {
				if i >= 0 {
					out.parts[i] = true
				}
			}
		}
		out.notes = append(out.notes, clashNote{at, c.Of.String()})
	}
	return out
}
