package describe

import (
	"math"
	"slices"

	"gapline/cabinet/layout"
	"gapline/internal/result"
)

// like is what parts have in common that are named together.
type like struct {
	layout.Kind
	layout.Band
	width, height int // 0.01 mm
}

func likeOf(p *layout.Part) like {
	return like{p.Kind, p.Band, int(math.Round(p.Width * 1e5)), int(math.Round(p.Height * 1e5))}
}

// partNotes names the parts, those alike once.
func (w drawing) partNotes(v layout.View) []result.Mark {
	named := map[like]bool{}
	clash := w.clashes()
	var out []result.Mark
	for i := range w.Parts {
		p := &w.Parts[i]
		k := likeOf(p)
		if p.Shape == layout.Unknown || named[k] || unnamed(p, v) {
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
	n := 0
	for i := range w.Parts {
		if q := &w.Parts[i]; q.Shape != layout.Unknown && likeOf(q) == likeOf(p) {
			n++
		}
	}
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
		text = text.And(result.Plain(": no room found"))
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
