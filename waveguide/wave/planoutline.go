package wave

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"gapline/internal/bem"
)

// flank is one side of the section, from the throat's edge round to the corner of
// the back, with distances counted outward from the middle of the cabinet.
type flank struct {
	Plan
	left     bool
	horn     float64   // of the horn's axis
	openings []stretch // outward
}

// stretch is an opening as its flank sees it: its inner and outer edge, and how far
// behind the front its bottom lies there.
type stretch struct {
	number                     int // in the plan's list, from 1
	from, to                   float64
	innerSetback, outerSetback float64
	velocity                   complex128
}

// flank returns one side of the section with the openings that stand on it: those
// whose middle is on that side of the horn's axis.
func (p Plan) flank(left bool) *flank {
	f := &flank{Plan: p, left: left, horn: -p.HornAt}
	if left {
		f.horn = p.HornAt
	}
	for i, o := range p.Openings {
		s := stretch{i + 1, -o.Left, -o.Right, o.SetbackLeft, o.SetbackRight, o.Velocity}
		if left {
			s = stretch{i + 1, o.Right, o.Left, o.SetbackRight, o.SetbackLeft, o.Velocity}
		}
		if (s.from+s.to)/2 >= f.horn {
			f.openings = append(f.openings, s)
		}
	}
	slices.SortStableFunc(f.openings, func(a, b stretch) int { return cmp.Compare(a.from, b.from) })
	return f
}

// half returns the right half of a symmetric outline, from the middle of the
// throat to the middle of the back.
func (p Plan) half() ([]bem.Edge, error) {
	p.HornAt = 0
	f := p.flank(false)
	throat := f.throat()
	edges := []bem.Edge{p.driven(bem.Point{Y: throat.Y}, throat)}
	side, err := f.edges()
	if err != nil {
		return nil, err
	}
	edges = append(edges, side...)
	return append(edges, line(Box, f.corner(), bem.Point{Y: -p.Depth})), nil
}

// whole returns the closed outline, from the throat's left edge over the right
// side. The left side's curves run outward like those of the right one, so that a
// mirrored section has a mirrored mesh.
func (p Plan) whole() ([]bem.Edge, error) {
	right, left := p.flank(false), p.flank(true)
	edges := []bem.Edge{p.driven(left.throat(), right.throat())}
	side, err := right.edges()
	if err != nil {
		return nil, err
	}
	edges = append(edges, side...)
	edges = append(edges, line(Box, right.corner(), left.corner()))
	if side, err = left.edges(); err != nil {
		return nil, err
	}
	slices.Reverse(side)
	for _, e := range side {
		e.Flip = true
		edges = append(edges, e)
	}
	return edges, nil
}

// driven returns the throat.
func (p Plan) driven(a, b bem.Point) bem.Edge {
	e := line(Throat, a, b)
	e.Wall = bem.Uniform(p.Drive)
	return e
}

// at returns the point that lies outward from the middle and along in front of the
// front.
func (f *flank) at(outward, along float64) bem.Point {
	if f.left {
		outward = -outward
	}
	return bem.Point{X: outward, Y: along}
}

func (f *flank) throat() bem.Point { return f.at(f.horn+f.Horn[0].Across, f.Horn[0].Along) }

func (f *flank) corner() bem.Point { return f.at(f.Width/2, -f.Depth) }

// edges returns the horn's wall, the front, its edge and the side.
func (f *flank) edges() ([]bem.Edge, error) {
	wall := make([]bem.Point, len(f.Horn))
	for i, w := range f.Horn {
		wall[i] = f.at(f.horn+w.Across, w.Along)
	}
	edges, err := through(Horn, wall)
	if err != nil {
		return nil, err
	}
	for _, part := range []func() ([]bem.Edge, error){f.flare, f.front, f.body} {
		more, err := part()
		if err != nil {
			return nil, err
		}
		edges = append(edges, more...)
	}
	return edges, nil
}

// flare returns the lip and the outside of a horn wall that stands out from the
// front, nothing otherwise.
func (f *flank) flare() ([]bem.Edge, error) {
	n := len(f.Horn) - 1
	mouth := f.Horn[n]
	if mouth.Along <= 0 {
		return nil, nil
	}
	behind := func(w WallPoint) bem.Point { return f.at(f.horn+w.Across+f.Lip, w.Along) }
	edges := []bem.Edge{line(Horn, f.at(f.horn+mouth.Across, mouth.Along), behind(mouth))}
	outside := []bem.Point{behind(mouth)}
	for i := n - 1; i >= 0 && f.Horn[i].Along > 0; i-- {
		outside = append(outside, behind(f.Horn[i]))
	}
	outside = append(outside, f.at(f.horn+f.outerWallAtFront(), 0))
	back, err := through(Horn, outside)
	return append(edges, back...), err
}

// front returns the front from the mouth to the edge's rounding, with its openings.
func (f *flank) front() ([]bem.Edge, error) {
	var edges []bem.Edge
	tolerance := nearly * f.Width
	at, end := f.horn+f.exit(), f.Width/2-f.EdgeRadius
	flat := func(to float64) {
		if to-at > tolerance {
			edges = append(edges, line(Front, f.at(at, 0), f.at(to, 0)))
			at = to
		}
	}
	for _, s := range f.openings {
		if !(s.from >= at-tolerance) || !(s.to <= end+tolerance) {
			return nil, fmt.Errorf("woofer opening %d from %g m to %g m: openings must lie side by side on the front between %g m and %g m",
				s.number, s.from, s.to, f.horn+f.exit(), end)
		}
		flat(s.from)
		edges = append(edges, f.opening(s, at)...)
		at = s.to
	}
	flat(end)
	return edges, nil
}

// opening returns the bottom of an opening and the walls back to it. from is where
// the front ends before it.
func (f *flank) opening(s stretch, from float64) []bem.Edge {
	var edges []bem.Edge
	inner, outer := f.at(from, -s.innerSetback), f.at(s.to, -s.outerSetback)
	if s.innerSetback > 0 {
		edges = append(edges, line(Pocket, f.at(from, 0), inner))
	}
	bottom := line(Woofer, inner, outer)
	if s.velocity != 0 {
		bottom.Wall = bem.Uniform(s.velocity)
	}
	edges = append(edges, bottom)
	if s.outerSetback > 0 {
		edges = append(edges, line(Pocket, outer, f.at(s.to, 0)))
	}
	return edges
}

// body returns the edge's rounding and the side.
func (f *flank) body() ([]bem.Edge, error) {
	half, r := f.Width/2, f.EdgeRadius
	var edges []bem.Edge
	if r > 0 {
		arc := bem.Arc{Centre: f.at(half-r, -r), Radius: r, Start: math.Pi / 2, Sweep: -math.Pi / 2}
		if f.left {
			arc.Sweep = math.Pi / 2
		}
		edges = append(edges, bem.Edge{Name: Box, Curve: arc})
	}
	return append(edges, line(Box, f.at(half, -r), f.corner())), nil
}
