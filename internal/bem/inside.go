package bem

import "math"

// fold moves a point to the modelled side of the mirror planes.
func (pp *prepared) fold(x Point) Point {
	if pp.Mirror.X {
		x.X = math.Abs(x.X)
	}
	if pp.Mirror.Y {
		x.Y = math.Abs(x.Y)
	}
	return x
}

// inside reports whether x lies in the air of domain d: the outlines, drawn
// with their mirror images, wind round it an odd number of times in a bounded
// domain and an even number in an exterior one.
func (pp *prepared) inside(d int, x Point) bool {
	odd := false
	for _, c := range pp.chains[d] {
		odd = odd != c.surrounds(x, pp.Mirror)
	}
	return odd != pp.Domains[d].Exterior
}

// surrounds reports whether the chain and its mirror images wind round x.
func (c *chain) surrounds(x Point, mirror Mirror) bool {
	odd := false
	for _, im := range mirror.images(x, Point{0.8660254, 0.5000001}) {
		odd = odd != c.crossesRay(im[0], im[1])
	}
	return odd
}

// crossesRay reports whether the ray from x along dir crosses the chain an odd
// number of times. Curved edges count as their chords.
func (c *chain) crossesRay(x, dir Point) bool {
	odd := false
	for _, chords := range c.polygon {
		for i := 1; i < len(chords); i++ {
			a, b := chords[i-1].Sub(x), chords[i].Sub(x)
			sa, sb := dir.Cross(a), dir.Cross(b)
			if (sa > 0) == (sb > 0) {
				continue
			}
			if t := sa / (sa - sb); a.Add(b.Sub(a).Scale(t)).Dot(dir) > 0 {
				odd = !odd
			}
		}
	}
	return odd
}

// checkNesting refuses outlines that lie where they enclose no air: inside one
// another, or, in a bounded domain, outside its outer outline.
func (pp *prepared) checkNesting(d, outer int) error {
	dom := &pp.Domains[d]
	for i, c := range pp.chains[d] {
		for j, o := range pp.chains[d] {
			if i == j || i == outer {
				continue
			}
			within := o.surrounds(c.polygon[0][0].Add(c.polygon[0][1]).Scale(0.5), pp.Mirror)
			if j == outer && !within {
				return geometryError("outline %d of domain %q lies outside outline %d, which bounds the domain", i+1, dom.Name, j+1)
			}
			if j != outer && within {
				return geometryError("outline %d of domain %q lies inside outline %d, where there is no air", i+1, dom.Name, j+1)
			}
		}
	}
	return nil
}

// checkSources refuses line sources that are not in the domain's air.
func (pp *prepared) checkSources(d int) error {
	dom := &pp.Domains[d]
	for i, s := range dom.Sources {
		if math.IsNaN(s.At.X+s.At.Y) || math.IsInf(s.At.X+s.At.Y, 0) || !pp.inside(d, pp.fold(s.At)) {
			return geometryError("line source %d of domain %q at %v does not lie in its air", i+1, dom.Name, s.At)
		}
	}
	return nil
}
