// Package cutfile writes outlines as files for a CAD program, a cutter or a
// table: DXF with one layer for each part, and CSV with one line for each point.
package cutfile

import (
	"bytes"
	"strconv"

	"gapline/internal/cleantext"
	"gapline/internal/dxf"
	"gapline/waveguide"
)

// NotesLayer is the layer of the texts, to be switched off for cutting.
const NotesLayer = "notes"

// colours are those of the parts by name; others are black.
var colours = map[string]int{
	"wall-line": dxf.Red, "wall": dxf.Blue, "divider": dxf.Green, "layer-1": dxf.Cyan, "layer-2": dxf.Magenta,
	"throat": dxf.Red, "plate": dxf.Blue, NotesLayer: dxf.Yellow,
	"FRONT": dxf.Red, "SIDE": dxf.Blue, "REAR": dxf.Cyan, "PLATE": dxf.Green, "FOLD": dxf.Magenta,
}

// textHeight of the notes in mm, and the way from line to line.
const (
	textHeight = 5.0
	textStep   = 9.0
)

// DXF returns the outlines as a drawing in mm, each on the layer of its part's
// name, with notes below it on a layer of their own.
func DXF(outlines []waveguide.Outline, notes ...string) ([]byte, error) {
	var d dxf.Drawing
	left, bottom := 0.0, 0.0
	for i, o := range outlines {
		if c, ok := colours[o.Part]; ok {
			d.AddLayer(o.Part, c)
		}
		points := make([]dxf.Point, len(o.MM))
		for j, p := range o.MM {
			points[j] = dxf.Point{X: p[0], Y: p[1]}
			if x := p[0] - o.Radius; i+j == 0 || x < left {
				left = x
			}
			if y := p[1] - o.Radius; i+j == 0 || y < bottom {
				bottom = y
			}
		}
		if o.Radius > 0 && len(points) == 1 {
			d.Circle(o.Part, points[0], o.Radius)
			continue
		}
		d.Polyline(o.Part, points, o.Closed)
	}
	if len(notes) > 0 {
		d.AddLayer(NotesLayer, colours[NotesLayer])
	}
	for i, n := range notes {
		d.Text(NotesLayer, dxf.Point{X: left, Y: bottom - textStep*float64(i+1) - textHeight}, textHeight, n)
	}
	var b bytes.Buffer
	if err := d.Write(&b); err != nil {
		return nil, err
	}
	return b.Bytes(), nil
}

// CSV returns the outlines' points. The columns are part, closed, point, and the
// two coordinates in mm under the given names.
func CSV(outlines []waveguide.Outline, across, up string) ([]byte, error) {
	var b bytes.Buffer
	w := cleantext.NewCSV(&b)
	rows := [][]string{{"part", "closed", "point", across + "_mm", up + "_mm"}}
	for _, o := range outlines {
		for i, p := range o.MM {
			rows = append(rows, []string{o.Part, strconv.FormatBool(o.Closed), strconv.Itoa(i + 1), number(p[0]), number(p[1])})
		}
	}
	err := w.WriteAll(rows)
	return b.Bytes(), err
}

// number prints to 1e-4 mm, as the DXF does, without a negative zero.
func number(x float64) string {
	s := strconv.FormatFloat(x, 'f', 4, 64)
	if s == "-0.0000" {
		return s[1:]
	}
	return s
}
