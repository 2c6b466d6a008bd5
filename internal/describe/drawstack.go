package describe

import (
	"math"

	"gapline/cabinet/field"
	"gapline/cabinet/layout"
	"gapline/internal/result"
)

// groundWithin is how many lengths of the stack lie at most between it and a ground that
// is drawn: beyond, the boxes would be too small to read.
const groundWithin = 3

// stack draws the boxes as they hang, from their right-hand side.
func (w drawing) stack() result.Shape {
	boxes := w.boxes()
	n := len(boxes)
	hinge := field.FrontHinge.Name()
	if w.Hanging.Hinge != 0 {
		hinge = w.Hanging.Hinge.Name()
	}
	d := w.shape(DrawStack, "x, forward", "Height", result.Caption{ID: "stack-side", Title: "Stack, from its right-hand side",
		Page: "The stack from its right-hand side, to scale",
		Subtitle: result.Say("seen from the right (right as seen from behind), front at the right; %s boxes; angles are the splay at the joints, turned about the "+hinge+" edge",
			result.Count(n)).And(w.depthText()),
		Alt: result.Say("Side view of a stack of %s boxes.", result.Count(n))})
	clash := w.clashes()
	low, high, front, rear := math.Inf(1), math.Inf(-1), math.Inf(-1), math.Inf(1)
	for i, b := range boxes {
		var o [][2]float64
		for _, c := range b.Corner {
			o = append(o, [2]float64{c.X, c.Z})
			low, high = math.Min(low, c.Z), math.Max(high, c.Z)
			front, rear = math.Max(front, c.X), math.Min(rear, c.X)
		}
		line := w.depthLine(o)
		if clash.joints[i] || clash.joints[i-1] {
			line.Kind = result.Clash
		}
		d.Lines = append(d.Lines, line)
	}
	for _, l := range w.jointLines(boxes) {
		d.Lines = append(d.Lines, l)
		rear = math.Min(rear, l.X[1])
	}
	d.Notes = w.boxNotes(boxes)
	for _, c := range clash.stack {
		q := boxes[c.part].Corner[2]
		d.Notes = append(d.Notes, result.Mark{X: q.X, Y: q.Z, Text: result.Plain("misfit: " + c.text)})
	}
	d.Dimensions = append(d.Dimensions, dimension(rear, low, rear, high, 30, "height"))
	if s, ok := w.spacing(); ok && n > 1 {
		d.Dimensions = append(d.Dimensions, w.stackSpacing(s, boxes))
	}
	if w.Line.TopHeight.Given() {
		d.Lines, d.Dimensions, d.Notes = w.ground(d, boxes[0].Corner[0], low, high, front, rear)
	}
	return d
}

// jointTick is how far the line at a joint reaches out of the rear, in depths of a box.
const jointTick = 0.3

// jointLines write the splay of each joint at the end of a line out of it, at the rear.
func (w drawing) jointLines(boxes []field.Outline) []result.Line {
	var out []result.Line
	for i := range boxes[1:] {
		splay := boxes[i+1].Angle - boxes[i].Angle
		if math.Abs(splay) < 1e-9 {
			continue
		}
		a, b := boxes[i].Corner[2].Add(boxes[i+1].Corner[3]).Scale(0.5), boxes[i].Corner[1].Add(boxes[i+1].Corner[0]).Scale(0.5)
		end := a.Add(a.Sub(b).Scale(jointTick))
		l := through(result.CentreLine, "", [2]float64{a.X, a.Z}, [2]float64{end.X, end.Z})
		l.Label = result.Say("%s", angle(splay))
		out = append(out, l)
	}
	return out
}

// boxNotes name the first and the last box, with the direction in which they look.
func (w drawing) boxNotes(boxes []field.Outline) []result.Mark {
	note := func(i int) result.Mark {
		c := boxes[i].Corner
		return result.Mark{X: (c[0].X + c[1].X + c[2].X + c[3].X) / 4, Y: (c[0].Z + c[1].Z + c[2].Z + c[3].Z) / 4,
			Text: result.Say("box %s, %s", result.Count(i+1), downward(boxes[i].Angle))}
	}
	out := []result.Mark{note(0)}
	if len(boxes) > 1 {
		out = append(out, note(len(boxes)-1))
	}
	return out
}

// stackSpacing marks the spacing where it acts: at the first joint, or in the first box.
func (w drawing) stackSpacing(s spacing, boxes []field.Outline) result.Dimension {
	at := func(i int, z float64) layout.Vec {
		top, bottom := boxes[i].Corner[0], boxes[i].Corner[1]
		return bottom.Add(top.Sub(bottom).Scale(z/w.Height + 0.5))
	}
	from, to := at(0, s.from), at(0, s.to)
	if s.across {
		from, to = at(1, s.from), at(0, s.to-w.Pitch())
	}
	return result.Dimension{X0: from.X, Y0: from.Z, X1: to.X, Y1: to.Z, Offset: -16, Text: s.text()}
}

// ground draws the ground with the height of the top, or says it where it lies too far below.
func (w drawing) ground(d result.Shape, top layout.Vec, low, high, front, rear float64) ([]result.Line, []result.Dimension, []result.Mark) {
	if low > groundWithin*(high-low) {
		return d.Lines, d.Dimensions, append(d.Notes, result.Mark{X: top.X, Y: top.Z, Text: result.Say("upper front edge %s above the ground, which is not drawn", far(top.Z))})
	}
	reach := 0.25 * (front - rear)
	d.Lines = append(d.Lines, through(result.Wall, "ground", [2]float64{rear - reach, 0}, [2]float64{front + reach, 0}))
	out := append(d.Dimensions, result.Dimension{X0: front, Y0: 0, X1: front, Y1: top.Z, Offset: -36, Text: result.Say("top %s", far(top.Z))})
	if low > layout.Touch {
		out = append(out, result.Dimension{X0: rear, Y0: 0, X1: rear, Y1: low, Offset: 30, Text: result.Say("lowest corner %s", far(low))})
	}
	return d.Lines, out, d.Notes
}
