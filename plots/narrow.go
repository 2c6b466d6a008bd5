package plots

import "gonum.org/v1/plot/vg"

// Narrow returns fig set for a narrow column, such as a telephone's of about 360
// pixels: drawn on a sheet less than half as wide, so that its texts stand larger once
// the column scales it. Keys and labels move from beside the data to above or below
// them; proportions of IEC 60263 hold.
func Narrow(fig Figure) Figure { return fig.narrowed() }

// Measures of narrow sheets, in points.
const (
	narrowWidth  vg.Length = 240
	narrowMargin vg.Length = 6
	// narrowZoom is by how much a page shows a narrow sheet larger than it is drawn:
	// to 360 pixels of 1/96 inch.
	narrowZoom vg.Length = 270 / narrowWidth
)

// fullWidth is the width of the sheet.
func (c Caption) fullWidth() vg.Length {
	if c.narrow {
		return narrowWidth
	}
	return sheetWidth
}

// margin is what stays free on each side of the sheet.
func (c Caption) margin() vg.Length {
	if c.narrow {
		return narrowMargin
	}
	return sheetMargin
}

// bodyWidth is what lies between the margins.
func (c Caption) bodyWidth() vg.Length { return c.fullWidth() - 2*c.margin() }

// pick returns usual, or small on a narrow sheet.
func (c Caption) pick(usual, small vg.Length) vg.Length {
	if c.narrow {
		return small
	}
	return usual
}

func (c Chart) narrowed() Figure     { c.narrow = true; return c }
func (b Beamwidth) narrowed() Figure { b.narrow = true; return b }
func (l Lever) narrowed() Figure     { l.narrow = true; return l }
func (b Bars) narrowed() Figure      { b.narrow = true; return b }
func (c Strip) narrowed() Figure     { c.narrow = true; return c }
func (m Map) narrowed() Figure       { m.narrow = true; return m }
func (g GapMap) narrowed() Figure    { g.narrow = true; return g }
func (f FieldMap) narrowed() Figure  { f.narrow = true; return f }
func (a AngleMap) narrowed() Figure  { a.narrow = true; return a }
func (d Drawing) narrowed() Figure   { d.narrow = true; return d }
func (b Oblique) narrowed() Figure   { b.narrow = true; return b }
func (c Polar) narrowed() Figure     { c.narrow = true; return c }
func (c Scatter) narrowed() Figure   { c.narrow = true; return c }
