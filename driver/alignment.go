package driver

import (
	"fmt"
	"math"

	"gapline/internal/numeric"
)

// Alignment is a classical high-pass response and the box that gives it.
type Alignment struct {
	Name   string  // "B2", "D2", "BL2", "C2", "B4", "QB3", "C4", or "" for none
	K      float64 // C4: factor on the real parts of the Butterworth poles; NaN otherwise
	QT     float64 // total Q of the driver
	H      float64 // fb/fs; NaN for a closed box
	Alpha  float64 // Vas/Vb
	F3     float64 // f3/fs, half power
	Ripple float64 // of the passband, dB
}

// quartic holds the coefficients of the fourth-order high-pass
// s⁴/(s⁴ + a1 s³ + a2 s² + a3 s + 1), s in units of √(ωs ωb).
type quartic struct{ a1, a2, a3 float64 }

// chebyshev returns the C4 polynomial: the Butterworth poles with their real
// parts multiplied by k and the frequency normalised. k = 1 is B4, k < 1 has
// equal ripple. Source: Thiele 1971; Small 1973, appendix.
func chebyshev(k float64) quartic {
	sin, cos := math.Sincos(math.Pi / 8)
	w1, w2 := k*k*sin*sin+cos*cos, k*k*cos*cos+sin*sin
	b3 := 2 * k * (sin + cos)
	b2 := w1 + w2 + 4*k*k*sin*cos
	b1 := 2 * k * (sin*w2 + cos*w1)
	b0 := w1 * w2
	return quartic{b1 / math.Pow(b0, 0.75), b2 / math.Sqrt(b0), b3 / math.Pow(b0, 0.25)}
}

// quasiButterworth returns the QB3 polynomial with a given a1, which is above
// butterworthA1: a1² = 2a2 and 2a1a3 = a2² + 2 (Thiele 1971).
func quasiButterworth(a1 float64) quartic {
	a2 := a1 * a1 / 2
	return quartic{a1, a2, (a2*a2 + 2) / (2 * a1)}
}

// butterworthA1 is a1 of B4, 2(sin 22.5° + cos 22.5°).
var butterworthA1 = chebyshev(1).a1

// chebyshevRipple is the ripple in dB of C4(k),
// 10 log₁₀[1 + K⁴/(64 + 128K + 80K² + 16K³)], K = 1/k² − 1: the exact form of
// ε = 1/sinh(4 artanh k).
func chebyshevRipple(k float64) float64 {
	x := 1/(k*k) - 1
	return 10 * math.Log10(1+x*x*x*x/(64+128*x+80*x*x+16*x*x*x))
}

// box returns the driver and box that give the polynomial with leak ql (+Inf =
// none), by Small 1973, eqs. 20 to 24:
//
//	r⁴ − a1·QL·r³ + a3·QL·r − 1 = 0,  h = r²
//	1/QT = a1√h − h/QL,  α = a2h − h² − 1 − h/(QL·QT)
func (q quartic) box(ql float64) (h, qt, alpha float64, err error) {
	r0 := math.Sqrt(q.a3 / q.a1)
	f := func(r float64) float64 { return (r*r*r*r-1)/ql - q.a1*r*r*r + q.a3*r }
	r, err := numeric.Root(f, 0.7*r0, 1.5*r0, 1e-15)
	if err != nil {
		return numeric.Absent, numeric.Absent, numeric.Absent, fmt.Errorf("no vented box with QL = %g: %w", ql, err)
	}
	h = r * r
	qt = 1 / (q.a1*r - h/ql)
	return h, qt, q.a2*h - h*h - 1 - h/(ql*qt), nil
}

// f3 returns the half-power frequency in units of √(fs fb): the highest root of
// |D(jω)|² = 2ω⁸.
func (q quartic) f3() float64 {
	excess := func(x float64) float64 { // x = −ln ω
		w := math.Exp(-x)
		re := w*w*w*w - q.a2*w*w + 1
		im := q.a3*w - q.a1*w*w*w
		return math.Log((re*re + im*im) / (2 * math.Pow(w, 8)))
	}
	x, ok := numeric.FirstCrossing(excess, -math.Log(100), math.Log(100), 0.01, 1e-14)
	if !ok {
		return numeric.Absent
	}
	return math.Exp(-x)
}

// butterworthBand is the relative distance of QT from that of B4 within which
// the alignment is called B4.
const butterworthBand = 0.005

// Limits of the families searched: k of the flattest C4 kept, a1 of the QB3
// for the strongest motor.
const leastK, mostA1 = 0.2, 12.0

