package driver

import (
	"math"
	"math/cmplx"
)

// The parameters of a fit, all as logarithms of SI values but the exponents. Each
// model has some of them.
const (
	thetaFs = iota
	thetaQes
	thetaQms
	thetaRe
	thetaSeries      // plain inductance in series, H
	thetaParallel    // plain inductance beside the lossy one, H
	thetaLossy       // lossy inductance, H, at 1 kHz
	thetaExponent    // its exponent
	thetaRing        // resistance beside the lossy inductance, Ω
	thetaReal        // real part at 1 kHz of an inductance in two parts, Ω
	thetaRealSlope   // its exponent
	thetaImaginary   // imaginary part at 1 kHz, Ω
	thetaImaginSlope // its exponent
	thetaCount
)

// vector holds one value for every parameter, used or not.
type vector = [thetaCount]float64

// coilModel is a model of the coil's inductance: which parameters it has.
type coilModel struct {
	named    InductorModel
	slots    []int
	exponent float64 // of the lossy inductance where it is not fitted
}

// coilModels are the models that a fit weighs against each other, the plainest first.
// All but the last are this circuit with some of its parts,
//
//	Z_L = jωL_s + (jωL_p ∥ jωL·(jω/ω₁)^{n−1} ∥ R_p)
var coilModels = []coilModel{
	noCoil:         {named: NoInductor},
	plainCoil:      {named: PlainInductor, slots: []int{thetaSeries}},
	halfCoil:       {named: LossyInductor, slots: []int{thetaLossy}, exponent: 0.5},
	lossyCoil:      {named: LossyInductor, slots: []int{thetaLossy, thetaExponent}},
	halfPlainCoil:  {named: LossyPlainInductor, slots: []int{thetaSeries, thetaLossy}, exponent: 0.5},
	lossyPlainCoil: {named: LossyPlainInductor, slots: []int{thetaSeries, thetaLossy, thetaExponent}},
	ringCoil:       {named: RingInductor, slots: []int{thetaSeries, thetaParallel, thetaRing}},
	semiCoil:       {named: SemiInductor, slots: []int{thetaSeries, thetaParallel, thetaLossy}, exponent: 0.5},
	semiRingCoil:   {named: SemiInductor, slots: []int{thetaSeries, thetaParallel, thetaLossy, thetaRing}, exponent: 0.5},
	splitCoil:      {named: SplitInductor, slots: []int{thetaReal, thetaRealSlope, thetaImaginary, thetaImaginSlope}},
}

const (
	noCoil = iota
	plainCoil
	halfCoil
	lossyCoil
	halfPlainCoil
	lossyPlainCoil
	ringCoil
	semiCoil
	semiRingCoil
	splitCoil
)

// has reports whether the model has the parameter.
func (m *coilModel) has(slot int) bool {
	for _, s := range m.slots {
		if s == slot {
			return true
		}
	}
	return false
}

// terms are a model's parameters made ready for many frequencies: all that does not
// change with them.
type terms struct {
	model              *coilModel
	fs, qms, re, share float64    // share is Qms/Qes·Re
	series             float64    // ω₁L_s
	parallel, ring     float64    // 1/(ω₁L_p) and 1/R_p
	lossy              complex128 // admittance of the lossy inductance at ω₁
	exponent           float64
	part, slope        [2]float64 // of an inductance in two parts, real and imaginary
	beside, split      bool
}

