package field

import (
	"context"
	"math"

	"gapline/internal/parallel"
)

// unitBlock is how many frequencies one core takes at a time in Units.
const unitBlock = 128

// Units sums each drive at unit strength at one point of the world, [drive][frequency]:
// what Strengths multiplies to pressures. Air absorption counts as Options say, in
// magnitude alone. Points inside a box or below a reflecting ground are errors.
func (e *Engine) Units(ctx context.Context, at Vec, hz []float64) ([][]complex128, error) {
	if err := e.checkPoint(at); err != nil {
		return nil, err
	}
	if err := checkFrequencies(hz); err != nil {
		return nil, err
	}
	sorted, index := ascending(hz)
	out := table2[complex128](len(e.stack.Drives), len(hz))
	blocks := (len(sorted) + unitBlock - 1) / unitBlock
	err := parallel.Each(ctx, 0, blocks, func(int) func(int) {
		return func(b int) {
			lo := b * unitBlock
			part := sorted[lo:min(lo+unitBlock, len(sorted))]
			quiet := e.with(func(o *Options) { o.Progress = nil })
			// The context's end is seen by Each.
			_ = quiet.each(ctx, points([]Vec{at}), e.plan(part), func(_ int, re, im []float64) {
				for d := range out {
					for j := range part {
						out[d][index[lo+j]] = complex(re[d*len(part)+j], im[d*len(part)+j])
					}
				}
			})
		}
	})
	if err != nil {
		return nil, err
	}
	return out, nil
}

// Strengths returns what the sums of Units are multiplied by, [drive][frequency]: the
// signal of each drive through its filter.
func (e *Engine) Strengths(hz []float64) [][]complex128 { return e.strengths(hz) }

// Distance returns how far a point is from the mean place of the mouths, m: the way that
// air absorption is referred to.
func (e *Engine) Distance(at Vec) float64 { return at.Sub(e.centre).Norm() }

// Reach returns an upper bound of how much the way from any part of any mouth, or of its
// image in the ground, differs from Distance, m. Delays of mouths count as ways.
func (e *Engine) Reach(at Vec) float64 {
	far, middle := 0.0, e.Distance(at)
	for _, s := range e.sources {
		mouth := 2*math.Hypot(s.a, s.b) + s.path // twice: a curved front starts earlier in the middle
		far = math.Max(far, math.Abs(at.Sub(s.middle).Norm()-middle)+mouth)
		if e.options.Ground > 0 {
			image := Vec{X: at.X, Y: at.Y, Z: -at.Z}
			far = math.Max(far, math.Abs(image.Sub(s.middle).Norm()-middle)+mouth)
		}
	}
	return far
}
