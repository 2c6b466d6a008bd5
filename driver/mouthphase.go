package driver

import (
	"math"
	"math/cmplx"

	"gapline/internal/numeric"
)

// The mouths' phases are looked at in steps of a third of an octave from the frequency at
// which the longest way is a quarter of a wave, below which no two phases can be 90 degrees
// apart, up to that at which it is 16 waves.
const (
	partLow, partHigh = 1.0 / 4, 16.0
	partStep          = 1.2599210498948732 // 2^(1/3)
)

// MouthsPart returns the lowest frequency in Hz at which the sound of two mouths differs by
// 90 degrees: +Inf where none do, as of one mouth or of a pair with the cones
// about its middle, NaN without a size. The sound of a mouth is taken as that of all parts
// of the cones of the radius in m, which move alike, over the straight way along the plate
// (no source: rays in the chamber, without reflections). speed is that of sound, m/s.
func (i *Insert) MouthsPart(cones []Position, radius, speed float64) float64 {
	switch {
	case i.Mouths < 2 || i.Mouths == 2 && evenAbout(cones):
		return math.Inf(1)
	case !(radius > 0) || !numeric.Given(i.Spacing):
		return numeric.Absent
	}
	ways, longest := i.ways(cones, radius)
	if longest == 0 {
		return math.Inf(1)
	}
	apart := func(f float64) float64 { return phaseSpread(ways, 2*math.Pi*f/speed) - math.Pi/2 }
	one := speed / longest
	for low, high := partLow*one, partLow*one*partStep; low < partHigh*one; low, high = high, high*partStep {
		if apart(high) >= 0 {
			f, err := numeric.Root(apart, low, high, 1e-12*low)
			if err != nil {
				return high
			}
			return f
		}
	}
	return math.Inf(1)
}

// evenAbout reports whether the cones stand mirrored about the box's middle height.
func evenAbout(cones []Position) bool {
	sum := 0.0
	for _, c := range cones {
		sum += c.Y
	}
	return math.Abs(sum) < 1e-9
}

// way is one way from a part of a cone to a mouth, m, with the part's share.
type way struct{ length, share float64 }

// Rings and spokes of a cone that are looked at.
const wayRings, waySpokes = 8, 24

// ways lists for each mouth the ways from all parts of the cones, and the longest, m.
func (i *Insert) ways(cones []Position, radius float64) (out [][]way, longest float64) {
	out = make([][]way, i.Mouths)
	for _, at := range cones {
		for ring := range wayRings {
			r := radius * (float64(ring) + 0.5) / wayRings
			for spoke := range waySpokes {
				sin, cos := math.Sincos(2 * math.Pi * (float64(spoke) + 0.5) / waySpokes)
				for m := range out {
					w := way{i.pathTo(m, at.X+r*cos, at.Y+r*sin), r}
					out[m], longest = append(out[m], w), max(longest, w.length)
				}
			}
		}
	}
	return out, longest
}

// pathTo is the distance in the plate from (x, y) to the nearest point of mouth m, m.
func (i *Insert) pathTo(m int, x, y float64) float64 {
	dx := 0.0
	if numeric.Given(i.Width) {
		dx = max(math.Abs(x)-i.Width/2, 0)
	}
	return math.Hypot(dx, max(math.Abs(y-i.mouthOffset(m))-i.Height/2, 0))
}

// phaseSpread is the greatest difference of phase between two mouths, rad.
func phaseSpread(ways [][]way, k float64) float64 {
	var first complex128
	low, high := 0.0, 0.0
	for m := range ways {
		sum := complex128(0)
		for _, w := range ways[m] {
			sum += cmplx.Rect(w.share, -k*w.length)
		}
		if m == 0 {
			first = sum
			continue
		}
		p := cmplx.Phase(sum / first)
		low, high = min(low, p), max(high, p)
	}
	return high - low
}
