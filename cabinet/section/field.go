package section

import (
	"context"
	"math"
	"math/cmplx"

	"gapline/cabinet/design"
	"gapline/internal/bem"
	"gapline/waveguide/wave"
)

// How finely a field is sampled: points per wavelength, steps along the longer
// side of the window at least, and points at most. With 300 steps the blank
// cells along slanting walls stay under the walls' lines.
const (
	pointsPerWave = 9
	leastSteps    = 300
	mostPoints    = 150e3
)

// step is the distance of the points, m, in a window of the given sides at the
// wavelength lambda.
func step(width, height, lambda float64) float64 {
	s := math.Min(lambda/pointsPerWave, math.Max(width, height)/leastSteps)
	return math.Max(s, math.Sqrt(width*height/mostPoints))
}

// PlanField returns the pressure around the section at f, Hz: as far in front as
// one and a half cabinet widths, and half a width to the sides and behind.
func PlanField(ctx context.Context, d *design.Design, p wave.Plan, f float64, o bem.Options) (*wave.Field, error) {
	a := Air(d)
	w := wave.Window{X1: p.Width, Y0: -p.Depth - p.Width/4, Y1: 1.5 * p.Width}
	if !p.Symmetric() {
		w.X0 = -w.X1
	}
	w.Step = step(w.X1-w.X0, w.Y1-w.Y0, a.SoundSpeed/f)
	field, err := p.Field(ctx, a, f, w, o)
	if err != nil || !p.Symmetric() {
		return field, err
	}
	return field.Mirrored(), nil
}

// FoldField returns the pressure in the first and the second layer at f, Hz.
func FoldField(ctx context.Context, d *design.Design, g wave.Fold, f float64, o bem.Options) (first, second *wave.Field, err error) {
	a := Air(d)
	w := wave.Window{X0: math.Inf(1), Y0: math.Inf(1), X1: math.Inf(-1), Y1: math.Inf(-1)}
	for _, p := range append(append([]bem.Point{g.Throat}, g.Wall...), g.Mouth[:]...) {
		w.X0, w.X1 = math.Min(w.X0, p.X), math.Max(w.X1, p.X)
		w.Y0, w.Y1 = math.Min(w.Y0, p.Y), math.Max(w.Y1, p.Y)
	}
	w.X1 = math.Max(w.X1, g.Throat.X+g.ThroatRadius) // a wide fan leaves the throat forwards too
	w.Step = step(w.X1-w.X0, w.Y1-w.Y0, a.SoundSpeed/f)
	margin := 3 * w.Step // so that the layers end inside the window
	w.X0, w.X1, w.Y0, w.Y1 = w.X0-margin, w.X1+margin, w.Y0-margin, w.Y1+margin
	return g.Field(ctx, a, f, w, o)
}

// Reference returns the pressure at the point with air nearest to (x, y), to
// which a picture relates level and phase. It is NaN where there is no air at
// all, or no sound.
func Reference(f *wave.Field, x, y float64) complex128 {
	best, at := math.Inf(1), cmplx.NaN()
	for j, v := range f.Y {
		for i, u := range f.X {
			r := math.Hypot(u-x, v-y)
			if p := f.Pressure[j][i]; r < best && !cmplx.IsNaN(p) && p != 0 {
				best, at = r, p
			}
		}
	}
	return at
}
