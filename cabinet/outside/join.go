package outside

import (
	"context"
	"errors"
	"fmt"

	"gapline/cabinet/design"
	"gapline/cabinet/surface"
)

// ErrForeign says that points do not belong to a task.
var ErrForeign = errors.New("what was solved does not belong to this design")

// Join makes the result of a whole task, whose Share is not looked at, from the Points of its
// shares, one for each of its frequencies and in their order. Nothing is solved. The error
// wraps ErrForeign, or is one of Solve's, as the faults are.
func Join(ctx context.Context, d *design.Design, t Task, points []Point) (*Result, []surface.Fault, error) {
	t.Share = nil
	if len(points) != len(t.Frequencies) || len(points) == 0 {
		return nil, nil, fmt.Errorf("%w: %d solutions of %d frequencies", ErrForeign, len(points), len(t.Frequencies))
	}
	top, faults, err := meshed(ctx, d, &t, t.Frequencies[len(t.Frequencies)-1])
	if err != nil || len(faults) > 0 {
		return nil, faults, err
	}
	for i := range points {
		if !top.fits(&points[i], t.Frequencies[i]) {
			return nil, nil, fmt.Errorf("%w: at %.6g Hz", ErrForeign, t.Frequencies[i])
		}
	}
	return newResult(d, &t, top, points), nil, nil
}

// fits reports whether a point has what measure gives at f, Hz.
func (j *job) fits(p *Point, f float64) bool {
	sets, mouths, baffled, element, sphere := len(j.sets), 0, 0, 0, 0
	if n := j.rings(); n > 0 && j.middle(make([]complex128, sets)) != nil {
		sphere = (n + 1) * 2 * n
	}
	if j.probes != nil && j.task.Driven == ByWoofers {
		mouths, baffled = len(j.probes.part), len(angles)
	}
	if j.middle(make([]complex128, sets)) != nil {
		element = len(angles)
	}
	for _, row := range p.Load {
		if len(row) != sets {
			return false
		}
	}
	return p.Frequency == f && p.Unknowns > 0 && p.Steps >= 0 && len(p.Vertical) == len(angles) && len(p.Horizontal) == len(angles) &&
		len(p.Element) == element && len(p.Sphere) == sphere && len(p.Load) == sets && len(p.Flow) == sets && len(p.Mouths) == mouths && len(p.Baffled) == baffled
}
