package describe

import (
	"math"
	"math/cmplx"

	"gapline/internal/bem"
	"gapline/internal/figure"
	"gapline/internal/numeric"
	"gapline/internal/quantity"
	"gapline/internal/result"
	guide "gapline/waveguide/wave"
)

// fieldView is what of a field is shown.
type fieldView struct {
	instant bool    // the pressure at one instant; else its level
	phase   float64 // of the instant, rad after the reference point's crest
}

// grid is a map over a place without values. Step is that between levels in dB, of
// which ten lie below the reference and six above it.
func (v fieldView) grid(shown result.Shown, x, y []float64, reference string, step float64) result.Grid {
	m := &result.Map{X: result.Axis{Kind: quantity.Length}, Y: result.Axis{Kind: quantity.Length}, Equal: true, BoldOnly: true, Swings: v.instant}
	if v.instant {
		m.Value = result.Axis{Label: "Pressure over amplitude at " + reference, Low: -2.2, High: 2.2}
		for k := -9; k <= 9; k += 2 {
			m.Levels = append(m.Levels, 0.2*float64(k))
		}
	} else {
		m.Value = result.Axis{Label: "Level re " + reference, Unit: "dB", Low: -10 * step, High: 6 * step}
		for k := -9; k < 6; k++ {
			m.Levels = append(m.Levels, step*float64(k))
		}
	}
	return result.Grid{Shown: shown, Fig: figure.WavePolarLevel, X: result.Values{SI: x}, Y: result.Values{SI: y}, Look: m}
}

// values turns pressures into what is shown.
func (v fieldView) values(f *guide.Field, reference complex128) [][]float64 {
	turn := cmplx.Rect(1, v.phase) / reference
	out := make([][]float64, len(f.Pressure))
	for j, row := range f.Pressure {
		out[j] = make([]float64, len(row))
		for i, p := range row {
			if v.instant {
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

// caption names what of the field is shown.
func (v fieldView) caption(where string, f float64) result.Caption {
	if v.instant {
		return result.Caption{Title: "Pressure " + where, TitleAt: result.Say(" at %s, one instant", hertz(f)), Trust: "wave"}
	}
	return result.Caption{Title: "Pressure level " + where, TitleAt: result.Say(" at %s", hertz(f)), Trust: "wave"}
}

// walls draws outlines, moved to the right by shift in m.
func walls(outlines [][]bem.Point, shift float64) []result.Overlay {
	var out []result.Overlay
	for _, line := range outlines {
		var o result.Overlay
		for _, p := range line {
			o.X, o.Y = append(o.X, p.X+shift), append(o.Y, p.Y)
		}
		out = append(out, o)
	}
	return out
}
