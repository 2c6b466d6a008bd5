package describe

import (
	"fmt"
	"math"

	"gapline/cabinet/layout"
	"gapline/internal/result"
)

// countedName is "2 woofers".
func countedName(n int, name string) string {
	if name[len(name)-1] == 's' {
		return name
	}
	return fmt.Sprintf("%d %ss", n, name)
}

// shape starts a drawing of a view. The document shows the front and the stack, of a
// design without a stack the side.
func (w drawing) shape(view, x, y string, c result.Caption) result.Shape {
	d := result.Shape{Shown: result.View(view, result.Drawn)}
	if hung := len(w.Stack.Boxes) > 0; view == DrawFront || view == DrawStack || view == DrawSide && !hung {
		d.Places |= result.Page
	}
	d.X, d.Y = sheet(x, y)
	c.Trust = "geometry"
	d.Caption = captioned(c, w.Design, w.sizing)
	return d
}

// front draws the box from the front.
func (w drawing) front() result.Shape {
	d := w.shape(DrawFront, "y, to the box's left as seen from behind", "z, up", result.Caption{ID: "box-front", Title: "Box, from the front",
		Page:     "The box from the front, to scale",
		Subtitle: result.Plain("seen from in front: right in the picture is the box's left as seen from behind; dashed: behind the front").And(w.holeNote()).And(result.Plain("; tinted: open to the air")),
		Alt:      result.Say("Front view of the box, %s wide and %s high.", length(w.Width), length(w.Height))})
	x, z := w.Width/2, w.Height/2
	d.Lines = append(d.Lines, shapeOf(result.Outline, rect(-x, -z, x, z)))
	if r := w.RearHeight / 2; math.Abs(r-z) > layout.Touch {
		d.Lines = append(d.Lines, shapeOf(result.Hidden, rect(-x, -r, x, r)))
	}
	d.Lines = append(d.Lines, w.partLines(layout.FromFront)...)
	d.Notes = w.partNotes(layout.FromFront)
	heightAt, out := -x, 26.0
	if s, ok := w.spacing(); ok {
		if s.y < 0 {
			heightAt, out = x, -26
		}
		lines, dim := w.spacingMarks(s)
		d.Lines = append(d.Lines, lines...)
		d.Dimensions = append(d.Dimensions, dim)
	}
	d.Dimensions = append(d.Dimensions, dimension(heightAt, -z, heightAt, z, out, "height"), dimension(-x, -z, x, -z, -30, "width"))
	if cones := w.Of(layout.Cone, layout.Woofers); w.WooferColumns() > 1 && len(cones) > 1 {
		a, b := &w.Parts[cones[len(cones)-1]], &w.Parts[cones[0]]
		what := "woofers"
		if w.WooferColumns() > 2 {
			what = "outer woofers"
		}
		d.Dimensions = append(d.Dimensions, dimension(a.At.Y, -z, b.At.Y, -z, -14, what))
	}
	if e, ok := w.exit(); ok {
		top := math.Max(e.At.Z+e.Height/2, z)
		d.Dimensions = append(d.Dimensions, dimension(e.At.Y-e.Width/2, top, e.At.Y+e.Width/2, top, 15, w.exitName()))
	}
	return d
}

// holeNote says what is cut of a cone.
func (w drawing) holeNote() result.Text {
	for _, band := range []layout.Band{layout.Woofers, layout.Mids} {
		switch h, ok := w.coneHole(band); {
		case ok && h.Flange:
			return result.Plain(", and in a cone its piston (its hole is cut to the flange)")
		case ok:
			return result.Plain(", and in a cone its piston, to which its hole is cut")
		case len(w.Of(layout.Cone, band)) > 0:
			return result.Plain(", and in a cone its piston")
		}
	}
	return result.Text{}
}

// exit is the horn's opening in the front.
func (w drawing) exit() (*layout.Part, bool) {
	for _, i := range w.Of(layout.HornExit, layout.Horn) {
		if p := &w.Parts[i]; p.Shape != layout.Unknown {
			return p, true
		}
	}
	return nil, false
}

// exitName says what the horn's opening is: the mouth's, or that of the flares.
func (w drawing) exitName() string {
	if len(w.Of(layout.Flare, layout.Horn)) > 0 {
		return "flares' exit"
	}
	return "mouth"
}

