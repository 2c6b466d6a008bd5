package layout

import (
	"math"
	"testing"

	"gapline/cabinet/design"
	"gapline/driver"
	"gapline/internal/optional"
)

// area of an outline by the shoelace formula, positive counter-clockwise.
func area(o [][2]float64) float64 {
	sum := 0.0
	for i, p := range o {
		q := o[(i+1)%len(o)]
		sum += p[0]*q[1] - q[0]*p[1]
	}
	return sum / 2
}

// A viewer looks along d with the picture's up u; the picture's right is d × u. What is
// projected must be those two components of a place.
func TestProjectionsAreThoseOfAViewer(t *testing.T) {
	p := Vec{X: -0.2, Y: 0.3, Z: 0.05}
	for v, up := range map[View]Vec{FromFront: {Z: 1}, FromAbove: {X: -1}, FromRight: {Z: 1}} {
		looks := v.toward().Scale(-1)
		x, y := v.Project(p)
		if right := looks.Cross(up); math.Abs(x-p.Dot(right)) > 1e-15 || math.Abs(y-p.Dot(up)) > 1e-15 {
			t.Errorf("view %d: (%g, %g), want (%g, %g)", v, x, y, p.Dot(right), p.Dot(up))
		}
	}
}

// A cone 200 mm wide, its back half as wide, 100 mm deep: a trapezium of 0.015 m² from
// above at whatever turn, and from the front an ellipse of π/4·d²·cos of its turn. The rim
// of 72 corners takes sin(2π/72)·72/2π of a circle; bodies are drawn in by micrometres.
func TestConesInPictures(t *testing.T) {
	polygon := math.Sin(2*math.Pi/rimPoints) * rimPoints / (2 * math.Pi)
	for _, turn := range []float64{0, math.Pi / 6, -math.Pi / 4} {
		d := box()
		d.Bands.Woofer.Turn, d.Bands.Woofer.Setback = optional.Of(turn), optional.Of(0.05)
		l := New(&d)
		p := &l.Parts[l.Of(Cone, Woofers)[0]]
		if got, want := area(p.Silhouette(FromAbove)), 0.1*(0.2+0.1)/2; math.Abs(got-want) > 1e-6 {
			t.Errorf("turned by %g: %g m² from above, want %g", turn, got, want)
		}
		if got, want := area(p.Face(FromFront, 0.2)), math.Pi/4*0.04*math.Cos(turn)*polygon; math.Abs(got-want) > 1e-12 {
			t.Errorf("turned by %g: %g m² from the front, want %g", turn, got, want)
		}
	}
}

// From above the upper of two rows covers the lower; from the right a horn on the right
// covers a woofer on the left that reaches less far forward in the picture than it.
func TestWhatIsCovered(t *testing.T) {
	d := box()
	d.Woofer.Size, d.Woofer.PerBox, d.Woofer.Spacing = optional.Of(0.12), 2, optional.Of(0.14)
	l := New(&d)
	cones := l.Of(Cone, Woofers)
	if low, high := l.Covered(cones[0], FromAbove), l.Covered(cones[1], FromAbove); !low || high {
		t.Errorf("lower row covered: %v, upper row: %v", low, high)
	}
	horn := l.Of(HornBody, Horn)[0]
	if l.Covered(horn, FromRight) || !l.Covered(cones[0], FromRight) {
		t.Error("from the right the horn covers the woofers behind it")
	}
}

