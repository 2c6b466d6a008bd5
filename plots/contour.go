package plots

// GapMap shows the gap in octaves over two levers, with the line where the gap
// just closes bold and the present design marked.
type GapMap struct {
	Caption
	X, Y    Axis
	XValues []float64
	YValues []float64
	Octaves [][]float64 // Octaves[i] belongs to YValues[i]; NaN: not computed
	Hollow  [][]bool    // as Octaves: designs that cannot be built; nil: none
	Present *Mark       // nil: not shown
}

func (g GapMap) layout() (*sheet, error) {
	m := Map{
		Caption: g.Caption, X: g.X, Y: g.Y, XValues: g.XValues, YValues: g.YValues, Z: g.Octaves, Hollow: g.Hollow,
		Value:  Axis{Label: "Gap (above 0 open, below 0 closed)", Unit: "octaves"},
		Bold:   []BoldLevel{{Value: 0, Text: "0: just closed"}},
		Scheme: GapScheme,
	}
	if g.Present != nil {
		m.Marks = []Mark{*g.Present}
	}
	return m.layout()
}
