package outside

import (
	"context"
	"math"

	"gapline/cabinet/pattern"
	"gapline/internal/bem3"
)

// rings is how many rings of directions hold the patterns of a task: those of its highest
// frequency, for a surface that reaches as far as this one; 0: none are asked for.
func (j *job) rings() int {
	if !j.task.Sphere {
		return 0
	}
	radius := 0.0
	for _, v := range j.surface.Vertices {
		radius = math.Max(radius, math.Sqrt(v[0]*v[0]+v[1]*v[1]+v[2]*v[2]))
	}
	// One number for all octaves, whose surfaces reach equally far but for rounding.
	const grain = 1e-6
	radius = math.Ceil(radius/grain-grain) * grain
	return pattern.RingsFor(radius, j.task.Frequencies[len(j.task.Frequencies)-1], j.air.SoundSpeed)
}

// sphere reads the far field all round, in the order of pattern.Directions. Directions that are
// each other's images in a mirror plane are computed once.
func (j *job) sphere(ctx context.Context, s *bem3.Solution, weights []complex128) ([]complex128, error) {
	rings := j.rings()
	if rings == 0 {
		return nil, nil
	}
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
		list = append(list, bem3.Vec{u.X, u.Y, u.Z})
	}
	far, err := s.Far(ctx, list)
	if err != nil {
		return nil, err
	}
	computed := combine(far, weights)
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

// Pattern is what the box radiates all round, phases counted from the middle of its front; nil
// where the task did not ask for it, or not all of its solutions hold it.
func (r *Result) Pattern() *pattern.Pattern {
	if len(r.Sphere) == 0 || len(r.Sphere) != len(r.Frequency) {
		return nil
	}
	return &pattern.Pattern{Frequency: r.Frequency, Rings: r.rings, Pressure: r.Sphere, Smooth: true}
}