// depthLines are the cabinet in a view that shows its depth: dashed where that is taken.
func (w drawing) depthLine(o [][2]float64) result.Line {
	if !w.Cabinet.Depth.Given() {
		return shapeOf(result.Hidden, o)
	}
	return shapeOf(result.Outline, o)
}

// depthText says that a depth is not given.
func (w drawing) depthText() result.Text {
	if w.Cabinet.Depth.Given() {
		return result.Text{}
	}
	return result.Plain("; the depth is not given, and the dashed cabinet stands for any")
}

// plan draws the box from above with its lid off.
func (w drawing) plan() result.Shape {
	d := w.shape(DrawPlan, "y, to the box's left as seen from behind", "behind the front, −x", result.Caption{ID: "box-plan", Title: "Box, from above",
		Page: "The box from above with its lid off, to scale",
		Subtitle: result.Plain("seen from above with the lid off, front at the bottom: left and right as in the front view; dashed: under another part; tinted: air of horn, insert and vents").
			And(w.depthText()),
		Alt: result.Say("Plan of the box, %s wide.", length(w.Width))})
	x, deep := w.Width/2, w.BoxDepth()
	d.Lines = append(d.Lines, w.depthLine(rect(-x, 0, x, deep)))
	if t := w.Wall; t > 0 {
		d.Lines = append(d.Lines, shapeOf(result.Outline, rect(t-x, t, x-t, deep-t)))
	}
	d.Lines = append(d.Lines, w.partLines(layout.FromAbove)...)
	d.Notes = w.partNotes(layout.FromAbove)
	d.Dimensions = append(d.Dimensions, dimension(-x, deep, x, deep, 16, "width"))
	if w.Cabinet.Depth.Given() {
		d.Dimensions = append(d.Dimensions, dimension(-x, 0, -x, deep, 18, "depth"))
	}
	if e, ok := w.exit(); ok {
		d.Dimensions = append(d.Dimensions, dimension(e.At.Y-e.Width/2, 0, e.At.Y+e.Width/2, 0, -16, w.exitName()))
	}
	for _, i := range w.Of(layout.Flare, layout.Horn) {
		f := &w.Parts[i]
		d.Dimensions = append(d.Dimensions, dimension(f.At.Y-f.RearWidth/2, f.Depth, f.At.Y+f.RearWidth/2, f.Depth, 0, "mouth"))
	}
	for _, i := range w.Of(layout.HornBody, layout.Horn) {
		h := &w.Parts[i]
		d.Dimensions = append(d.Dimensions, dimension(x, 0-h.At.X, x, h.Depth-h.At.X, -18, "side walls"))
	}
	return d
}

// side draws the box from its right-hand side.
func (w drawing) side() result.Shape {
	d := w.shape(DrawSide, "x, forward", "z, up", result.Caption{ID: "box-side", Title: "Box, from its right-hand side",
		Page: "The box from its right-hand side with the panel off, to scale",
		Subtitle: result.Plain("seen from the box's right (right as seen from behind) with the panel off, front at the right; dashed: behind another part; tinted: air of horn, insert and vents").
			And(w.depthText()),
		Alt: result.Say("Side view of the box, %s high.", length(w.Height))})
	z, r, deep := w.Height/2, w.RearHeight/2, w.BoxDepth()
	d.Lines = append(d.Lines, w.depthLine([][2]float64{{0, z}, {0, -z}, {-deep, -r}, {-deep, r}}))
	d.Lines = append(d.Lines, w.partLines(layout.FromRight)...)
	d.Notes = w.partNotes(layout.FromRight)
	d.Dimensions = append(d.Dimensions, dimension(0, -z, 0, z, -30, "height"))
	if w.Cabinet.Depth.Given() {
		d.Dimensions = append(d.Dimensions, dimension(-deep, -z, 0, -z, -18, "depth"))
	}
	if w.Cabinet.RearHeight.Given() {
		d.Dimensions = append(d.Dimensions, dimension(-deep, -r, -deep, r, 18, "rear height"))
	}
	if e, ok := w.exit(); ok && w.Horn.MouthHeight.Given() {
		d.Dimensions = append(d.Dimensions, dimension(0, e.At.Z-e.Height/2, 0, e.At.Z+e.Height/2, -14, "mouth"))
	}
	return d
}
