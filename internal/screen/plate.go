package screen

import (
	"fmt"
	"io"

	"gapline/internal/cutfile"
	"gapline/internal/quantity"
	"gapline/waveguide"
)

// plateMouths are the heights in m of the mouths' middles above the plate's,
// bottom first.
func plateMouths(p waveguide.InsertPlate) []float64 {
	out := make([]float64, p.Mouths)
	for i := range out {
		if p.Mouths > 1 {
			out[i] = p.Spacing * (float64(i) - float64(p.Mouths-1)/2)
		}
	}
	return out
}

// Plate writes the measures of an insert's plate.
func Plate(w io.Writer, title string, p waveguide.InsertPlate, sys quantity.System) error {
	show := func(m float64) string { return quantity.Format(m, quantity.Length, sys) }
	if title == "" {
		title = "untitled design"
	}
	if _, err := fmt.Fprintf(w, "%s\n", title); err != nil {
		return err
	}
	t := &Table{}
	t.Row("INSERT PLATE", "width", "height", "middle above the plate's")
	t.Row("  plate", show(p.Width), show(p.Height), "")
	for i, y := range plateMouths(p) {
		t.Row(fmt.Sprintf("  mouth %d", i+1), show(p.MouthWidth), show(p.MouthHeight), show(y))
	}
	_, err := t.WriteTo(w)
	return err
}

// PlateObject is the JSON of an insert's plate.
func PlateObject(title string, p waveguide.InsertPlate) *Object {
	o := &Object{}
	o.Set("schema_version", SchemaVersion).Set("title", title)
	o.Set("plate", (&Object{}).Set("width_m", Number(p.Width)).Set("height_m", Number(p.Height)))
	return o.Set("mouth", (&Object{}).Set("width_m", Number(p.MouthWidth)).Set("height_m", Number(p.MouthHeight)).
		Set("y_m", Numbers(plateMouths(p))))
}

// OutlineCSV writes the points of outlines seen from the front.
func OutlineCSV(w io.Writer, outlines []waveguide.Outline) error {
	data, err := cutfile.CSV(outlines, "x", "y")
	if err != nil {
		return err
	}
	_, err = w.Write(data)
	return err
}
