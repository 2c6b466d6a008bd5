package waveguide

import (
	"fmt"
	"math"
	"math/cmplx"

	"gapline/driver"
)

// MouthLoad gives the impedance that ends a horn, divided by ρc/S, at the
// wavenumber k in 1/m for the mouth area S in m².
type MouthLoad func(k, area float64) complex128

// RoundMouth is the radiation of a circular piston in an infinite baffle.
func RoundMouth(k, area float64) complex128 {
	return driver.PistonOfArea(area).Impedance(k)
}

// RectangularMouth is the radiation of a rectangular piston in an infinite
// baffle whose longer side is aspect times the shorter.
func RectangularMouth(aspect float64) (MouthLoad, error) {
	if !(aspect > 0) || math.IsInf(aspect, 0) {
		return nil, fmt.Errorf("mouth aspect is %g; it must be more than 0", aspect)
	}
	return func(k, area float64) complex128 {
		return driver.Rectangle{Width: math.Sqrt(area / aspect), Height: math.Sqrt(area * aspect)}.Impedance(k)
	}, nil
}

// InfiniteThroat is the throat impedance, divided by ρc/S_t, of an infinitely
// long horn that starts as the given profile does, at the wavenumber k. ok is
// false for profiles that cannot be carried on.
//
// With ψ = p√S an outgoing wave in a flare of constant r″/r = v is
// ψ = e^{-jβx}, β² = k² - v, decaying below cutoff; for v = 0 this is the cone.
func InfiniteThroat(p AreaLaw, k float64) (z complex128, ok bool) {
	first, ok := p.endless()
	if !ok {
		return 0, false
	}
	beta := cmplx.Sqrt(complex(k*k-first.v, 0))
	if k*k < first.v {
		beta = complex(0, -math.Sqrt(first.v-k*k))
	}
	jb := complex(0, 1) * beta
	return complex(0, k) / (jb + complex(first.slope1/first.r1, 0)), true
}

// throatOf carries the state from mouth to throat at one wavenumber and returns
// the throat impedance divided by ρc/S_t. The state is ψ = r·p and
// w = ψ' - (r'/r)ψ, which is -jωρU/r; both are continuous wherever r is, also at
// a corner of the wall. Within a piece (ψ, ψ') turns through the matrix
//
//	cos βl   -sin βl/β
//	β sin βl   cos βl       β² = k² - v
//
// real and of determinant 1: Webster's equation exactly.
//
// Source: A. G. Webster, Proc. Nat. Acad. Sci. 5 (1919) 275-282; V. Salmon, JASA
// 17 (1946) 199-211.
func throatOf(pieces []piece, mouth complex128, k float64) complex128 {
	psi, w := mouth, complex(0, -k) // p/U = z·ρc/S at the mouth
	pr, pi := real(psi), imag(psi)
	wr, wi := real(w), imag(w)
	for i := len(pieces) - 1; i >= 0; i-- {
		q := &pieces[i]
		c, s, b2 := turn(k*k-q.v, q.length)
		g2, g1 := q.slope2/q.r2, q.slope1/q.r1
		dr, di := wr+g2*pr, wi+g2*pi
		pr, dr = c*pr-s*dr, b2*s*pr+c*dr
		pi, di = c*pi-s*di, b2*s*pi+c*di
		wr, wi = dr-g1*pr, di-g1*pi
	}
	return complex(0, -k) * complex(pr, pi) / complex(wr, wi)
}

// turn returns cos βl, sin(βl)/β and β² for β² of either sign.
func turn(b2, l float64) (c, s, beta2 float64) {
	switch {
	case b2*l*l > 1e-8:
		b := math.Sqrt(b2)
		s, c = math.Sincos(b * l)
		return c, s / b, b2
	case b2*l*l < -1e-8:
		b := math.Sqrt(-b2)
		return math.Cosh(b * l), math.Sinh(b*l) / b, b2
	}
	x := b2 * l * l
	return 1 - x/2*(1-x/12), l * (1 - x/6*(1-x/20)), b2
}

// Loading is the throat impedance of a horn over frequency.
type Loading struct {
	Frequency []float64    // Hz
	Impedance []complex128 // Z·S_t/(ρc)
	Segments  int          // pieces that the profile was cut into
	Error     float64      // largest relative change of the impedance on halving the segments
}