// Cut-outs have the areas of the file's values: π·d²/4 and w·h.
func TestCutOutsHaveTheFilesAreas(t *testing.T) {
	d := box()
	d.Cabinet.RearHeight = optional.Of(0.26)
	d.Woofer.EffectiveDiameter = optional.Of(0.165)
	d.Enclosure.Kind, d.Enclosure.Radiator.Sd, d.Enclosure.Radiator.Count = driver.PassiveRadiator, optional.Of(0.02), 2
	d.Enclosure.RadiatorPlace = design.Outlet{Panel: design.SidePanels, Offset: optional.Of(0.3)}
	l := New(&d)
	want := map[Sheet]struct{ outside, holes float64 }{
		FrontSheet: {0.6 * 0.3, math.Pi/4*0.165*0.165 + 0.3*0.25},
		LeftSheet:  {0.5 * (0.3 + 0.26) / 2, 0.02},
		RightSheet: {0.5 * (0.3 + 0.26) / 2, 0.02},
	}
	panels := l.Panels()
	if len(panels) != len(want) {
		t.Fatalf("%d panels, want %d", len(panels), len(want))
	}
	for _, c := range panels {
		holes := 0.0
		for _, h := range c.Holes {
			if h.Round {
				holes += math.Pi / 4 * h.Width * h.Height
			} else {
				holes += h.Width * h.Height
			}
		}
		if w := want[c.Sheet]; math.Abs(area(c.Outline)-w.outside) > 1e-12 || math.Abs(holes-w.holes) > 1e-12 {
			t.Errorf("sheet %d: %g m² outside and %g m² of holes, want %+v", c.Sheet, area(c.Outline), holes, w)
		}
	}
}

// Panels are seen from outside: the left one has the front at its left, the right one at
// its right, and a hole stands behind the front by its offset.
func TestPanelsAreSeenFromOutside(t *testing.T) {
	d := box()
	d.Enclosure.Kind, d.Enclosure.Radiator.Sd, d.Enclosure.Radiator.Count = driver.PassiveRadiator, optional.Of(0.02), 2
	d.Enclosure.RadiatorPlace = design.Outlet{Panel: design.SidePanels, Offset: optional.Of(0.3)}
	for _, c := range New(&d).Panels() {
		switch c.Sheet {
		case LeftSheet:
			if c.Holes[0].X != 0.3 {
				t.Errorf("left panel: hole at %g", c.Holes[0].X)
			}
		case RightSheet:
			if c.Holes[0].X != -0.3 {
				t.Errorf("right panel: hole at %g", c.Holes[0].X)
			}
		}
	}
}

// No sheet meets another, and every outline is closed.
func TestSheetsStandApart(t *testing.T) {
	d := box()
	d.Woofer.PerBox, d.Bands.Woofer.Lateral = 2, optional.Of(0.3)
	d.Insert.Mouths, d.Insert.MouthWidth, d.Insert.MouthHeight = 2, optional.Of(0.07), optional.Of(0.08)
	outlines, err := New(&d).Outlines()
	if err != nil {
		t.Fatal(err)
	}
	plates, end, layer := 0, math.Inf(-1), ""
	for _, o := range outlines {
		low, high := math.Inf(1), math.Inf(-1)
		for _, p := range o.MM {
			low, high = math.Min(low, p[0]-o.Radius), math.Max(high, p[0]+o.Radius)
		}
		if !o.Closed {
			t.Errorf("an outline on %s is open", o.Part)
		}
		if o.Part == PlateLayer && len(o.MM) == 4 && high-low > 199 {
			plates++
		}
		if low > end && o.Part == layer && o.Part == FrontLayer {
			t.Errorf("a cut-out on %s lies outside its panel", o.Part)
		}
		if o.Part != layer && low <= end {
			t.Errorf("%s begins at %g mm, what stands left of it ends at %g", o.Part, low, end)
		}
		layer, end = o.Part, math.Max(end, high)
	}
	if plates != 2 {
		t.Errorf("%d plates for two columns of woofers", plates)
	}
}

// A sketch has panels with what it states and no holes of no size.
func TestPanelsOfASketch(t *testing.T) {
	d := design.New()
	d.Cabinet.Height, d.Insert.Mouths = optional.Of(0.25), 2
	l := New(&d)
	for _, c := range l.Panels() {
		if c.Sheet != FrontSheet || len(c.Holes) > 0 {
			t.Errorf("sheet %d with %d holes", c.Sheet, len(c.Holes))
		}
	}
	if _, err := l.Outlines(); err != nil {
		t.Error(err)
	}
}
