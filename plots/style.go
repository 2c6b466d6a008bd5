package plots

import (
	"image/color"
	"math"

	"gonum.org/v1/plot/vg"
)

// Sizes of the house style, in points.
const (
	sheetWidth  vg.Length = 510 // 180 mm: a page of A4 or letter between margins
	sheetMargin vg.Length = 14

	titleSize    vg.Length = 12.5
	subtitleSize vg.Length = 9
	labelSize    vg.Length = 9 // axis titles, curve labels
	tickSize     vg.Length = 8
	noteSize     vg.Length = 8 // texts inside a chart
	footerSize   vg.Length = 7

	lineSpacing vg.Length = 1.22 // line pitch over font size
)

// Ink colours. All texts keep a contrast of 4.5 : 1 or more on white.
var (
	ink       = color.NRGBA{0x1E, 0x22, 0x28, 0xFF}
	inkSoft   = color.NRGBA{0x55, 0x5B, 0x63, 0xFF}
	frameInk  = color.NRGBA{0x60, 0x66, 0x6E, 0xFF}
	gridMajor = color.NRGBA{0xC9, 0xCD, 0xD2, 0xFF}
	gridMinor = color.NRGBA{0xEA, 0xEC, 0xEF, 0xFF}
	paper     = color.NRGBA{0xFF, 0xFF, 0xFF, 0xFF}
	plate     = color.NRGBA{0xFF, 0xFF, 0xFF, 0xE0} // behind texts on busy ground
	solidFill = color.NRGBA{0xDD, 0xDF, 0xE2, 0xFF} // bodies in section

	openTint   = color.NRGBA{0xF6, 0xC9, 0x8E, 0x70} // no frequency served by both
	openInk    = color.NRGBA{0x9A, 0x45, 0x00, 0xFF}
	closedTint = color.NRGBA{0x9C, 0xC8, 0xDD, 0x70} // overlap: the gap is closed
	closedInk  = color.NRGBA{0x0B, 0x4F, 0x6C, 0xFF}
)

// palette holds the curve colours. They differ in lightness (so that a grey
// print keeps them apart) as well as in hue along the blue-orange axis, which
// the common colour-vision deficiencies keep. Each is 3 : 1 or better on white.
var palette = [...]color.NRGBA{
	{0x0A, 0x3A, 0x82, 0xFF}, // deep blue
	{0xDB, 0x6A, 0x0B, 0xFF}, // orange
	{0x00, 0x7C, 0x6E, 0xFF}, // sea green
	{0x5B, 0x0E, 0x33, 0xFF}, // dark plum
	{0x4C, 0x94, 0xC9, 0xFF}, // sky blue
	{0xB0, 0x2A, 0x4C, 0xFF}, // carmine
}

// Dash names a line pattern.
type Dash int

// The line patterns. AutoDash takes the next of the others in turn, together
// with the next colour.
const (
	AutoDash Dash = iota
	Solid
	Dashed
	Dotted
	DashDot
	LongDash
	ShortDash
)

var dashPatterns = map[Dash][]vg.Length{
	Dashed:    {7, 3},
	Dotted:    {1.6, 2.2},
	DashDot:   {8, 2.5, 1.6, 2.5},
	LongDash:  {13, 3.5},
	ShortDash: {3.5, 2},
}

// autoDash is the order in which AutoDash hands out patterns.
var autoDash = [...]Dash{Solid, LongDash, DashDot, ShortDash, Dashed, Dotted}

// curveStroke returns the line of the i-th curve of a chart.
func curveStroke(i int, dash Dash) stroke {
	if dash == AutoDash {
		dash = autoDash[(i+i/len(palette))%len(autoDash)] // a repeated colour comes with another pattern
	}
	return stroke{color: palette[i%len(palette)], width: 1.5, dash: dashPatterns[dash]}
}

// textColour returns c darkened, where needed, until text in it has a contrast
// of 4.5 : 1 on white (WCAG 2, criterion 1.4.3).
func textColour(c color.NRGBA) color.NRGBA {
	c.A = 0xFF
	for contrastOnWhite(c) < 4.5 {
		c.R, c.G, c.B = uint8(float64(c.R)*0.96), uint8(float64(c.G)*0.96), uint8(float64(c.B)*0.96)
	}
	return c
}

// contrastOnWhite is the WCAG 2 contrast ratio of c on white.
func contrastOnWhite(c color.NRGBA) float64 { return 1.05 / (luminance(c) + 0.05) }

// luminance is the relative luminance of an sRGB colour, 0 to 1 (IEC 61966-2-1).
func luminance(c color.NRGBA) float64 {
	return 0.2126*linear(c.R) + 0.7152*linear(c.G) + 0.0722*linear(c.B)
}

// linear undoes the sRGB transfer curve of one channel.
func linear(v uint8) float64 {
	s := float64(v) / 255
	if s <= 0.04045 {
		return s / 12.92
	}
	return math.Pow((s+0.055)/1.055, 2.4)
}
