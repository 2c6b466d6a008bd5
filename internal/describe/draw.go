package describe

import (
	"fmt"

	"gapline/cabinet/design"
	"gapline/cabinet/field"
	"gapline/cabinet/layout"
	"gapline/cabinet/sizing"
	"gapline/internal/figure"
	"gapline/internal/numeric"
	"gapline/internal/result"
	"gapline/internal/study/fit"
)

// The views of the drawing.
const (
	DrawFront = "front"
	DrawPlan  = "plan"
	DrawSide  = "side"
	DrawStack = "stack"
)

// DrawViews lists them; the first is shown unless another is asked for.
var DrawViews = []string{DrawFront, DrawPlan, DrawSide, DrawStack}

// Draw describes the drawing of a design: its parts in a table, what was taken for what
// the design does not say, where asked for on the screen too, and the views.
func Draw(d *design.Design, s *sizing.Sizing, f *fit.Fit, defaults bool) *result.Result {
	w := drawing{d, s, f, f.Layout}
	r := &result.Result{Title: d.Title, Head: []result.Text{
		result.Plain("Places: x forward, y to the left as seen from behind, z up, from the middle of the front"),
		result.Plain("Turns: about the upright line through a part's middle, positive to the left")}}
	r.Add(w.partsTable(result.At(result.Screen)), w.partsData())
	r.Add(w.holes()...)
	r.Add(w.cabinetData(), w.stackData(), w.defaults(result.Data))
	if defaults {
		r.Add(apart(w.defaults(result.Screen)))
	}
	r.Add(w.front(), w.plan(), w.side())
	if len(f.Layout.Stack.Boxes) > 0 {
		r.Add(w.stack())
	}
	return r
}

type drawing struct {
	*design.Design
	sizing *sizing.Sizing
	fit    *fit.Fit
	*layout.Layout
}

// kindWords name the parts.
var kindWords = map[layout.Kind]string{
	layout.Cone: "cone", layout.Opening: "opening", layout.Plate: "plate", layout.Chamber: "chamber", layout.InsertMouth: "insert mouth",
	layout.HornExit: "horn exit", layout.Flare: "side flares", layout.HornBody: "side walls", layout.Fold: "fold",
	layout.CompressionDriver: "compression driver", layout.Vent: "vent", layout.Radiator: "passive radiator",
}

var bandWords = map[layout.Band]string{layout.Woofers: "woofer", layout.Mids: "mid", layout.Horn: "horn", layout.Enclosure: "enclosure"}

var sideWords = map[layout.Side]string{layout.FrontSide: "front", layout.LeftSide: "left", layout.RightSide: "right", layout.RearSide: "rear"}

// partName names a part for people.
func partName(p *layout.Part) string {
	switch p.Kind {
	case layout.Cone:
		return bandWords[p.Band]
	case layout.Opening:
		return "opening for the " + bandWords[p.Band] + "s"
	}
	return kindWords[p.Kind]
}

// partColumns are the places and sizes of a part.
var partColumns = []result.Column{{Fig: figure.DrawX, Head: result.Plain("x")}, {Fig: figure.DrawY, Head: result.Plain("y")}, {Fig: figure.DrawZ, Head: result.Plain("z")},
	{Fig: figure.DrawTurn, Head: result.Plain("turn")}, {Fig: figure.DrawWidth, Head: result.Plain("width")},
	{Fig: figure.DrawHeight, Head: result.Plain("height")}, {Fig: figure.DrawDepth, Head: result.Plain("depth")}}

