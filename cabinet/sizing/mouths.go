package sizing

import (
	"math"
	"math/cmplx"

	"gapline/internal/numeric"
	"gapline/internal/special"
)

// Shape is the outline of a mouth.
type Shape int

// The shapes whose far-field pattern is a closed form.
const (
	Point  Shape = iota // omnidirectional
	Circle              // piston of a diameter
	Strip               // rectangle of a height along the line, or of a width across it
)

// String returns the shape in words.
func (s Shape) String() string {
	return [...]string{"point", "circle", "strip"}[s]
}

// Mouth is one radiating opening of a box, seen along the line.
type Mouth struct {
	Y        float64    // centre above the box's centre, m
	Strength complex128 // volume velocity, relative
	Shape    Shape
	Extent   float64 // diameter of a circle or height of a strip, m
}

// Mouths are the mouths of one box that carry one band.
type Mouths []Mouth

// evenly returns n equal mouths spaced d apart about the box's centre.
func evenly(n int, d float64, shape Shape, extent float64) Mouths {
	ms := make(Mouths, n)
	for i := range ms {
		ms[i] = Mouth{Strength: 1, Shape: shape, Extent: extent}
		if n > 1 {
			ms[i].Y = (float64(i) - float64(n-1)/2) * d
		}
	}
	return ms
}

// pattern returns the mouth's own pattern at κ = k·sin θ in rad/m.
func (m *Mouth) pattern(kappa float64) float64 { return m.Shape.pattern(kappa * m.Extent / 2) }

// pattern returns the far field of a mouth at x = κ/2 times its extent in the plane, with
// κ = k·sin θ:
//
//	circle  2J₁(x)/x      (Rayleigh)
//	strip   sin(x)/x
func (s Shape) pattern(x float64) float64 {
	switch s {
	case Circle:
		return special.Jinc(x)
	case Strip:
		return numeric.Sinc(x)
	}
	return 1
}

// Field returns the far-field sum of the box's mouths in the plane of the line
// at κ = k·sin θ in rad/m: Σ strength · pattern · e^{jκy}.
func (ms Mouths) Field(kappa float64) complex128 {
	var sum complex128
	for i := range ms {
		m := &ms[i]
		sin, cos := math.Sincos(kappa * m.Y)
		sum += m.Strength * complex(m.pattern(kappa)*cos, m.pattern(kappa)*sin)
	}
	return sum
}

// LobeRatio returns the level of lobe m of an endless line of such boxes at the
// given pitch in m, as a pressure ratio to the axis: |E(θ_m)|/|E(0)| with
// sin θ_m = mλ/p. Since κ = 2πm/p there, it does not depend on frequency; the
// lobe is visible from f = m·c/p on.
func (ms Mouths) LobeRatio(pitch float64, m int) float64 {
	return cmplx.Abs(ms.Field(2*math.Pi*float64(m)/pitch)) / cmplx.Abs(ms.Field(0))
}

// maxLobes is how many lobes LobeLimit looks at. Patterns fall with the order,
// so that a lobe first over the target above this does not occur in practice.
const maxLobes = 64

// LobeLimit returns the lowest frequency in Hz at which a lobe of the endless
// line exceeds limit, a pressure ratio to the axis; +Inf when none does.
func (ms Mouths) LobeLimit(pitch, limit, c float64) float64 {
	if !numeric.Given(pitch) || len(ms) == 0 {
		return numeric.Absent
	}
	for m := 1; m <= maxLobes; m++ {
		if ms.LobeRatio(pitch, m) > limit {
			return float64(m) * c / pitch
		}
	}
	return math.Inf(1)
}

// LargestSpacing returns the largest distance in m between neighbouring centres
// anywhere in a stack of such boxes at the given pitch.
func (ms Mouths) LargestSpacing(pitch float64) float64 {
	if len(ms) == 0 {
		return numeric.Absent
	}
	s := pitch - (ms[len(ms)-1].Y - ms[0].Y) // last of one box to first of the next
	for i := 1; i < len(ms); i++ {
		s = math.Max(s, ms[i].Y-ms[i-1].Y)
	}
	return s
}

// Share returns the radiating share of the line, Σ extent over pitch.
func (ms Mouths) Share(pitch float64) float64 {
	sum := 0.0
	for i := range ms {
		if ms[i].Shape == Point {
			return numeric.Absent
		}
		sum += ms[i].Extent
	}
	return sum / pitch
}
