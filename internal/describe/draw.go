package describe

import (
	"fmt"
	"math"

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
	if p.Shape == layout.Unknown {
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

// taken says what the layout takes for what the design does not say.
var taken = [layout.AssumedCount]string{
	layout.FrontWidth:    "front as wide as the parts beside each other",
	layout.BandPlace:     "middle of the %s, in the room that the others leave",
	layout.ColumnSpacing: "columns of the %ss touch",
	layout.RowSpacing:    "rows of the %ss touch",
	layout.MouthOfBox:    "mouth of the horn as high as the box",
	layout.WallsByAngle:  "side walls as deep as the coverage asks for",
	layout.StraightWalls: "side walls straight; they need this depth",
	layout.FoldSide:      "first layer of the fold, with the driver, on the side",
	layout.DriverWidth:   "compression driver as wide as its throat",
	layout.ConeSetback:   "cones behind the plate by the depth of slot and chamber",
	layout.PlateSize:     "plate as wide as the woofers or its mouths",
	layout.RearHeight:    "cabinet does not taper",
	layout.PanelWall:     "panels take no room",
	layout.ConeSize:      "%s as large as its piston",
	layout.OutletPlace:   "vent or passive radiator where its panel leaves room",
}

// defaults lists what was taken, with its value and the key that settles it.
func (w drawing) defaults(place result.Place) result.Table {
	t := result.Table{Shown: result.At(place), Title: result.Plain("TAKEN, SINCE THE FILE DOES NOT SAY"),
		Columns: []result.Column{headed(result.Column{Key: "value"}, "value"), headed(result.Column{Key: "key", Left: true}, "settled by")}}
	if place == result.Data {
		t.Key, t.As, t.Columns = "defaults", result.Records, keys("what", "value", "key")
	}
	var rows result.List
	for _, d := range w.Defaults {
		what := taken[d.Of]
		if d.Of == layout.BandPlace || d.Of == layout.ColumnSpacing || d.Of == layout.RowSpacing || d.Of == layout.ConeSize {
			what = fmt.Sprintf(what, bandWords[d.Band])
		}
		cells := []result.Cell{defaultCell(&d, place), result.Word(w.settledBy(&d))}
		if place == result.Data {
			cells = append([]result.Cell{result.Word(what)}, cells...)
		}
		rows.Row(result.Plain(what), cells...)
	}
	t.Rows = rows.Rows()
	return t
}

// settledBy is the key that settles a default.
func (w drawing) settledBy(d *layout.Default) string {
	if d.Of == layout.OutletPlace && w.EnclosureKind().Parts().Radiator {
		return "enclosure.radiator_offset"
	}
	return fit.Settles(d.Of, d.Band)
}

// defaultCell is the value taken.
func defaultCell(d *layout.Default, place result.Place) result.Cell {
	switch {
	case d.Of == layout.FoldSide && d.Value > 0:
		return result.Word("left")
	case d.Of == layout.FoldSide:
		return result.Word("right")
	case place == result.Data:
		return result.Fig(figure.DrawDefault, d.Value)
	case math.IsNaN(d.Value):
		return result.Word("-")
	}
	return length(d.Value)
}

// holes says how wide the cut-outs for cones are.
func (w drawing) holes() []result.Part {
	var out []result.Part
	if texts := w.holeTexts(); len(texts) > 0 {
		out = append(out, result.Prose{Shown: result.At(result.Screen), Texts: texts})
	}
	return out
}

// CutNotes say what the layers of a file to cut by hold.
func CutNotes(d *design.Design, f *fit.Fit) []result.Text {
	w := drawing{Design: d, fit: f, Layout: f.Layout}
	out := []result.Text{result.Plain("panels from outside, outside sizes, mm; layer FRONT: front; SIDE: left panel with the front at its left, right panel with the front at its right")}
	for _, c := range w.Panels() {
		if c.Sheet == layout.RearSheet {
			out = append(out, result.Plain("layer REAR: rear panel"))
		}
	}
	if len(w.Of(layout.Plate, layout.Woofers)) > 0 {
		out = append(out, result.Plain("layer PLATE: insert's plate for each column of woofers, from the left as seen from behind; the front has an opening for each"))
	}
	if _, ok := d.Folded(); ok {
		out = append(out, result.Plain("layer FOLD: folded path, side view, forward to the right"))
	}
	return append(out, w.holeTexts()...)
}

// holeTexts say for each band how wide the cones' holes are, and what has none for want of
// a place.
func (w drawing) holeTexts() []result.Text {
	var out []result.Text
	for _, band := range []layout.Band{layout.Woofers, layout.Mids} {
		if h, ok := w.coneHole(band); ok && h.Flange {
			out = append(out, result.Say("The hole of a "+bandWords[band]+" is cut as wide as its flange, %s: its effective diameter is not given.", length(h.Height)))
		} else if ok {
			out = append(out, result.Say("The hole of a "+bandWords[band]+" is cut as wide as its piston, %s.", length(h.Height)))
		}
	}
	for i := range w.Parts {
		if p := &w.Parts[i]; p.Squeezed {
			return append(out, result.Plain("No hole for the "+partName(p)+": its place is not given, and the front has no room left for it."))
		}
	}
	return out
}

// coneHole is the first cut-out for a cone of the band.
func (w drawing) coneHole(band layout.Band) (layout.Hole, bool) {
	for _, c := range w.Panels() {
		for _, h := range c.Holes {
			if h.Of.Kind == layout.Cone && h.Of.Band == band {
				return h, true
			}
		}
	}
	return layout.Hole{}, false
}
