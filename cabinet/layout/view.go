package layout

import (
	"cmp"
	"math"
	"slices"
)

// View is a direction from which the box is looked at.
type View uint8

// The views. From the front, right in the picture is the box's left (y), up is z. From
// above, right is y and up is −x, so that the front is at the bottom and stands under the
// front view. From the right-hand side, right is x, so that the front is at the right, and
// up is z.
const (
	FromFront View = iota
	FromAbove
	FromRight
)

// Project returns where a place stands in the picture, m.
func (v View) Project(p Vec) (across, up float64) {
	switch v {
	case FromAbove:
		return p.Y, 0 - p.X
	case FromRight:
		return p.X, p.Z
	}
	return p.Y, p.Z
}

// toward is the direction to the viewer.
func (v View) toward() Vec {
	switch v {
	case FromAbove:
		return Vec{Z: 1}
	case FromRight:
		return Vec{Y: -1}
	}
	return Vec{X: 1}
}

// rimPoints are the corners that stand for a circle in a picture.
const rimPoints = 72

// rim returns points on the circle.
func (c *Disc) rim() []Vec {
	u := Vec{X: 0 - c.Normal.Y, Y: c.Normal.X}
	w := c.Normal.Cross(u)
	out := make([]Vec, rimPoints)
	for i := range out {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / rimPoints)
		out[i] = c.Centre.Add(u.Scale(c.Radius * cos)).Add(w.Scale(c.Radius * sin))
	}
	return out
}

// Face returns the part's outline, of a round one of the given diameter, in the picture;
// nil where its size is not known.
func (p *Part) Face(v View, diameter float64) [][2]float64 {
	var at []Vec
	switch {
	case p.Shape == Round && diameter > 0:
		d := Disc{p.At, p.Axis(), diameter / 2}
		at = d.rim()
	case p.Shape == Square:
		at = p.rectangle(0, p.Width, p.Height)
	}
	return v.hull(at)
}

// Rear returns the far end of the horn's side walls or flares in the picture; nil for
// other parts.
func (p *Part) Rear(v View) [][2]float64 {
	if !(p.RearWidth > 0) || !(p.RearHeight > 0) {
		return nil
	}
	return v.hull(p.rectangle(p.Depth, p.RearWidth, p.RearHeight))
}

// rectangle is an upright one about the part's axis, behind its middle.
func (p *Part) rectangle(behind, width, height float64) []Vec {
	axis := p.Axis()
	across := Vec{X: 0 - axis.Y, Y: axis.X}.Scale(width / 2)
	up, at := Vec{Z: height / 2}, p.At.Sub(axis.Scale(behind))
	return []Vec{at.Add(across).Add(up), at.Sub(across).Add(up), at.Sub(across).Sub(up), at.Add(across).Sub(up)}
}

// Silhouette returns the outline of the part's body in the picture; without a body that
// of its face.
func (p *Part) Silhouette(v View) [][2]float64 {
	var at []Vec
	for i := range p.Solids {
		at = append(at, p.Solids[i].Points...)
		for j := range p.Solids[i].Discs {
			at = append(at, p.Solids[i].Discs[j].rim()...)
		}
	}
	if len(at) == 0 {
		return p.Face(v, p.Width)
	}
	return v.hull(at)
}

// hull is the convex outline of places in the picture, counter-clockwise (A. M. Andrew,
// Inf. Proc. Letters 9, 1979).
func (v View) hull(places []Vec) [][2]float64 {
	points := make([][2]float64, len(places))
	for i, p := range places {
		points[i][0], points[i][1] = v.Project(p)
	}
	slices.SortFunc(points, func(a, b [2]float64) int { return cmp.Or(cmp.Compare(a[0], b[0]), cmp.Compare(a[1], b[1])) })
	points = slices.Compact(points)
	if len(points) < 3 {
		return points
	}
	var out [][2]float64
	chain := func() {
		start := len(out)
		for _, p := range points {
			for n := len(out); n-start >= 2 && left(out[n-2], out[n-1], p) <= 1e-15; n = len(out) {
				out = out[:n-1]
			}
			out = append(out, p)
		}
		out = out[:len(out)-1]
	}
	chain()
	slices.Reverse(points)
	chain()
	return out
}

// left is twice the area of the triangle: positive where c lies left of the way from a to b.
func left(a, b, c [2]float64) float64 {
	return (b[0]-a[0])*(c[1]-a[1]) - (b[1]-a[1])*(c[0]-a[0])
}

// Covered reports whether, with the panels taken off, another part stands in front of the
// part or of a share of it as it is looked at.
func (l *Layout) Covered(i int, v View) bool {
	p := &l.Parts[i]
	mine, near := p.Silhouette(v), p.nearest(v)
	for j := range l.Parts {
		q := &l.Parts[j]
		if j == i || q.Kind == Opening || q.nearest(v) <= near+Touch {
			continue
		}
		if share(mine, q.Silhouette(v)) {
			return true
		}
	}
	return false
}

// nearest is how far the part reaches towards the viewer, m.
func (p *Part) nearest(v View) float64 {
	d := v.toward()
	if p.Shape == Square && len(p.Solids) == 0 {
		return p.At.Dot(d) + p.Height/2*d.Z + p.Width/2*math.Abs(d.Y)
	}
	far := p.At.Dot(d)
	for i := range p.Solids {
		far = math.Max(far, p.Solids[i].support(d).Dot(d)+drawnIn)
	}
	return far
}

// share reports whether two convex outlines share more than a touch: no edge parts them.
func share(a, b [][2]float64) bool {
	if len(a) < 2 || len(b) < 2 {
		return false
	}
	for _, o := range [2][][2]float64{a, b} {
		for i := range o {
			p, q := o[i], o[(i+1)%len(o)]
			n := math.Hypot(q[0]-p[0], q[1]-p[1])
			if n == 0 {
				continue
			}
			u := [2]float64{(q[1] - p[1]) / n, (p[0] - q[0]) / n}
			aLow, aHigh := along(a, u)
			bLow, bHigh := along(b, u)
			if math.Min(aHigh-bLow, bHigh-aLow) <= Touch {
				return false
			}
		}
	}
	return true
}

func along(o [][2]float64, u [2]float64) (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	for _, p := range o {
		x := p[0]*u[0] + p[1]*u[1]
		low, high = math.Min(low, x), math.Max(high, x)
	}
	return low, high
}
