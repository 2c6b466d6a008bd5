package outside

import (
	"context"
	"math"
	"math/cmplx"

	"gapline/cabinet/layout"
	"gapline/cabinet/pattern"
	"gapline/cabinet/surface"
	"gapline/internal/bem3"
)

// rings is how many rings of directions hold the patterns of a task: those of its highest
// frequency, for a surface that reaches as far as this one from the front of its middle box; 0:
// none are asked for, or there is no middle box.
func (j *job) rings() int {
	if !j.task.Sphere || len(j.surface.Boxes)%2 == 0 {
		return 0
	}
	radius, from := 0.0, j.middleBox().Origin
	for _, v := range j.surface.Vertices {
		for _, z := range []float64{v[2], -v[2]} { // images too
			radius = math.Max(radius, math.Hypot(math.Hypot(v[0]-from.X, v[1]-from.Y), z-from.Z))
		}
	}
	// One number for all octaves, whose surfaces reach equally far but for rounding.
	const grain = 1e-6
	radius = math.Ceil(radius/grain-grain) * grain
	return pattern.RingsFor(radius, j.task.Frequencies[len(j.task.Frequencies)-1], j.air.SoundSpeed)
}

// middleBox is where the middle one of an odd number of boxes hangs.
func (j *job) middleBox() *surface.Hung { return &j.surface.Boxes[len(j.surface.Boxes)/2] }

// sphere reads the far field of the middle box all round, in its own frame and the order of
// pattern.Directions, phases counted from the middle of its front; its neighbours, if there are any,
// stand still. weights are the velocities of all sets. Directions that are each other's images in a
// mirror plane are computed once.
func (j *job) sphere(ctx context.Context, s *bem3.Solution, weights []complex128) ([]complex128, error) {
	rings := j.rings()
	if rings == 0 {
		return nil, nil
	}
	if weights = j.middle(weights); weights == nil {
		return nil, nil
	}
	hung := j.middleBox()
	zero := hung.Place(layout.Vec{})
	spokes := 2 * rings
	all := pattern.Directions(rings)
	of := make([]int, len(all)) // place of each in the list that is computed
	var list []bem3.Vec
	for i, u := range all {
		first := i/spokes*spokes + j.firstImage(i%spokes, rings)
		if first < i {
			of[i] = of[first]
			continue
		}
		of[i] = len(list)
		v := hung.Place(u).Sub(zero)
		list = append(list, bem3.Vec{v.X, v.Y, v.Z})
	}
	far, err := s.Far(ctx, list)
	if err != nil {
		return nil, err
	}
	computed := combine(far, weights)
	k := 2 * math.Pi * s.Frequency / j.air.SoundSpeed
	for i, v := range list {
		computed[i] *= cmplx.Rect(1, -k*(v[0]*zero.X+v[1]*zero.Y+v[2]*zero.Z))
	}
	out := make([]complex128, len(all))
	for i, k := range of {
		out[i] = computed[k]
	}
	return out, nil
}

// firstImage is the lowest of a spoke and its images in the mirror planes: the left is the
// image of the right, the upper of the lower.
func (j *job) firstImage(spoke, rings int) int {
	spokes := 2 * rings
	images := []int{spoke}
	if j.surface.Planes.Y {
		images = append(images, (rings-spoke+spokes)%spokes)
	}
	if j.surface.Planes.Z {
		for _, i := range images {
			images = append(images, (spokes-i)%spokes)
		}
	}
	low := spoke
	for _, i := range images {
		low = min(low, i)
	}
	return low
}

// Pattern is what the box, or the middle one of several, radiates all round, in its own frame, phases
// counted from the middle of its front; nil where the task did not ask for it, or not all of its
// solutions hold it.
func (r *Result) Pattern() *pattern.Pattern {
	if len(r.Sphere) == 0 || len(r.Sphere) != len(r.Frequency) {
		return nil
	}
	return &pattern.Pattern{Frequency: r.Frequency, Rings: r.rings, Pressure: r.Sphere, Smooth: true}
}
