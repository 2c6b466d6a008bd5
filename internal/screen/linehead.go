package screen

import (
	"fmt"
	"math"
	"strings"

	"gapline/cabinet/field"
	"gapline/cabinet/sizing"
	"gapline/internal/numeric"
	"gapline/internal/quantity"
	"gapline/internal/study/line"
)

func (v *lineView) heading() string {
	d := v.r.Design
	title := d.Title
	if title == "" {
		title = "untitled design"
	}
	return fmt.Sprintf("%s\n", title) + Wrap(v.stack(), lineWidth, "", "") + Wrap(v.conditions(), lineWidth, "", "") + v.bands()
}

// headLines are the lines under the title, unwrapped.
func (v *lineView) headLines() string {
	lines := []string{v.stack(), v.conditions()}
	for _, band := range strings.Split(strings.TrimSpace(v.bands()), "\n") {
		lines = append(lines, strings.TrimSpace(band))
	}
	return strings.Join(lines, "; ")
}

// stack says where the boxes hang.
func (v *lineView) stack() string {
	d := v.r.Design
	parts := []string{fmt.Sprintf("%d boxes at %s pitch", d.Line.Boxes, v.length(d.Pitch()))}
	if d.Line.Boxes > 1 {
		splay := "straight"
		if turn := v.r.TotalSplay(); turn != 0 {
			splay = v.angle(turn) + " of splay in all"
		}
		parts = append(parts, splay)
	}
	if top := v.r.Model.Stack.TopHeight; numeric.Given(top) {
		parts = append(parts, "top at "+v.far(top), "lowest corner at "+v.far(v.r.Lowest()))
	}
	if tilt := orZero(d.Line.Tilt); tilt != 0 {
		parts = append(parts, "top box tilted "+v.tilt(-tilt))
	}
	parts = append(parts, "axis "+v.tilt(v.r.AxisDown()))
	s := sizing.Sizing{}
	s.Air.SoundSpeed = v.r.SoundSpeed()
	return strings.Join(parts, ", ") + "; air " + AirText(d, &s, v.sys)
}

// tilt words an angle counted downward.
func (v *lineView) tilt(down float64) string {
	switch {
	case math.Abs(down) < 5e-4:
		return "level"
	case down > 0:
		return v.angle(down) + " down"
	}
	return v.angle(-down) + " up"
}

func orZero(x float64) float64 {
	if math.IsNaN(x) {
		return 0
	}
	return x
}

func (v *lineView) conditions() string {
	return "Predicted, trust aperture: " + LineConditions(v.r.Study) + ". Levels in " + LineReference(v.r.Study) + "."
}

// LineConditions words what a study assumes.
func LineConditions(s *line.Study) string {
	boundary := "mouths in the open"
	if s.Conditions.Boundary == field.Baffled {
		boundary = "each mouth in its own wall"
	}
	floor := "no floor"
	if g := s.Conditions.Ground; g > 0 {
		floor = fmt.Sprintf("floor reflecting %.0f %%", 100*g)
	}
	return boundary + ", " + floor + ", boxes do not shade each other"
}

// LineReference says what 0 dB is and at which drive.
func LineReference(s *line.Study) string {
	if !s.Model.Absolute {
		return s.Model.Reference() + " (relative: no level is known)"
	}
	return fmt.Sprintf("%s at %s a box", s.Model.Reference(), quantity.Format(s.Model.Voltage, quantity.Voltage, quantity.Metric))
}

func (v *lineView) bands() string {
	t := &Table{}
	for i := range v.r.Model.Bands {
		b := &v.r.Model.Bands[i]
		text := b.Origin
		if numeric.Given(b.Turned) && math.Abs(b.Turned) > 0.05 {
			text += fmt.Sprintf(" (turned %+.1f dB)", b.Turned)
		}
		t.Row(fmt.Sprintf("  %s, %s a box: %s", b.Name, b.What, strings.TrimSuffix(text, ", ")))
	}
	var out strings.Builder
	_, _ = t.WriteTo(&out) // a Builder does not fail
	return out.String()
}
