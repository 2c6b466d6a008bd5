package waveguide

import (
	"math"

	"gapline/internal/numeric"
)

// minusSixDB is the pressure ratio of -6.000 dB. The trade also reads "-6 dB"
// as half pressure (-6.02 dB), which moves a flat mouth's beam by 0.15 %; this
// project keeps the decibel figure, as IEC 60268-5 states coverage in decibels.
var minusSixDB = numeric.FromDB(-6)

// Aperture is one plane of a mouth: a strip in a baffle that radiates with
// uniform amplitude and carries a circular phase front, as if from a line
// source at a distance Apex behind the mouth plane.
type Aperture struct {
	Width float64 // size of the mouth in this plane, m
	Apex  float64 // distance of the virtual apex behind the mouth plane, m; +Inf for a flat front
}

// CoverageAperture returns the aperture of a straight-walled horn of the given
// mouth width in m and full coverage angle in rad: Apex = W/(2 tan(θ/2)).
func CoverageAperture(width, coverage float64) Aperture {
	return Aperture{Width: width, Apex: width / (2 * math.Tan(coverage/2))}
}

// Pressure returns the far-field pressure at the sine of the angle from the
// axis, relative to a flat front on the axis:
//
//	P(φ) = (1/W) ∫ e^{-jk(√(R²+x²) − R)} e^{jkx sin φ} dx,  x = -W/2 … W/2
//
// lambda is the wavelength in m. There is no obliquity factor (rigid baffle).
func (a Aperture) Pressure(lambda, sine float64) complex128 {
	var s strip
	s.set(a.Width/lambda, a.Apex/a.Width, math.Abs(sine))
	return s.at(sine)
}

// HalfBeam returns the sine of the angle at which the level first falls to
// -6 dB of that on the axis. It is NaN when the level stays above that to 90°.
func (a Aperture) HalfBeam(lambda float64) float64 {
	var s strip
	s.set(a.Width/lambda, a.Apex/a.Width, 1)
	return s.halfBeam()
}

// Beamwidth returns the -6 dB full width in rad, NaN when the level stays
// above -6 dB to 90° on each side.
func (a Aperture) Beamwidth(lambda float64) float64 {
	return 2 * math.Asin(a.HalfBeam(lambda))
}

// strip is the aperture integral at one frequency in units of the mouth width:
// with t = x/W, q = W/λ and ℓ = Apex/W,
//
//	P(s) = 2 ∫₀^½ e^{-j2πq(√(ℓ²+t²) − ℓ)} cos(2πq s t) dt.
//
// The phase factors are stored once, so that another angle costs one cosine a
// point.
type strip struct {
	q      float64
	n      int
	t      [maxStripPoints]float64
	re, im [maxStripPoints]float64
}

// maxStripPoints bounds the Gauss-Legendre rule; it serves apertures of some
// 60 wavelengths in one panel.
const maxStripPoints = 256

// set prepares the integral. sMax is the largest sine that will be asked for.
//
// Gauss-Legendre converges exponentially once it has a bit more than one point
// for every π of phase across the interval; an apex close behind the mouth bends
// the phase sharply and wants more. The constants leave errors under 1e-11 for
// every q that fits (tested against a dense rule).
func (s *strip) set(q, apex, sMax float64) {
	phase := 2 * math.Pi * q * (bulge(apex, 0.5) + sMax/2)
	rule := numeric.Legendre(min(10+4*int(phase*0.7/4+1)+int(2/apex), maxStripPoints))
	s.q, s.n = q, len(rule.X)
	for i, x := range rule.X {
		t := (x + 1) / 4
		sin, cos := math.Sincos(-2 * math.Pi * q * bulge(apex, t))
		w := rule.W[i] / 2
		s.t[i], s.re[i], s.im[i] = t, w*cos, w*sin
	}
}

// bulge is √(ℓ²+t²) − ℓ without cancellation; 0 for a flat front.
func bulge(apex, t float64) float64 {
	if math.IsInf(apex, 1) {
		return 0
	}
	return t * t / (math.Hypot(apex, t) + apex)
}

// at returns P(s).
func (s *strip) at(sine float64) complex128 {
	k := 2 * math.Pi * s.q * sine
	var re, im float64
	for i := range s.n {
		c := math.Cos(k * s.t[i])
		re += s.re[i] * c
		im += s.im[i] * c
	}
	return complex(re, im)
}

// axial returns |P(0)|².
func (s *strip) axial() float64 {
	var re, im float64
	for i := range s.n {
		re += s.re[i]
		im += s.im[i]
	}
	return re*re + im*im
}

// excess returns |P(s)|² − 10^(-0.6) |P(0)|², which changes sign at the -6 dB
// angle.
func (s *strip) excess(sine, axial float64) float64 {
	return norm(s.at(sine)) - minusSixDB*minusSixDB*axial
}

// halfBeam is the smallest sine with excess 0; NaN if there is none up to 1.
func (s *strip) halfBeam() float64 {
	axial := s.axial()
	// Lobes are λ/W wide in the sine: an eighth of that cannot step over the
	// first crossing.
	h := math.Min(1.0/16, 1/(8*s.q))
	f := func(x float64) float64 { return s.excess(x, axial) }
	x, ok := numeric.FirstCrossing(f, 0, 1, h, 1e-13)
	if !ok {
		return numeric.Absent
	}
	return x
}

func norm(z complex128) float64 { return real(z)*real(z) + imag(z)*imag(z) }
