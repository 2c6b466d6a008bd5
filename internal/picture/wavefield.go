package picture

import (
	"fmt"
	"math"
	"math/cmplx"

	"gapline/cabinet/design"
	"gapline/cabinet/section"
	"gapline/cabinet/sizing"
	"gapline/internal/bem"
	"gapline/internal/numeric"
	"gapline/internal/quantity"
	"gapline/internal/screen"
	"gapline/plots"
	"gapline/waveguide/wave"
)

// FieldView is what of a field is shown.
type FieldView struct {
	Instant bool    // the pressure at one instant; else its magnitude
	Phase   float64 // of the instant, rad after the reference point's crest
}

// scale is what a field's values are shown on; step is that between levels in dB,
// of which ten lie below the reference and six above it.
func (v FieldView) scale(reference string, step float64) (value plots.Axis, levels []float64, scheme plots.Scheme) {
	if v.Instant {
		value = plots.Axis{Label: "Pressure over amplitude at " + reference, Low: -2.2, High: 2.2}
		for k := -9; k <= 9; k += 2 {
			levels = append(levels, 0.2*float64(k))
		}
		return value, levels, plots.PressureScheme
	}
	value = plots.Axis{Label: "Level re " + reference, Unit: "dB", Low: -10 * step, High: 6 * step}
	for k := -9; k < 6; k++ {
		levels = append(levels, step*float64(k))
	}
	return value, levels, plots.LevelScheme
}

// values turns pressures into what is shown.
func (v FieldView) values(f *wave.Field, reference complex128) [][]float64 {
	turn := cmplx.Rect(1, v.Phase) / reference
	out := make([][]float64, len(f.Pressure))
	for j, row := range f.Pressure {
		out[j] = make([]float64, len(row))
		for i, p := range row {
			if v.Instant {
				out[j][i] = real(p * turn)
			} else {
				out[j][i] = math.Max(numeric.DB(cmplx.Abs(p*turn)), mapFloor)
			}
		}
	}
	return out
}

// bleed gives cells without value beside ones with a value the mean of those,
// so that the colours reach the walls; the body drawn over them covers the rest.
func bleed(z [][]float64) {
	type place struct{ j, i int }
	fill := map[place]float64{}
	for j := range z {
		for i := range z[j] {
			if !math.IsNaN(z[j][i]) {
				continue
			}
			sum, n := 0.0, 0
			for _, q := range [4]place{{j - 1, i}, {j + 1, i}, {j, i - 1}, {j, i + 1}} {
				if q.j >= 0 && q.j < len(z) && q.i >= 0 && q.i < len(z[j]) && !math.IsNaN(z[q.j][q.i]) {
					sum += z[q.j][q.i]
					n++
				}
			}
			if n > 0 {
				fill[place{j, i}] = sum / float64(n)
			}
		}
	}
	for q, v := range fill {
		z[q.j][q.i] = v
	}
}

func (v FieldView) title(what string, f float64, sys quantity.System) string {
	hz := quantity.Format(f, quantity.Frequency, sys)
	if v.Instant {
		return fmt.Sprintf("Pressure %s at %s, one instant", what, hz)
	}
	return fmt.Sprintf("Pressure level %s at %s", what, hz)
}

// PlanField draws the field around the plan section.
func PlanField(d *design.Design, s *sizing.Sizing, c *section.PlanCheck, f *wave.Field, v FieldView, sys quantity.System) plots.Map {
	x, unit := lengths(f.X, sys)
	y, _ := lengths(f.Y, sys)
	m := plots.Map{
		X: plots.Axis{Label: "Across", Unit: unit}, Y: plots.Axis{Label: "Forward of the front", Unit: unit},
		XValues: x, YValues: y, EqualAxes: true, BoldOnly: true,
	}
	m.Value, m.Levels, m.Scheme = v.scale("the far end of the axis", 3)
	m.Z = v.values(f, section.Reference(f, 0, f.Y[len(f.Y)-1]))
	bleed(m.Z)
	m.Overlays = walls(f.Outlines, 0, sys)
	for i := range m.Overlays {
		m.Overlays[i].Solid = true
	}
	m.Caption = caption(v.title("around the box in plan", f.Frequency, sys), screen.PlanText(d, c, sys), d, s, "wave", "", sys)
	return m
}

// walls draws outlines, moved to the right by shift in m.
func walls(outlines [][]bem.Point, shift float64, sys quantity.System) []plots.Overlay {
	var out []plots.Overlay
	for _, line := range outlines {
		var o plots.Overlay
		for _, p := range line {
			o.X, o.Y = append(o.X, p.X+shift), append(o.Y, p.Y)
		}
		o.X, _ = lengths(o.X, sys)
		o.Y, _ = lengths(o.Y, sys)
		out = append(out, o)
	}
	return out
}

// FoldField draws the fields in both layers of the guide side by side.
func FoldField(d *design.Design, s *sizing.Sizing, c *section.FoldCheck, first, second *wave.Field, v FieldView, sys quantity.System) plots.Map {
	shift := first.X[len(first.X)-1] - first.X[0] + 2*(first.X[1]-first.X[0])
	mouth := c.Guide.Mouth
	reference := section.Reference(second, mouth[0].X, (mouth[0].Y+mouth[1].Y)/2)
	columns := append([]float64{}, first.X...)
	for _, x := range second.X {
		columns = append(columns, x+shift)
	}
	x, unit := lengths(columns, sys)
	y, _ := lengths(first.Y, sys)
	m := plots.Map{
		X: plots.Axis{Label: "z forward; the second layer is drawn " + quantity.Format(shift, quantity.Length, sys) + " further right", Unit: unit},
		Y: plots.Axis{Label: "y", Unit: unit}, XValues: x, YValues: y, EqualAxes: true, BoldOnly: true,
	}
	m.Value, m.Levels, m.Scheme = v.scale("the middle of the mouth", 1.5)
	left, right := v.values(first, reference), v.values(second, reference)
	for j := range left {
		m.Z = append(m.Z, append(append([]float64{}, left[j]...), right[j]...))
	}
	m.Overlays = append(walls(first.Outlines, 0, sys), walls(second.Outlines, shift, sys)...)
	m.Caption = caption(v.title("in the first layer (left) and the second", first.Frequency, sys), screen.FoldText(c, sys), d, s, "wave", "", sys)
	return m
}