// partCells are a part's place, turn and size; what is not known is absent.
func partCells(p *layout.Part) []result.Cell {
	at, width, height, depth := p.At, p.Width, p.Height, p.Depth
	if p.Squeezed {
		at.Y, at.Z = numeric.Absent, numeric.Absent // found no place
	}
	if p.Shape == layout.Unknown || !(p.Width > 0) || !(p.Height > 0) {
		width, height = numeric.Absent, numeric.Absent
	}
	return []result.Cell{result.Fig(figure.DrawX, at.X), result.Fig(figure.DrawY, at.Y), result.Fig(figure.DrawZ, at.Z),
		result.Fig(figure.DrawTurn, p.Turn), result.Fig(figure.DrawWidth, width), result.Fig(figure.DrawHeight, height), result.Fig(figure.DrawDepth, depth)}
}

func (w drawing) partsTable(shown result.Shown) result.Table {
	var rows result.List
	for i := range w.Parts {
		p := &w.Parts[i]
		label := partName(p)
		if len(w.Of(p.Kind, p.Band)) > 1 {
			label = fmt.Sprintf("%s %d", label, p.Index+1)
		}
		cells := partCells(p)
		for j := range cells {
			if !cells[j].Given() {
				cells[j].Words = "-"
			}
		}
		rows.Row(result.Plain(label), cells...)
	}
	return result.Table{Shown: shown, Title: result.Plain("PARTS"), Columns: partColumns, Rows: rows.Rows()}
}

func (w drawing) partsData() result.Table {
	var rows result.List
	for i := range w.Parts {
		p := &w.Parts[i]
		cells := []result.Cell{result.Word(kindWords[p.Kind]), result.Word(bandWords[p.Band]), result.Fig(figure.DrawIndex, float64(p.Index+1))}
		rows.Add(result.Row{Cells: append(append(cells, partCells(p)...), result.Word(sideWords[p.Side]))})
	}
	columns := append([]result.Column{{Key: "kind"}, {Key: "band"}, {Fig: figure.DrawIndex}}, partColumns...)
	return result.Table{Shown: result.At(result.Data | result.Listing), Key: "parts", As: result.Records, Rows: rows.Rows(),
		Columns: append(columns, result.Column{Key: "side"})}
}

func (w drawing) cabinetData() result.Section {
	return group("cabinet", facts(result.Fig(figure.DrawCabinetWidth, w.Width), result.Fig(figure.DrawCabinetHeight, w.Height),
		result.Fig(figure.DrawCabinetDepth, w.Depth), result.Fig(figure.DrawCabinetRear, w.RearHeight), result.Fig(figure.DrawCabinetWall, w.Wall)))
}

// stackData is the corners of the boxes as they hang. What needs a depth that the design
// does not give is null.
func (w drawing) stackData() result.Table {
	var rows result.List
	for i, o := range w.boxes() {
		if !w.Cabinet.Depth.Given() {
			o.Corner[2], o.Corner[3] = layout.Vec{X: numeric.Absent, Z: numeric.Absent}, layout.Vec{X: numeric.Absent, Z: numeric.Absent}
		}
		rows.Row(result.Text{}, result.Fig(figure.DrawStackBox, float64(i+1)), result.Figs(figure.DrawStackX, each(o.Corner[:], func(c layout.Vec) float64 { return c.X })),
			result.Figs(figure.DrawStackZ, each(o.Corner[:], func(c layout.Vec) float64 { return c.Z })), result.Fig(figure.DrawStackAngle, 0-o.Angle))
	}
	return result.Table{Shown: result.At(result.Data), Key: "stack", As: result.Records, Rows: rows.Rows(),
		Columns: []result.Column{{Fig: figure.DrawStackBox}, {Fig: figure.DrawStackX}, {Fig: figure.DrawStackZ}, {Fig: figure.DrawStackAngle}}}
}

// boxes are the outlines of the stack, of boxes of an assumed depth where none is given.
func (w drawing) boxes() []field.Outline {
	if len(w.Stack.Boxes) == 0 {
		return nil
	}
	s := w.Stack
	box := s.Boxes[0]
	box.Depth = w.BoxDepth()
	s.Boxes = field.Repeat(box, len(s.Boxes))
	return s.Outlines()
}
