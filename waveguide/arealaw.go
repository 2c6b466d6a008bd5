package waveguide

import (
	"fmt"
	"math"
	"sort"

	"gapline/internal/numeric"
)

// AreaLaw is the area of a horn from throat to mouth along its axis: Conical, the
// Salmon family Hyperbolic, Tractrix or AreaList; their constructors check the
// values. Profile is what a design calls them by.
type AreaLaw interface {
	// Length is the distance from throat to mouth in m.
	Length() float64
	// Area is the area in m² at the distance x in m from the throat.
	Area(x float64) float64
	// Cutoff is the frequency in Hz below which an infinite horn of this flare
	// passes no power, for the sound speed c in m/s; NaN where the flare has
	// none.
	Cutoff(c float64) float64
	// pieces cuts the profile into n parts or a few more.
	pieces(n int) []piece
	// endless returns the piece that carries on for ever as the profile starts;
	// false where its wall has another law further on.
	endless() (piece, bool)
}

// piece is a stretch of profile whose radius r = √S obeys r″ = v·r with v
// constant: a frustum for v = 0, a part of the Salmon family for v > 0. Webster's
// equation is solved exactly in it.
type piece struct {
	length         float64 // m
	r1, r2         float64 // √S at the throat and mouth end, m
	slope1, slope2 float64 // dr/dx at the two ends
	v              float64 // r″/r, 1/m²
}

// frusta joins neighbouring nodes by straight walls.
func frusta(x, r []float64) []piece {
	p := make([]piece, len(x)-1)
	for i := range p {
		l := x[i+1] - x[i]
		s := (r[i+1] - r[i]) / l
		p[i] = piece{length: l, r1: r[i], r2: r[i+1], slope1: s, slope2: s}
	}
	return p
}

// ends checks what all profiles have in common.
func ends(throat, mouth, length float64) error {
	var p problems
	p.addf(!(throat > 0) || math.IsInf(throat, 0), "throat area is %.4g m²; it must be more than 0", throat)
	p.addf(!(mouth > 0) || math.IsInf(mouth, 0), "mouth area is %.4g m²; it must be more than 0", mouth)
	p.addf(!(length > 0) || math.IsInf(length, 0), "horn length is %s; it must be more than 0", mm(length))
	p.addf(mouth < throat, "the profile narrows from %.4g m² at the throat to %.4g m² at the mouth; it must widen", throat, mouth)
	if len(p) > 0 {
		return p[0]
	}
	return nil
}

// Conical is a horn with straight walls: √S grows in proportion to distance.
type Conical struct {
	throat, mouth, length float64
}

// NewConical returns a conical horn (or a pipe) from the throat area to the
// mouth area, both in m², over the length in m.
func NewConical(throat, mouth, length float64) (Conical, error) {
	return Conical{throat, mouth, length}, ends(throat, mouth, length)
}

func (h Conical) radius(x float64) float64 {
	t := math.Sqrt(h.throat)
	return t + (math.Sqrt(h.mouth)-t)*x/h.length
}

// Length implements AreaLaw.
func (h Conical) Length() float64 { return h.length }

// Area implements AreaLaw.
func (h Conical) Area(x float64) float64 { r := h.radius(x); return r * r }

// Cutoff implements AreaLaw: a cone has no cutoff.
func (h Conical) Cutoff(float64) float64 { return numeric.Absent }

func (h Conical) endless() (piece, bool) { return h.pieces(1)[0], true }

func (h Conical) pieces(n int) []piece {
	x, r := make([]float64, n+1), make([]float64, n+1)
	for i := range x {
		x[i] = h.length * float64(i) / float64(n)
		r[i] = h.radius(x[i])
	}
	return frusta(x, r)
}

// Hyperbolic is a horn of Salmon's family, S = S_t (cosh(x/x₀) + T sinh(x/x₀))².
// T = 1 is the exponential horn S = S_t e^{mx} with m = 2/x₀, T = 0 the
// catenoid; T → ∞ tends to the cone.
//
// Source: V. Salmon, "A new family of horns", JASA 17 (1946) 212-218.
type Hyperbolic struct {
	throat, length float64
	x0, t          float64
}

