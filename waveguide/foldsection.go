package waveguide

import "math"

// Section returns the fold cut through the throat and the wall's axis, seen from
// above: z forward, and across the sheets from the first layer's outer side in m.
// Straight ways are exact, the turn is sampled:
//
//	layer-1  from in front of the throat back to the turn
//	layer-2  from the turn forward to the mouth plane
//	turn     half ring between the layers
//	plate    between the layers, thickness 2ρ, only when the bend radius is not 0
//
// The turn's centre lies TurnInset in front of the wall line.
func (f Fold) Section() []Outline {
	s := f.Spec
	t, rho := s.Layer, s.BendRadius
	centre := Point{f.Wall.Point(0).Z + f.TurnInset(), t + rho}
	front := s.throatRadius() + t // the first layer ends one layer in front of the throat
	front = math.Min(front, s.MouthDistance)
	second := t + 2*rho
	box := func(part string, z0, z1, x0, x1 float64) Outline {
		return outlineOf(part, true, []Point{{z0, x0}, {z1, x0}, {z1, x1}, {z0, x1}})
	}
	out := []Outline{
		box("layer-1", centre.Z, front, 0, t),
		box("layer-2", centre.Z, s.MouthDistance, second, second+t),
		outlineOf("turn", true, append(halfRing(centre, rho+t, false), halfRing(centre, rho, true)...)),
	}
	if rho > 0 {
		out = append(out, box("plate", centre.Z, s.MouthDistance, t, second))
	}
	return out
}

// halfRing samples the rear half circle about the centre, upwards or back down. A
// radius of 0 is the centre alone.
func halfRing(centre Point, r float64, back bool) []Point {
	if r == 0 {
		return []Point{centre}
	}
	from, to := 1.5*math.Pi, math.Pi/2
	if back {
		from, to = to, from
	}
	return sampled(func(a float64) Point {
		sin, cos := math.Sincos(a)
		return Point{centre.Z + r*cos, centre.Y + r*sin}
	}, from, to)
}
