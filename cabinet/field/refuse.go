package field

import (
	"fmt"
	"math"
)

// Inside returns the number of the box, from 1, that holds the point, or 0.
func (e *Engine) Inside(p Vec) int {
	const skin = 1e-9
	for i, q := range e.poses {
		b := e.stack.Boxes[i]
		l := q.frame.local(p.Sub(q.origin))
		if l.X < -skin && l.X > -b.Depth+skin &&
			math.Abs(l.Y) < b.Width/2-skin && math.Abs(l.Z) < b.Height/2-skin {
			return i + 1
		}
	}
	return 0
}

// checkPoint refuses points where there is no field.
func (e *Engine) checkPoint(p Vec) error {
	if !p.finite() {
		return fmt.Errorf("field point %v is not finite", p)
	}
	if i := e.Inside(p); i > 0 {
		return fmt.Errorf("field point (%.4g, %.4g, %.4g) m lies inside box %d", p.X, p.Y, p.Z, i)
	}
	if e.options.Ground > 0 && p.Z < -1e-9 {
		return fmt.Errorf("field point (%.4g, %.4g, %.4g) m lies below the ground", p.X, p.Y, p.Z)
	}
	return nil
}

// checkFrequencies wants at least one, all above 0 and finite.
func checkFrequencies(hz []float64) error {
	if len(hz) == 0 {
		return fmt.Errorf("no frequency: need at least 1")
	}
	for _, f := range hz {
		if !(f > 0 && f <= 1e6) {
			return fmt.Errorf("frequency %v Hz: need more than 0 and at most 1 MHz", f)
		}
	}
	return nil
}