// VentedAlignment returns the classical vented alignment for a driver of total
// Q qt with box leak ql (NaN or +Inf = none): QB3 below the Q of B4, C4 above.
// It returns an error when qt lies outside what a vented box can serve.
func VentedAlignment(qt, ql float64) (Alignment, error) {
	if !(qt > 0) {
		return Alignment{}, fmt.Errorf("qts = %g: must be a positive number", qt)
	}
	if !numeric.Given(ql) {
		ql = math.Inf(1)
	}
	_, b4, _, err := chebyshev(1).box(ql)
	if err != nil {
		return Alignment{}, err
	}
	name, x := "B4", 1.0
	family := chebyshev
	switch {
	case qt < b4*(1-rootTolerance):
		name, family = "QB3", quasiButterworth
		x, err = familyMember(family, butterworthA1, mostA1, qt, ql)
	case qt > b4*(1+rootTolerance):
		name = "C4"
		x, err = familyMember(family, 1, leastK, qt, ql)
	}
	if err != nil {
		return Alignment{}, err
	}
	q := family(x)
	a := Alignment{Name: name, K: numeric.Absent, QT: qt}
	a.H, _, a.Alpha, err = q.box(ql)
	if err != nil || a.Alpha <= 0 {
		return Alignment{}, fmt.Errorf("no classical vented alignment for Qts = %.3g with QL = %.3g: the box would be endless", qt, ql)
	}
	a.F3 = q.f3() * math.Sqrt(a.H)
	if name == "C4" {
		a.K, a.Ripple = x, chebyshevRipple(x)
	}
	if math.Abs(qt/b4-1) < butterworthBand {
		a.Name = "B4"
	}
	return a, nil
}

// rootTolerance is the relative difference from B4's Q that counts as none.
const rootTolerance = 1e-9

// familyMember finds the parameter between from (B4) and to at which the
// family's driver has total Q qt. Q is monotone from B4 to the family's end,
// beyond which no box exists.
func familyMember(family func(float64) quartic, from, to, qt, ql float64) (float64, error) {
	miss := func(u float64) float64 {
		_, got, alpha, err := family(from + u*(to-from)).box(ql)
		if err != nil || alpha <= 0 {
			return numeric.Absent
		}
		return got - qt
	}
	const step = 1.0 / 64
	for u := 0.0; u < 1; u += step {
		if miss(u)*miss(u+step) <= 0 {
			x, err := numeric.Root(miss, u, u+step, 1e-15)
			return from + x*(to-from), err
		}
	}
	return numeric.Absent, fmt.Errorf("no classical vented alignment for Qts = %.3g with QL = %.3g", qt, ql)
}

// ClosedAlignment returns the maximally flat (B2) closed box for a driver of
// total Q qt: α = 1/(2 QT²) − 1. It returns an error when the driver's own Q is
// already above 1/√2 (Small 1972).
func ClosedAlignment(qt float64) (Alignment, error) {
	alpha := 1/(2*qt*qt) - 1
	if !(alpha > 0) || math.IsInf(alpha, 0) {
		return Alignment{}, fmt.Errorf("no B2 closed box for Qts = %.3g: it must be below 0.707", qt)
	}
	return Alignment{Name: "B2", K: numeric.Absent, QT: qt, H: numeric.Absent, Alpha: alpha, F3: math.Sqrt(1 + alpha)}, nil
}

// Tolerances within which a given box is called by an alignment's name.
const (
	qtcBand   = 0.02 // relative, of Qtc
	hBand     = 0.03 // relative, of fb/fs
	alphaBand = 0.05 // relative, of Vas/Vb
)

// Alignment names the box's response when it is one of the classical ones
// within 2 % of Qtc (closed), or 3 % of tuning and 5 % of volume (vented);
// otherwise Name is empty and the other fields describe the box. Passive
// radiators are not named, because their own compliance adds a notch.
func (c *Circuit) Alignment() Alignment {
	qt := totalQ(c.setup.Driver)
	a := Alignment{K: numeric.Absent, QT: qt, H: numeric.Absent, Alpha: c.Alpha(), Ripple: numeric.Absent,
		F3: c.plain().Cutoff(HalfPower) / c.setup.Driver.Fs.Value()}
	c.enclosure.Kind.rearLoad().align(c, &a)
	return a
}

// closedName returns Small's name of a closed-box response and its peak in dB.
func closedName(qtc float64) (name string, peak float64) {
	for _, n := range []struct {
		name string
		q    float64
	}{{"D2", 0.5}, {"BL2", 1 / math.Sqrt(3)}, {"B2", math.Sqrt2 / 2}} {
		if math.Abs(qtc/n.q-1) < qtcBand {
			return n.name, 0
		}
	}
	if qtc > math.Sqrt2/2 {
		return "C2", numeric.DB(qtc * qtc / math.Sqrt(qtc*qtc-0.25))
	}
	return "", 0
}