// NewHyperbolic returns the horn of the family parameter t >= 0 from the throat
// area to the larger mouth area in m² over the length in m; x₀ follows.
func NewHyperbolic(throat, mouth, length, t float64) (Hyperbolic, error) {
	if err := ends(throat, mouth, length); err != nil {
		return Hyperbolic{}, err
	}
	if !(mouth > throat) {
		return Hyperbolic{}, fmt.Errorf("mouth and throat area are both %.4g m²; a flare needs a larger mouth", mouth)
	}
	if !(t >= 0) || math.IsInf(t, 0) {
		return Hyperbolic{}, fmt.Errorf("family parameter is %g; it must be 0 or more: below 0 the profile narrows at the throat", t)
	}
	// cosh u + T sinh u = ρ is quadratic in e^u.
	ratio := math.Sqrt(mouth / throat)
	u := math.Log((ratio + math.Sqrt(ratio*ratio-1+t*t)) / (1 + t))
	return Hyperbolic{throat: throat, length: length, x0: length / u, t: t}, nil
}

// NewExponential returns the exponential horn, family parameter 1.
func NewExponential(throat, mouth, length float64) (Hyperbolic, error) {
	return NewHyperbolic(throat, mouth, length, 1)
}

// FlareConstant is m = 2/x₀ in 1/m, of the area law S = S_t e^{mx} when T = 1.
func (h Hyperbolic) FlareConstant() float64 { return 2 / h.x0 }

// radius and slope are √S and its derivative.
func (h Hyperbolic) radius(x float64) float64 {
	return math.Sqrt(h.throat) * (math.Cosh(x/h.x0) + h.t*math.Sinh(x/h.x0))
}

func (h Hyperbolic) slope(x float64) float64 {
	return math.Sqrt(h.throat) / h.x0 * (math.Sinh(x/h.x0) + h.t*math.Cosh(x/h.x0))
}

// Length implements AreaLaw.
func (h Hyperbolic) Length() float64 { return h.length }

// Area implements AreaLaw.
func (h Hyperbolic) Area(x float64) float64 { r := h.radius(x); return r * r }

// Cutoff implements AreaLaw: c/(2πx₀), which is m c/(4π) for T = 1.
func (h Hyperbolic) Cutoff(c float64) float64 { return c / (2 * math.Pi * h.x0) }

func (h Hyperbolic) endless() (piece, bool) { return h.pieces(1)[0], true }

func (h Hyperbolic) pieces(n int) []piece {
	p := make([]piece, n)
	for i := range p {
		x1, x2 := h.length*float64(i)/float64(n), h.length*float64(i+1)/float64(n)
		p[i] = piece{x2 - x1, h.radius(x1), h.radius(x2), h.slope(x1), h.slope(x2), 1 / (h.x0 * h.x0)}
	}
	return p
}

// Tractrix is a round horn whose wall keeps the distance a_m along its tangent
// to the axis, with its full mouth of radius a_m:
//
//	r = a_m sech u,  x = a_m (u - tanh u) from the mouth
//
// Source: P. G. A. H. Voigt's horn as given by H. F. Olson, Acoustical
// Engineering, 1957, ch. 7 (from memory).
type Tractrix struct {
	mouthRadius float64
	ut          float64 // u at the throat
}

// NewTractrix returns the horn from a round throat to a larger round mouth of
// the given areas in m²; its length follows.
func NewTractrix(throat, mouth float64) (Tractrix, error) {
	if err := ends(throat, mouth, 1); err != nil {
		return Tractrix{}, err
	}
	if !(mouth > throat) {
		return Tractrix{}, fmt.Errorf("mouth and throat area are both %.4g m²; a tractrix needs a larger mouth", mouth)
	}
	return Tractrix{math.Sqrt(mouth / math.Pi), math.Acosh(math.Sqrt(mouth / throat))}, nil
}

// fromMouth is the distance x/a_m from the mouth at the parameter u.
func (h Tractrix) fromMouth(u float64) float64 { return u - math.Tanh(u) }

// Length implements AreaLaw.
func (h Tractrix) Length() float64 { return h.mouthRadius * h.fromMouth(h.ut) }

// Area implements AreaLaw.
func (h Tractrix) Area(x float64) float64 {
	left := (h.Length() - x) / h.mouthRadius
	u, err := numeric.Root(func(u float64) float64 { return h.fromMouth(u) - left }, 0, h.ut, 1e-14)
	if err != nil {
		// Only rounding at the two ends gets here.
		u = h.ut
		if left <= 0 {
			u = 0
		}
	}
	r := h.mouthRadius / math.Cosh(u)
	return math.Pi * r * r
}

