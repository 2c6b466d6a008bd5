package driver

import (
	"math"
	"math/cmplx"
	"math/rand/v2"
)

// A specimen is an invented driver as a sweep sees it, written down without the
// fit's code: the motional part as the admittances of Cmes, Lces and Res in
// parallel (Small 1972), the coil as its own function of ω.
type specimen struct {
	fs, qes, qms, re float64
	coil             func(w float64) complex128
}

// impedance returns the terminals' impedance at f in Hz.
func (s specimen) impedance(f float64) complex128 {
	w, ws := 2*math.Pi*f, 2*math.Pi*s.fs
	res := s.re * s.qms / s.qes
	capacity := s.qes / (ws * s.re)
	inductance := s.re / (ws * s.qes)
	return complex(s.re, 0) + 1/(complex(1/res, w*capacity)+1/complex(0, w*inductance)) + s.coil(w)
}

// kilohertz is 2π·1 kHz.
const kilohertz = 2000 * math.Pi

// coilKind is a published model of the coil's lossy inductance, of which each call
// of draw gives another coil.
type coilKind struct {
	name string
	draw func(u func(low, high float64) float64) func(w float64) complex128
}

// coilKinds are five kinds of driver.
var coilKinds = []coilKind{
	// K(jω)ⁿ: W. M. Leach, JAES 50 (2002) 442-450.
	{"Leach", func(u func(a, b float64) float64) func(float64) complex128 {
		k, n := u(2.5, 8), u(0.55, 0.8)
		return func(w float64) complex128 { return complex(k, 0) * cmplx.Pow(complex(0, w/kilohertz), complex(n, 0)) }
	}},
	// The same in series with a plain inductance of the leakage flux.
	{"Leach and plain", func(u func(a, b float64) float64) func(float64) complex128 {
		k, n, l := u(2, 6), u(0.5, 0.7), u(0.1e-3, 0.5e-3)
		return func(w float64) complex128 {
			return complex(k, 0)*cmplx.Pow(complex(0, w/kilohertz), complex(n, 0)) + complex(0, w*l)
		}
	}},
	// jωLeb + (jωLe ∥ K√(jω) ∥ Rss): K. Thorborg, A. D. Unruh and C. J. Struck, AES
	// 94th Convention (1993); K. Thorborg and A. D. Unruh, JAES 56 (2008) 696-709.
	{"semi-inductor", func(u func(a, b float64) float64) func(float64) complex128 {
		leb, le, k, rss := u(0.1e-3, 0.4e-3), u(0.5e-3, 3e-3), u(0.03, 0.1), u(20, 200)
		return func(w float64) complex128 {
			return complex(0, w*leb) + 1/(1/complex(0, w*le)+1/(complex(k, 0)*cmplx.Sqrt(complex(0, w)))+complex(1/rss, 0))
		}
	}},
	// jωLe + (jωL2 ∥ R2): M. Dodd, W. Klippel and J. Oclee-Brown, AES 117th Convention
	// (2004).
	{"ring", func(u func(a, b float64) float64) func(float64) complex128 {
		le, l2, r2 := u(0.1e-3, 0.5e-3), u(0.2e-3, 1.5e-3), u(2, 20)
		return func(w float64) complex128 { return complex(0, w*le) + 1/(1/complex(0, w*l2)+complex(1/r2, 0)) }
	}},
	// Kr·ω^Xr + j·Ki·ω^Xi: J. R. Wright, JAES 38 (1990) 749-754.
	{"Wright", func(u func(a, b float64) float64) func(float64) complex128 {
		r, xr, x, xi := u(1, 4), u(0.6, 0.9), u(2, 6), u(0.6, 0.75)
		return func(w float64) complex128 { return complex(r*math.Pow(w/kilohertz, xr), x*math.Pow(w/kilohertz, xi)) }
	}},
}

// drawn is an invented driver of the kind, with parameters as woofers and mids of
// line-array boxes have.
func (k coilKind) drawn(r *rand.Rand) specimen {
	u := func(a, b float64) float64 { return a + (b-a)*r.Float64() }
	return specimen{fs: 30 * math.Pow(4, r.Float64()), qes: u(0.25, 0.6), qms: u(3, 9), re: u(3.5, 6.5), coil: k.draw(u)}
}

// measured is a sweep of the specimen with errors of the given relative size on the
// magnitude and the same, in rad, on the phase.
func (s specimen) measured(f []float64, noise float64, phase bool, r *rand.Rand) ImpedanceSweep {
	out := ImpedanceSweep{Frequency: f}
	for _, x := range f {
		z := s.impedance(x)
		out.Magnitude = append(out.Magnitude, cmplx.Abs(z)*(1+noise*r.NormFloat64()))
		if phase {
			out.Phase = append(out.Phase, cmplx.Phase(z)+noise*r.NormFloat64())
		}
	}
	return out
}
