package plots

import "gonum.org/v1/plot/vg"

// Narrow returns fig set for a narrow column, such as a telephone's of about 360
// pixels: drawn on a sheet less than half as wide, so that its texts stand larger once
// the column scales it. Keys and labels move from beside the data to above or below
// them; proportions of IEC 60263 hold.
func Narrow(fig Figure) Figure {
	return fig.recaptioned(func(c *Caption) { c.narrow = true })
}

// Within returns fig for a document whose pages name the design and the air already, with
// the conditions as shorter has them; nil leaves them.
func Within(fig Figure, design, air string, shorter func(conditions string) string) Figure {
	return fig.recaptioned(func(c *Caption) {
		if shorter != nil {
			c.Subtitle = shorter(c.Subtitle)
		}
		if c.Design == design {
			c.Design = ""
		}
		if c.Air == air {
			c.Air = ""
		}
	})
}

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

func (c Chart) recaptioned(set func(*Caption)) Figure     { set(&c.Caption); return c }
func (b Beamwidth) recaptioned(set func(*Caption)) Figure { set(&b.Caption); return b }
func (l Lever) recaptioned(set func(*Caption)) Figure     { set(&l.Caption); return l }
func (b Bars) recaptioned(set func(*Caption)) Figure      { set(&b.Caption); return b }
func (c Strip) recaptioned(set func(*Caption)) Figure     { set(&c.Caption); return c }
func (m Map) recaptioned(set func(*Caption)) Figure       { set(&m.Caption); return m }
func (g GapMap) recaptioned(set func(*Caption)) Figure    { set(&g.Caption); return g }
func (f FieldMap) recaptioned(set func(*Caption)) Figure  { set(&f.Caption); return f }
func (a AngleMap) recaptioned(set func(*Caption)) Figure  { set(&a.Caption); return a }
func (d Drawing) recaptioned(set func(*Caption)) Figure   { set(&d.Caption); return d }
func (b Oblique) recaptioned(set func(*Caption)) Figure   { set(&b.Caption); return b }
func (c Polar) recaptioned(set func(*Caption)) Figure     { set(&c.Caption); return c }
func (c Scatter) recaptioned(set func(*Caption)) Figure   { set(&c.Caption); return c }