// ThroatImpedance returns the throat impedance at the frequencies f in Hz with
// the profile cut into a fixed number of segments; the sound speed c is in m/s.
// Conical and hyperbolic profiles are exact with any number, a list of areas
// exact for the straight walls it stands for.
func ThroatImpedance(p AreaLaw, mouth MouthLoad, c float64, f []float64, segments int) ([]complex128, error) {
	if segments < 1 {
		return nil, fmt.Errorf("%d segments asked for; at least 1 is needed", segments)
	}
	if !(c > 0) {
		return nil, fmt.Errorf("sound speed is %g m/s; it must be more than 0", c)
	}
	loads, err := mouthLoads(p, mouth, c, f)
	if err != nil {
		return nil, err
	}
	return throats(p.pieces(segments), loads, c, f), nil
}

// mouthLoads works out the mouth's impedance once, for all segmentations.
func mouthLoads(p AreaLaw, mouth MouthLoad, c float64, f []float64) ([]complex128, error) {
	area := p.Area(p.Length())
	loads := make([]complex128, len(f))
	for i, v := range f {
		if !(v > 0) || math.IsInf(v, 0) {
			return nil, fmt.Errorf("frequency %d is %g Hz; it must be more than 0", i+1, v)
		}
		loads[i] = mouth(2*math.Pi*v/c, area)
	}
	return loads, nil
}

func throats(pieces []piece, loads []complex128, c float64, f []float64) []complex128 {
	z := make([]complex128, len(f))
	for i, v := range f {
		z[i] = throatOf(pieces, loads[i], 2*math.Pi*v/c)
	}
	return z
}

// Limits of the refinement in Load.
const (
	firstSegments = 16
	mostSegments  = 4096
)

// Load returns the throat impedance at the frequencies f in Hz to the relative
// accuracy tol. The segments are halved until the impedance stops changing; the
// error of frusta falls as the square of their length, so each halving is
// followed by one Richardson step. When mostSegments do not suffice the error
// says what was reached.
func Load(p AreaLaw, mouth MouthLoad, c float64, f []float64, tol float64) (Loading, error) {
	coarse, err := ThroatImpedance(p, mouth, c, f, firstSegments)
	if err != nil {
		return Loading{}, err
	}
	loads, err := mouthLoads(p, mouth, c, f)
	if err != nil {
		return Loading{}, err
	}
	out := Loading{Frequency: f}
	previous := coarse
	for n := 2 * firstSegments; n <= mostSegments; n *= 2 {
		fine := throats(p.pieces(n), loads, c, f)
		better := make([]complex128, len(f))
		out.Error = 0
		for i := range f {
			better[i] = fine[i] + (fine[i]-coarse[i])/3
			out.Error = math.Max(out.Error, cmplx.Abs(better[i]-previous[i])/cmplx.Abs(better[i]))
		}
		out.Impedance, out.Segments = better, n
		if out.Error <= tol {
			return out, nil
		}
		coarse, previous = fine, better
	}
	return out, fmt.Errorf("throat impedance: %d segments reach a relative accuracy of %.2g, %.2g was asked for",
		out.Segments, out.Error, tol)
}

// ListError tells whether a list of areas has points enough: the largest
// relative change of the throat impedance at the frequencies f when every second
// inner point is left out. The true error of the list is about a third of it
// when the points lie on a smooth curve.
func ListError(l AreaList, mouth MouthLoad, c float64, f []float64) (float64, error) {
	full, err := ThroatImpedance(l, mouth, c, f, 1)
	if err != nil {
		return 0, err
	}
	thin, err := ThroatImpedance(l.thinned(), mouth, c, f, 1)
	if err != nil {
		return 0, err
	}
	worst := 0.0
	for i := range full {
		worst = math.Max(worst, cmplx.Abs(full[i]-thin[i])/cmplx.Abs(full[i]))
	}
	return worst, nil
}

// Ripple is the swing of the throat resistance between the frequencies low and
// high in Hz: 10 log10(R_max/R_min), the swing in dB of the power that a source
// of constant volume velocity sends into the horn. NaN when fewer than two
// frequencies lie in the band.
func (l Loading) Ripple(low, high float64) float64 {
	lo, hi, n := math.Inf(1), math.Inf(-1), 0
	for i, f := range l.Frequency {
		if f >= low && f <= high {
			r := real(l.Impedance[i])
			lo, hi, n = math.Min(lo, r), math.Max(hi, r), n+1
		}
	}
	if n < 2 {
		return math.NaN()
	}
	return 10 * math.Log10(hi/lo)
}
