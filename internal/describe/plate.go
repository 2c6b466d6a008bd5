package describe

import (
	"fmt"

	"gapline/cabinet/design"
	"gapline/cabinet/sizing"
	"gapline/internal/figure"
	"gapline/internal/result"
	"gapline/waveguide"
)

// Plate describes the plate of a design's insert: its measures and its drawing. The
// error says why it cannot be.
func Plate(d *design.Design, s *sizing.Sizing) (*result.Result, error) {
	p := d.InsertPlate()
	outlines, err := p.Outlines()
	if err != nil {
		return nil, err
	}
	r := &result.Result{Title: d.Title}
	if n := d.WooferColumns(); n > 1 {
		r.Head = []result.Text{result.Say("one of %s equal plates, one in front of each column of woofers", result.Count(n))}
	}
	r.Add(plateTable(p))
	ys := plateMouths(p)
	mouth := result.Section{Shown: result.At(result.Data), Key: "mouth", Parts: []result.Part{
		facts(result.Fig(figure.PlateMouthWidth, p.MouthWidth), result.Fig(figure.PlateMouthHeight, p.MouthHeight)),
		named("y_m", result.Figs(figure.PlateMouthY, ys)),
	}}
	r.Add(result.Section{Shown: result.At(result.Data), Key: "plate", Parts: []result.Part{
		facts(result.Fig(figure.PlateWidth, p.Width), result.Fig(figure.PlateHeight, p.Height))}}, mouth, plateDrawing(d, s, p, outlines))
	return r, nil
}

// plateMouths are the heights in m of the mouths' middles above the plate's, bottom
// first.
func plateMouths(p waveguide.InsertPlate) []float64 {
	out := make([]float64, p.Mouths)
	for i := range out {
		if p.Mouths > 1 {
			out[i] = p.Spacing * (float64(i) - float64(p.Mouths-1)/2)
		}
	}
	return out
}

func plateTable(p waveguide.InsertPlate) result.Table {
	var rows result.List
	rows.Row(result.Plain("plate"), result.Fig(figure.PlateWidth, p.Width), result.Fig(figure.PlateHeight, p.Height))
	for i, y := range plateMouths(p) {
		rows.Row(result.Plain(fmt.Sprintf("mouth %d", i+1)), result.Fig(figure.PlateMouthWidth, p.MouthWidth),
			result.Fig(figure.PlateMouthHeight, p.MouthHeight), result.Fig(figure.PlateMouthY, y))
	}
	return result.Table{Shown: result.At(result.Screen), Title: result.Plain("INSERT PLATE"), Rows: rows.Rows(),
		Columns: []result.Column{headed(value, "width"), headed(value, "height"), headed(value, "middle above the plate's")}}
}

// plateDrawing draws the plate with its mouths, from the front.
func plateDrawing(d *design.Design, s *sizing.Sizing, p waveguide.InsertPlate, outlines []waveguide.Outline) result.Shape {
	out := result.Shape{Shown: result.At(result.Drawn | result.Page)}
	out.X, out.Y = sheet("x, across", "y, up")
	for i, o := range outlines {
		kind := result.Outline
		if i > 0 {
			kind = result.Layer
		}
		out.Lines = append(out.Lines, outlined(o, kind, o.Part))
	}
	w, h, first := p.Width/2, p.Height/2, plateMouths(p)[0]
	left, low := -p.MouthWidth/2, first-p.MouthHeight/2
	out.Dimensions = []result.Dimension{
		dimension(w, -h, w, h, -26, "plate"), dimension(-w, -h, w, -h, -16, "plate"),
		dimension(left, low, -left, low, 12, ""), dimension(left, low, left, first+p.MouthHeight/2, 14, ""),
	}
	if p.Mouths > 1 {
		out.Dimensions = append(out.Dimensions, dimension(-w, first, -w, first+p.Spacing, 18, "spacing"))
	}
	out.Caption = captioned(result.Caption{ID: "plate", Title: "Insert plate, from the front", Trust: "geometry", Page: "The insert's plate from the front",
		Subtitle: result.Say(fmt.Sprintf("%d mouths; plate %%s thick", p.Mouths), length(d.Insert.SlotDepth.Value())),
		Alt:      result.Say(fmt.Sprintf("Plate of %%s by %%s with %d mouths.", p.Mouths), length(p.Width), length(p.Height))}, d, s)
	return out
}
