package describe

import (
	"fmt"
	"math"

	"gapline/cabinet/design"
	"gapline/cabinet/layout"
	"gapline/internal/figure"
	"gapline/internal/result"
	"gapline/internal/study/fit"
)

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
	layout.PlateWidth:    "plate as wide as the woofers or its mouths",
	layout.PlateHeight:   "plate as high as the woofers or its mouths",
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
