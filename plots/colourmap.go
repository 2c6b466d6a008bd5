package plots

import (
	"image/color"
	"math"

	"gapline/internal/quantity"
)

// Scheme is a colour scheme for maps. The first two run from light to dark
// without turning back, so that a grey print keeps their order.
type Scheme int

const (
	// LevelScheme runs from pale yellow (low) over green to dark blue (high).
	LevelScheme Scheme = iota
	// GapScheme is for values about zero: blue tints below (the closed side),
	// orange to brown above (the open side), darker the wider the gap.
	GapScheme
	// PressureScheme is for a quantity that swings about zero: blue below, white
	// at zero, orange to brown above, as dark on either side.
	PressureScheme
)

// schemeStops are the corner colours of the schemes in Oklch: lightness 0 to 1,
// chroma, hue in degrees (Ottosson, "A perceptual color space for image
// processing", 2020).
var (
	levelStops = []oklch{{0.96, 0.06, 105}, {0.86, 0.11, 125}, {0.72, 0.12, 165}, {0.56, 0.10, 220}, {0.40, 0.11, 260}, {0.25, 0.09, 285}}
	belowStops = []oklch{{0.97, 0.015, 235}, {0.80, 0.075, 235}}
	aboveStops = []oklch{{0.86, 0.10, 80}, {0.68, 0.14, 60}, {0.45, 0.11, 45}}
	minusStops = []oklch{{0.985, 0.005, 235}, {0.72, 0.11, 240}, {0.38, 0.12, 260}}
	plusStops  = []oklch{{0.985, 0.005, 80}, {0.76, 0.13, 65}, {0.42, 0.11, 45}}
)

// colour maps v within low to high. Where zero is special both sides of it share
// one scale: equal distances from zero are equally far along their sides. A gap that
// lies on one side alone takes all of that side's colours.
func (s Scheme) colour(v, low, high float64) color.NRGBA {
	if s == LevelScheme {
		return along(levelStops, (v-low)/(high-low))
	}
	if s == GapScheme && low >= 0 {
		return along(aboveStops, (v-low)/(high-low))
	}
	if s == GapScheme && high <= 0 {
		return along(belowStops, (v-low)/(high-low))
	}
	reach := math.Max(math.Abs(low), math.Abs(high))
	switch {
	case s == PressureScheme && v < 0:
		return along(minusStops, -v/reach)
	case s == PressureScheme:
		return along(plusStops, v/reach)
	case v < 0:
		return along(belowStops, 1+v/reach)
	}
	return along(aboveStops, v/reach)
}

type oklch struct{ l, c, h float64 }

// along interpolates between stops at 0 to 1.
func along(stops []oklch, t float64) color.NRGBA {
	t = min(max(t, 0), 1) * float64(len(stops)-1)
	i := min(int(t), len(stops)-2)
	a, b, f := stops[i], stops[i+1], t-float64(i)
	mix := func(x, y float64) float64 { return x + f*(y-x) }
	return oklch{mix(a.l, b.l), mix(a.c, b.c), mix(a.h, b.h)}.rgb()
}

// rgb converts Oklch to sRGB with the matrices of Ottosson 2020; colours outside
// sRGB are cut channel by channel.
func (o oklch) rgb() color.NRGBA {
	sin, cos := math.Sincos(o.h * quantity.Degree)
	a, b := o.c*cos, o.c*sin
	l := cube(o.l + 0.3963377774*a + 0.2158037573*b)
	m := cube(o.l - 0.1055613458*a - 0.0638541728*b)
	s := cube(o.l - 0.0894841775*a - 1.2914855480*b)
	return color.NRGBA{
		gamma(4.0767416621*l - 3.3077115913*m + 0.2309699292*s),
		gamma(-1.2684380046*l + 2.6097574011*m - 0.3413193965*s),
		gamma(-0.0041960863*l - 0.7034186147*m + 1.7076147010*s), 0xFF}
}

func cube(x float64) float64 { return x * x * x }

// gamma applies the sRGB transfer curve to a linear channel of 0 to 1.
func gamma(v float64) uint8 {
	v = min(max(v, 0), 1)
	if v <= 0.0031308 {
		v *= 12.92
	} else {
		v = 1.055*math.Pow(v, 1/2.4) - 0.055
	}
	return uint8(math.Round(v * 255))
}