// Cutoff implements AreaLaw: c/(2πa_m), the mouth's circumference one wavelength.
func (h Tractrix) Cutoff(c float64) float64 { return c / (2 * math.Pi * h.mouthRadius) }

func (Tractrix) endless() (piece, bool) { return piece{}, false }

func (h Tractrix) pieces(n int) []piece {
	// Equal steps of u keep the ratio of neighbouring radii even and shorten the
	// steps towards the mouth, where the wall opens to 90°.
	x, r := make([]float64, n+1), make([]float64, n+1)
	for i := range x {
		u := h.ut * float64(n-i) / float64(n)
		x[i] = h.Length() - h.mouthRadius*h.fromMouth(u)
		r[i] = math.Sqrt(math.Pi) * h.mouthRadius / math.Cosh(u)
	}
	return frusta(x, r)
}

// AreaPoint is one pair of a measured or drawn profile.
type AreaPoint struct {
	Distance float64 // from the throat, m
	Area     float64 // m²
}

// AreaList is a profile given by pairs of distance and area. Between the points
// √S grows in proportion to distance, as between straight walls.
type AreaList struct {
	x, r []float64
}

// NewAreaList takes two or more points. The first is the throat; distances must
// rise from point to point and areas must not fall.
func NewAreaList(points []AreaPoint) (AreaList, error) {
	if len(points) < 2 {
		return AreaList{}, fmt.Errorf("the profile has %d points; at least 2 are needed", len(points))
	}
	var l AreaList
	for i, p := range points {
		if !(p.Area > 0) || math.IsInf(p.Area, 0) || math.IsNaN(p.Distance) || math.IsInf(p.Distance, 0) {
			return AreaList{}, fmt.Errorf("profile point %d: distance %s, area %.4g m²; the area must be more than 0 and both finite",
				i+1, mm(p.Distance), p.Area)
		}
		if i > 0 && !(p.Distance > points[i-1].Distance) {
			return AreaList{}, fmt.Errorf("profile point %d: distance %s after %s; distances must rise from point to point",
				i+1, mm(p.Distance), mm(points[i-1].Distance))
		}
		if i > 0 && p.Area < points[i-1].Area {
			return AreaList{}, fmt.Errorf("profile point %d: the profile narrows from %.4g m² to %.4g m²; it must widen",
				i+1, points[i-1].Area, p.Area)
		}
		l.x = append(l.x, p.Distance-points[0].Distance)
		l.r = append(l.r, math.Sqrt(p.Area))
	}
	return l, nil
}

// Length implements AreaLaw.
func (l AreaList) Length() float64 { return l.x[len(l.x)-1] }

// Area implements AreaLaw.
func (l AreaList) Area(x float64) float64 {
	i := min(max(sort.SearchFloat64s(l.x, x), 1), len(l.x)-1)
	r := l.r[i-1] + (l.r[i]-l.r[i-1])*(x-l.x[i-1])/(l.x[i]-l.x[i-1])
	return r * r
}

// Cutoff implements AreaLaw: a free profile has no one flare.
func (l AreaList) Cutoff(float64) float64 { return numeric.Absent }

func (AreaList) endless() (piece, bool) { return piece{}, false }

func (l AreaList) pieces(n int) []piece {
	var x, r []float64
	per := (n + len(l.x) - 2) / (len(l.x) - 1)
	for i := range len(l.x) - 1 {
		for j := range per {
			t := float64(j) / float64(per)
			x = append(x, l.x[i]+t*(l.x[i+1]-l.x[i]))
			r = append(r, l.r[i]+t*(l.r[i+1]-l.r[i]))
		}
	}
	return frusta(append(x, l.Length()), append(r, l.r[len(l.r)-1]))
}

// thinned drops every second inner point.
func (l AreaList) thinned() AreaList {
	var t AreaList
	for i := range l.x {
		if i%2 == 0 || i == len(l.x)-1 {
			t.x, t.r = append(t.x, l.x[i]), append(t.r, l.r[i])
		}
	}
	return t
}

var (
	_ AreaLaw = Conical{}
	_ AreaLaw = Hyperbolic{}
	_ AreaLaw = Tractrix{}
	_ AreaLaw = AreaList{}
)