// prepared makes the parameters ready; a part that the model does not have is zero.
func (m *coilModel) prepared(t *vector) terms {
	const reference = 2 * math.Pi * inductorReference
	e := terms{model: m, fs: math.Exp(t[thetaFs]), qms: math.Exp(t[thetaQms]), re: math.Exp(t[thetaRe]), exponent: m.exponent}
	e.share = math.Exp(t[thetaRe] + t[thetaQms] - t[thetaQes])
	for _, slot := range m.slots {
		switch slot {
		case thetaSeries:
			e.series = reference * math.Exp(t[slot])
		case thetaParallel:
			e.parallel = math.Exp(-t[slot]) / reference
		case thetaRing:
			e.ring = math.Exp(-t[slot])
		case thetaExponent:
			e.exponent = t[slot]
		case thetaReal:
			e.split = true
			e.part = [2]float64{math.Exp(t[thetaReal]), math.Exp(t[thetaImaginary])}
			e.slope = [2]float64{t[thetaRealSlope], t[thetaImaginSlope]}
		}
	}
	if m.has(thetaLossy) {
		sin, cos := math.Sincos(math.Pi / 2 * e.exponent)
		size := math.Exp(-t[thetaLossy]) / reference
		e.lossy = complex(size*cos, -size*sin)
	}
	e.beside = e.parallel != 0 || e.ring != 0 || e.lossy != 0
	return e
}

// coil evaluates the coil's impedance at x = ω/ω₁, with its derivatives by the
// parameters that the model has.
func (e *terms) coil(x, lnx float64, dz *[thetaCount]complex128) complex128 {
	if e.split {
		re, im := e.part[0]*math.Exp(e.slope[0]*lnx), e.part[1]*math.Exp(e.slope[1]*lnx)
		dz[thetaReal], dz[thetaRealSlope] = complex(re, 0), complex(re*lnx, 0)
		dz[thetaImaginary], dz[thetaImaginSlope] = complex(0, im), complex(0, im*lnx)
		return complex(re, im)
	}
	series := complex(0, e.series*x)
	dz[thetaSeries] = series
	if !e.beside {
		return series
	}
	parallel, lossy := complex(0, -e.parallel/x), complex128(0)
	if e.lossy != 0 {
		lossy = e.lossy * complex(math.Exp(-e.exponent*lnx), 0)
	}
	beside := inverse(parallel + lossy + complex(e.ring, 0))
	square := beside * beside
	dz[thetaParallel], dz[thetaRing] = square*parallel, square*complex(e.ring, 0)
	dz[thetaLossy] = square * lossy
	dz[thetaExponent] = dz[thetaLossy] * complex(lnx, math.Pi/2)
	return series + beside
}

// inverse is 1/z of a number far from the ends of the range.
func inverse(z complex128) complex128 {
	a, b := real(z), imag(z)
	s := 1 / (a*a + b*b)
	return complex(a*s, -b*s)
}

// at evaluates Re + Z_L + motional part at f in Hz, x = ω/ω₁, with derivatives.
func (e *terms) at(f, x, lnx float64, dz *[thetaCount]complex128) complex128 {
	z := e.coil(x, lnx, dz)
	ratio := f / e.fs
	below := inverse(complex(1, e.qms*(ratio-1/ratio)))
	motional := complex(e.share, 0) * below
	dz[thetaRe] = complex(e.re, 0) + motional
	dz[thetaQes] = -motional
	dz[thetaQms] = motional * below
	dz[thetaFs] = dz[thetaQms] * complex(0, e.qms*(ratio+1/ratio))
	return complex(e.re, 0) + motional + z
}

// impedance evaluates the model at f in Hz.
func (m *coilModel) impedance(t *vector, f float64) complex128 {
	var dz [thetaCount]complex128
	x := f / inductorReference
	e := m.prepared(t)
	return e.at(f, x, math.Log(x), &dz)
}

// equivalent returns the logarithm of the inductance at 1 kHz and the exponent of the
// lossy inductance with the coil's impedance at f in Hz, with their gradients.
func (m *coilModel) equivalent(t *vector, f float64) (lnL, n float64, byL, byN vector) {
	const reference = 2 * math.Pi * inductorReference
	var dz [thetaCount]complex128
	x := f / inductorReference
	lnx := math.Log(x)
	e := m.prepared(t)
	z := e.coil(x, lnx, &dz)
	n = cmplx.Phase(z) / (math.Pi / 2)
	lnL = math.Log(cmplx.Abs(z)/reference) - n*lnx
	for _, slot := range m.slots {
		d := dz[slot] / z
		byN[slot] = imag(d) / (math.Pi / 2)
		byL[slot] = real(d) - byN[slot]*lnx
	}
	return lnL, n, byL, byN
}
