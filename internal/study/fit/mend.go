package fit

import (
	"math"
	"slices"

	"gapline/cabinet/design"
	"gapline/cabinet/layout"
	"gapline/internal/check"
	"gapline/internal/quantity"
	"gapline/internal/schema"
)

// trier applies one key with the links that act on it.
type trier struct {
	design *design.Design
	links  []schema.Link
	layout *layout.Layout
}

// identity is what makes two conflicts of different layouts the same one. One that shows
// only where another is gone counts as that one.
type identity struct {
	of   layout.Reason
	a, b layout.Band
}

func identityOf(l *layout.Layout, c *layout.Conflict) identity {
	id := identity{of: c.Of}
	switch c.Of {
	case layout.PathShort:
		id.of = layout.WallsShort
	case layout.BoxesOverlap:
		id.of = layout.BoxesCollide
	case layout.TooWide:
		if len(c.Bands) == 2 {
			return identity{layout.Overlaps, min(c.Bands[0], c.Bands[1]), max(c.Bands[0], c.Bands[1])}
		}
	}
	if c.A >= 0 {
		id.a = l.Parts[c.A].Band
	}
	if c.B >= 0 {
		id.b = l.Parts[c.B].Band
	}
	if c.Of == layout.Overlaps {
		id.a, id.b = min(id.a, id.b), max(id.a, id.b)
	}
	return id
}

// misfits lists the identities of a layout's misfits.
func misfits(l *layout.Layout) []identity {
	var out []identity
	for i := range l.Conflicts {
		if c := &l.Conflicts[i]; c.Certain() {
			out = append(out, identityOf(l, c))
		}
	}
	return out
}

// with lays the design out with a key set to a value and what follows it; ok is false
// where that cannot be.
func (t *trier) with(k *schema.Key, x float64) (l *layout.Layout, ok bool) {
	if k.Accepts(x) != nil {
		return nil, false
	}
	d := *t.design
	k.SetNumber(&d, x)
	acting := schema.Acting(t.links, []*schema.Key{k})
	for i := range acting {
		link := &acting[i]
		link.Apply(&d)
		if link.Target.Accepts(link.Target.Number(&d)) != nil {
			return nil, false
		}
	}
	if len(check.Design(&d)) > 0 {
		return nil, false
	}
	return layout.New(&d), true
}

// steps are the printed steps of a mending value, SI.
var steps = map[quantity.Kind]float64{
	quantity.Length: 1e-4, quantity.Angle: math.Pi / 1800, quantity.Volume: 1e-5, quantity.Frequency: 0.1, quantity.Area: 1e-6,
}

// step is the printed step of a key.
func step(k *schema.Key) float64 {
	if s, ok := steps[k.Kind]; ok && k.Type != schema.Count {
		return s
	}
	return 1
}

// mendAll finds for each misfit the first of its keys that mends it without making another.
// A key that mends several gets the value that mends them all: where there is none, those
// that come later take another of their keys.
func (t *trier) mendAll(list []Conflict) {
	by := map[*schema.Key][]int{} // the misfits that a key mends
	for i := range list {
		for _, path := range list[i].Keys {
			k := schema.FindKey(path)
			together := append(slices.Clone(by[k]), i)
			m := t.mend(k, list, together)
			if m == nil {
				continue
			}
			by[k] = together
			for _, n := range together {
				list[n].Mend = m
			}
			break
		}
	}
}

// mend is the value of a key that mends the misfits of those places without making
// another; nil where there is none.
func (t *trier) mend(k *schema.Key, list []Conflict, places []int) *Mend {
	var ids []identity
	for _, n := range places {
		ids = append(ids, identityOf(t.layout, &list[n].Conflict))
	}
	m := t.nearest(k, ids)
	if m == nil {
		return nil
	}
	had := misfits(t.layout)
	l, ok := t.with(k, m.Value)
	if !ok || slices.ContainsFunc(misfits(l), func(i identity) bool { return slices.Contains(ids, i) || !slices.Contains(had, i) }) {
		return nil
	}
	m.Of = len(places)
	return m
}

// nearest is the value of the key nearest to the present one at which the misfits are gone.
func (t *trier) nearest(k *schema.Key, ids []identity) *Mend {
	size := step(k)
	now := k.Number(t.design) / size
	from := math.Round(now)
	var best *Mend
	least := math.Inf(1)
	for _, side := range []float64{-1, 1} {
		start := from
		if (start-now)*side > 0 {
			start -= side // on the side of the present value that has the misfit
		}
		if n, ok := t.edge(k, ids, size, start, side); ok && math.Abs(n-now) < least {
			bound := Most
			if side > 0 {
				bound = Least
			}
			least, best = math.Abs(n-now), &Mend{Key: k, Value: n * size, Bound: bound}
		}
	}
	return best
}

// edge returns the first multiple of the step from start on at which the misfits are gone.
func (t *trier) edge(k *schema.Key, ids []identity, size, start, side float64) (float64, bool) {
	gone := func(n float64) (gone, ok bool) {
		l, ok := t.with(k, n*size)
		return ok && !slices.ContainsFunc(misfits(l), func(i identity) bool { return slices.Contains(ids, i) }), ok
	}
	bad, reach := start, 1.0
	for {
		good := start + side*reach
		is, ok := gone(good)
		switch {
		case !ok && reach > 1: // beyond what the key may be: look nearer
			if good-bad == side {
				return 0, false
			}
			return t.lastChance(gone, bad, good, side)
		case !ok:
			return 0, false
		case is:
			return narrow(gone, bad, good), true
		}
		bad, reach = good, 2*reach
	}
}

// lastChance looks for the edge between a value with the misfit and one that cannot be.
func (t *trier) lastChance(gone func(float64) (bool, bool), bad, beyond, side float64) (float64, bool) {
	for math.Abs(beyond-bad) > 1 {
		mid := math.Trunc((bad + beyond) / 2)
		switch is, ok := gone(mid); {
		case !ok:
			beyond = mid
		case is:
			return narrow(gone, bad, mid), true
		default:
			bad = mid
		}
	}
	return 0, false
}

// narrow closes in on the edge between whole numbers with and without the misfit.
func narrow(gone func(float64) (bool, bool), bad, good float64) float64 {
	for math.Abs(good-bad) > 1 {
		mid := math.Trunc((bad + good) / 2)
		if is, ok := gone(mid); ok && is {
			good = mid
		} else {
			bad = mid
		}
	}
	return good
}
