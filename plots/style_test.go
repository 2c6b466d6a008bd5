package plots

import (
	"image/color"
	"math"
	"testing"
)

// Limits of WCAG 2.1: criterion 1.4.3 (text, AA) and 1.4.11 (graphics).
const (
	textContrast    = 4.5
	graphicContrast = 3.0
)

func TestContrastOfKnownGreys(t *testing.T) {
	// Black on white is 21 : 1 by the definition; #767676 is the well-known lightest
	// grey that passes 4.5 : 1, #777777 the first that does not.
	if got := contrastOnWhite(color.NRGBA{A: 255}); math.Abs(got-21) > 1e-12 {
		t.Errorf("contrast of black = %g, want 21", got)
	}
	if got := contrastOnWhite(color.NRGBA{0x76, 0x76, 0x76, 255}); got < textContrast {
		t.Errorf("contrast of #767676 = %g, want 4.5 or more", got)
	}
	if got := contrastOnWhite(color.NRGBA{0x77, 0x77, 0x77, 255}); got >= textContrast {
		t.Errorf("contrast of #777777 = %g, want less than 4.5", got)
	}
}

func TestInkContrasts(t *testing.T) {
	for _, c := range []color.NRGBA{ink, inkSoft, openInk, closedInk} {
		if got := contrastOnWhite(c); got < textContrast {
			t.Errorf("text colour %v: contrast %.2f, want %g", c, got, textContrast)
		}
	}
	for i, c := range palette {
		if got := contrastOnWhite(c); got < graphicContrast {
			t.Errorf("curve colour %d: contrast %.2f, want %g", i+1, got, graphicContrast)
		}
		if got := contrastOnWhite(textColour(c)); got < textContrast {
			t.Errorf("label colour of curve %d: contrast %.2f, want %g", i+1, got, textContrast)
		}
		on := textOn(c)
		a, b := luminance(on)+0.05, luminance(c)+0.05
		if got := math.Max(a/b, b/a); got < textContrast-0.05 {
			t.Errorf("text on bar colour %d: contrast %.2f, want %g", i+1, got, textContrast)
		}
	}
}

// lab converts linear sRGB to CIE 1976 L*a*b* with white D65 (IEC 61966-2-1
// matrix; from memory).
func lab(r, g, b float64) [3]float64 {
	f := func(t float64) float64 {
		if t > 216.0/24389 {
			return math.Cbrt(t)
		}
		return (24389.0/27*t + 16) / 116
	}
	x := f((0.4124*r + 0.3576*g + 0.1805*b) / 0.9505)
	y := f(0.2126*r + 0.7152*g + 0.0722*b)
	z := f((0.0193*r + 0.1192*g + 0.9505*b) / 1.0890)
	return [3]float64{116*y - 16, 500 * (x - y), 200 * (y - z)}
}

// visions are how a colour looks to people who see it all, and who lack the long
// or the middle cones (Viénot, Brettel & Mollon, Color Res. Appl. 24, 1999, in
// the linear sRGB form; matrices from memory), and in grey print.
func visions(c color.NRGBA) map[string][3]float64 {
	r, g, b := linear(c.R), linear(c.G), linear(c.B)
	protan := 0.11238*r + 0.88762*g
	deutan := 0.29275*r + 0.70725*g
	y := luminance(c)
	return map[string][3]float64{
		"full":   lab(r, g, b),
		"protan": lab(protan, protan, 0.00401*r-0.00401*g+b),
		"deutan": lab(deutan, deutan, -0.02234*r+0.02234*g+b),
		"grey":   lab(y, y, y),
	}
}

func TestPaletteIsToldApart(t *testing.T) {
	// A difference of 2.3 is just noticeable side by side; curves lie apart, so ask
	// for several times that. Grey relies on dash patterns too: pairs closer than
	// this in grey must differ in pattern.
	const apart = 12.0
	for i, a := range palette {
		for j, b := range palette[:i] {
			for name, va := range visions(a) {
				vb := visions(b)[name]
				d := math.Sqrt((va[0]-vb[0])*(va[0]-vb[0]) + (va[1]-vb[1])*(va[1]-vb[1]) + (va[2]-vb[2])*(va[2]-vb[2]))
				if d < apart && autoDash[i] == autoDash[j] {
					t.Errorf("colours %d and %d, %s vision: difference %.1f, want %g or different dashes", j+1, i+1, name, d, apart)
				}
				if name != "grey" && d < apart/2 {
					t.Errorf("colours %d and %d, %s vision: difference %.1f, want %g", j+1, i+1, name, d, apart/2)
				}
			}
		}
	}
}

func TestManyCurvesDiffer(t *testing.T) {
	seen := map[string]int{}
	for i := range len(palette) * 3 {
		st := curveStroke(i, AutoDash)
		key := string([]byte{st.color.R, st.color.G, st.color.B})
		for _, d := range st.dash {
			key += number(d) + " "
		}
		if j, dup := seen[key]; dup {
			t.Errorf("curves %d and %d look the same", j, i)
		}
		seen[key] = i
	}
}

func TestSchemesDarkenSteadily(t *testing.T) {
	for _, s := range []Scheme{LevelScheme, GapScheme} {
		last := 2.0
		for i := range 101 {
			v := -1 + 2*float64(i)/100
			l := luminance(s.colour(v, -1, 1))
			// At zero the gap scheme changes hue, with a step up in lightness of
			// less than the steps of either side.
			if l > last+0.004 && !(s == GapScheme && v >= 0 && v < 0.03) {
				t.Errorf("scheme %d brightens at %g: %g after %g", s, v, l, last)
			}
			last = l
		}
	}
}

// A gap on one side of zero runs through all colours of that side, from one end of the
// range to the other.
func TestGapSchemeUsesTheRangeOfOneSide(t *testing.T) {
	for _, c := range []struct{ low, high float64 }{{0.3, 1.4}, {-2, -0.5}} {
		stops := aboveStops
		if c.high <= 0 {
			stops = belowStops
		}
		if got, want := GapScheme.colour(c.low, c.low, c.high), stops[0].rgb(); got != want {
			t.Errorf("lowest of %v: %v, want %v", c, got, want)
		}
		if got, want := GapScheme.colour(c.high, c.low, c.high), stops[len(stops)-1].rgb(); got != want {
			t.Errorf("highest of %v: %v, want %v", c, got, want)
		}
	}
}
