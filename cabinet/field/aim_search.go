package field

import (
	"math"
	"math/rand/v2"
	"slices"
)

// search returns the best candidate and the best arc.
func (h *aimer) search() (best, arc choice, err error) {
	arcs, curves := h.namedShapes()
	i, err := h.best(nil, arcs)
	if err != nil {
		return nil, nil, err
	}
	arc = arcs[i]
	all := append(arcs, curves...)
	if _, err = h.best(nil, all); err != nil {
		return nil, nil, err
	}
	slices.SortStableFunc(all, func(a, b choice) int {
		switch x, y := h.cost(a), h.cost(b); {
		case x < y:
			return -1
		case x > y:
			return 1
		}
		return 0
	})
	if math.IsInf(h.cost(all[0]), 1) {
		return nil, nil, errNothingHangs
	}
	const starts = 3
	for i := range min(starts, len(all)) {
		c, err := h.descend(all[i])
		if err != nil {
			return nil, nil, err
		}
		if best == nil || h.cost(c) < h.cost(best) {
			best = c
		}
	}
	best, err = h.kick(best)
	return best, arc, err
}

// namedShapes returns the arcs (all joints alike) and the progressive curves at
// every tilt. A progressive curve of n steps runs from the smallest allowed
// angle to the n-th; a bent one keeps the upper joints at the smallest.
func (h *aimer) namedShapes() (arcs, curves []choice) {
	for tilt := range h.spec.Tilts {
		for top := range max(1, len(h.spec.Steps)) {
			shape := func(at func(t float64) float64) choice {
				c := make(choice, len(h.sizes))
				for j := range h.joints {
					t := float64(j+1) / float64(h.joints)
					c[j] = uint8(math.Round(float64(top) * at(t)))
				}
				c[h.joints] = uint8(tilt)
				return c
			}
			arcs = append(arcs, shape(func(float64) float64 { return 1 }))
			curves = append(curves,
				shape(func(t float64) float64 { return t }),
				shape(func(t float64) float64 { return t * t }))
		}
	}
	return arcs, curves
}

// descend improves a candidate until no single change and no move of an angle
// from one joint to another helps.
func (h *aimer) descend(c choice) (choice, error) {
	for {
		before := h.cost(c)
		for i := range c {
			next, err := h.improve(c, h.changes(c, i))
			if err != nil {
				return nil, err
			}
			c = next
		}
		for i := range h.joints + 1 {
			next, err := h.improve(c, h.moves(c, i))
			if err != nil {
				return nil, err
			}
			c = next
		}
		if !(h.cost(c) < before) {
			return c, nil
		}
	}
}

// improve returns the best of c and its neighbours.
func (h *aimer) improve(c choice, neighbours []choice) (choice, error) {
	if len(neighbours) == 0 {
		return c, nil
	}
	i, err := h.best(c, neighbours)
	if err != nil {
		return nil, err
	}
	if h.cost(neighbours[i]) < h.cost(c) {
		return neighbours[i], nil
	}
	return c, nil
}

// Of a long stack the neighbourhood is what lies near, so that the stacks tried grow with
// the boxes and their time with the square of them: values at most nearValues away, angles
// moved between joints at most nearJoints apart. Up to shortStack joints it is everything.
const (
	shortStack = 6
	nearValues = 2
	nearJoints = 3
)

// changes returns c with index i set to each other value nearby.
func (h *aimer) changes(c choice, i int) []choice {
	var out []choice
	for v := range h.sizes[i] {
		d := v - int(c[i])
		if d == 0 || h.joints > shortStack && max(d, -d) > nearValues {
			continue
		}
		n := slices.Clone(c)
		n[i] = uint8(v)
		out = append(out, n)
	}
	return out
}

// moves returns c with index i one up and another joint nearby (or the tilt) one down,
// and the other way round.
func (h *aimer) moves(c choice, i int) []choice {
	var out []choice
	for j := range h.joints + 1 {
		tilt := i == h.joints || j == h.joints
		if j == i || int(c[i])+1 >= h.sizes[i] || c[j] == 0 || h.joints > shortStack && !tilt && max(i-j, j-i) > nearJoints {
			continue
		}
		n := slices.Clone(c)
		n[i]++
		n[j]--
		out = append(out, n)
	}
	return out
}

// kick jumps from the best candidate, descends again and keeps what is better.
func (h *aimer) kick(best choice) (choice, error) {
	// A fixed seed: the same question gets the same answer.
	random := rand.New(rand.NewPCG(1, 2))
	for range h.spec.Kicks {
		c := slices.Clone(best)
		for range 3 {
			i := random.IntN(len(c))
			c[i] = uint8(random.IntN(h.sizes[i]))
		}
		if _, err := h.best(nil, []choice{c}); err != nil {
			return nil, err
		}
		c, err := h.descend(c)
		if err != nil {
			return nil, err
		}
		if h.cost(c) < h.cost(best) {
			best = c
		}
	}
	return best, nil
}
