package field

import "math"

// The kernels of this file take the frequencies of one mouth and one place four at a
// time where the processor can (vector_amd64.s); the functions in Go give the same
// bits elsewhere and in the tests. All of them work in half turns: with t an angle in
// half turns, n the whole number next to it and q = t − n, |q| ≤ 1/2,
//
//	cos πt = ±(c0 + c1 q² + … + c5 q¹⁰)      error ≤ 2.2e-10
//	sin πt = ±q(s0 + s1 q² + … + s4 q⁸)      error ≤ 5.4e-9 of the sine
//
// minus where n is odd. The coefficients are minimax fits (E. W. Cheney, Introduction
// to Approximation Theory (1966), ch. 3), found by reweighted least squares.
//
// The piston's pattern 2J1(x)/x is a polynomial of ninth degree in x² below smallDisc
// (minimax too, error ≤ 7.5e-9), and above it its modulus and phase for large x
// (DLMF 10.18.17 and 10.18.18, each to four terms, error ≤ 1.6e-8):
//
//	2J1(x)/x = √(8/π) x^{-3/2} (m0 + m1 u² + …) cos(x − 3π/4 + u(p0 + p1 u² + …)), u = 1/x

// smallDisc is where the piston's pattern passes from one form to the other.
const smallDisc = 8.0

// wide is a constant in each lane of a vector.
type wide [4]float64

// vectorConstants are the constants of the kernels, in the order in which
// vector_amd64.s reads them, highest power first.
type vectorConstants struct {
	magic  wide
	cosine [6]wide
	sine   [5]wide
	disc   [10]wide
	size   [4]wide // modulus of the piston's pattern
	phase  [4]wide // in half turns
	eighth wide    // 3/4, the phase of the piston's pattern in half turns
	decay  [5]wide // e^x
}

var constants = &vectorConstants{
	magic: lanes(roundMagic),
	cosine: [6]wide{lanes(-0.02439671684341249), lanes(0.23493755911657965), lanes(-1.3352120567078964),
		lanes(4.058709164346896), lanes(-4.934802137228516), lanes(0.999999999780652)},
	sine: [5]wide{lanes(0.07756038701190704), lanes(-0.5982421264277527), lanes(2.5500697263361074),
		lanes(-5.1677096847989805), lanes(3.1415926368953966)},
	disc: [10]wide{lanes(-1.3873465682464207e-18), lanes(8.619287856251584e-16), lanes(-2.8759304831936457e-13),
		lanes(6.672126306060524e-11), lanes(-1.1287547506946009e-08), lanes(1.3560807058541243e-06),
		lanes(-0.00010850446562551352), lanes(0.0052083211201596315), lanes(-0.12499997662965619), lanes(0.9999999926182123)},
	size:   [4]wide{lanes(6597.0 / 8192), lanes(-99.0 / 512), lanes(3.0 / 16), lanes(1)},
	phase:  [4]wide{lanes(-543483.0 / 229376 / math.Pi), lanes(1899.0 / 5120 / math.Pi), lanes(-21.0 / 128 / math.Pi), lanes(3.0 / 8 / math.Pi)},
	eighth: lanes(0.75),
	decay:  [5]wide{lanes(1.0 / 24), lanes(1.0 / 6), lanes(1.0 / 2), lanes(1), lanes(1)},
}

func lanes(x float64) wide { return wide{x, x, x, x} }

// roundMagic added to and taken from x rounds it to a whole number, |x| < 2⁵¹;
// the low bits of the sum are that number in two's complement.
const roundMagic = 0x1.8p52

// poly returns the polynomial with the given coefficients, highest power first.
func poly(c []wide, x float64) float64 {
	y := c[0][0]
	for _, k := range c[1:] {
		y = math.FMA(y, x, k[0])
	}
	return y
}

// turn splits f·rate + shift half turns: n is roundMagic plus the whole number next to
// it, q what is left.
func turn(f, rate float64) (n, q float64) {
	n = math.FMA(f, rate, roundMagic)
	return n, math.FMA(f, rate, -(n - roundMagic))
}

// signed returns x, or −x where the whole number in n is odd.
func signed(n, x float64) float64 {
	return math.Float64frombits(math.Float64bits(x) ^ math.Float64bits(n)<<63)
}

// unit returns cos and sin of f·rate half turns, but for their sign, which signed
// takes from n.
func unit(f, rate float64) (n, c, s float64) {
	n, q := turn(f, rate)
	q2 := q * q
	return n, poly(constants.cosine[:], q2), q * poly(constants.sine[:], q2)
}

// sine returns sin(f·rate half turns)·scale.
func sine(f, rate, scale float64) float64 {
	n, q := turn(f, rate)
	return signed(n, q*scale*poly(constants.sine[:], q*q))
}

// lineGo adds amp·sinc(x)·e^{-jφ}, x of rate half turns per Hz and φ of path half
// turns per Hz; over is amp over x per Hz.
func lineGo(re, im, hz, perHz []float64, path, rate, over float64) {
	for i, f := range hz {
		n, c, s := unit(f, path)
		a := signed(n, sine(f, rate, perHz[i]*over))
		re[i] = math.FMA(a, c, re[i])
		im[i] = math.FMA(-a, s, im[i])
	}
}

// realGo adds a·e^{-jφ}.
func realGo(re, im, hz, a []float64, path float64) {
	for i, f := range hz {
		n, c, s := unit(f, path)
		x := signed(n, a[i])
		re[i] = math.FMA(x, c, re[i])
		im[i] = math.FMA(-x, s, im[i])
	}
}

// complexGo adds (pr + j·pi)·e^{-jφ}.
func complexGo(re, im, hz, pr, pi []float64, path float64) {
	for i, f := range hz {
		n, c, s := unit(f, path)
		x, y := signed(n, pr[i]), signed(n, pi[i])
		re[i] = math.FMA(y, s, math.FMA(x, c, re[i]))
		im[i] = math.FMA(-x, s, math.FMA(y, c, im[i]))
	}
}

// timesSincGo multiplies p by sinc(x), x of rate half turns per Hz; over is 1 over x
// per Hz.
func timesSincGo(p, hz, perHz []float64, rate, over float64) {
	for i, f := range hz {
		p[i] *= sine(f, rate, perHz[i]*over)
	}
}

// smallDiscGo sets p to amp times the pattern of a piston, x = f·scale below smallDisc.
func smallDiscGo(p, hz []float64, scale, amp float64) {
	for i, f := range hz {
		x := f * scale
		p[i] = amp * poly(constants.disc[:], x*x)
	}
}

// largeDiscGo sets p to the pattern of a piston, x = f·rate half turns from smallDisc
// up; over is 1 over x per Hz, amp √(8/π)·over^{3/2} times the amplitude.
func largeDiscGo(p, hz, perHz, perHz32 []float64, rate, over, amp float64) {
	for i, f := range hz {
		u := perHz[i] * over
		u2 := u * u
		t := math.FMA(f, rate, u*poly(constants.phase[:], u2)-constants.eighth[0])
		n := t + roundMagic
		q := t - (n - roundMagic)
		p[i] = signed(n, amp*perHz32[i]*poly(constants.size[:], u2)*poly(constants.cosine[:], q*q))
	}
}

// attenuateGo multiplies p by e^{-αx}, |αx| ≤ 1/4 (error ≤ 1e-5).
func attenuateGo(p, alpha []float64, x float64) {
	for i, a := range alpha {
		p[i] *= poly(constants.decay[:], -(a * x))
	}
}

// blended is the Hermite piece between the values and slopes of two nodes at frequency i,
// whose imaginary parts stand nf behind the real ones; reach turns a slope in X, which is
// j times what stands there, into one in u.
func blended(a, b, c, d []float64, nf, i int, reach float64, w *hermite4) (re, im float64) {
	re = math.FMA(w.v1, b[i], w.v0*a[i])
	im = math.FMA(w.v1, b[nf+i], w.v0*a[nf+i])
	slopeRe := math.FMA(w.d1, d[i], w.d0*c[i])
	slopeIm := math.FMA(w.d1, d[nf+i], w.d0*c[nf+i])
	return math.FMA(-reach, slopeIm, re), math.FMA(reach, slopeRe, im)
}

// setBlendGo sets re and im to the Hermite piece between values a and b with slopes c and
// d.
func setBlendGo(re, im, a, b, c, d []float64, nf int, reach []float64, w *hermite4) {
	for i := range re {
		re[i], im[i] = blended(a, b, c, d, nf, i, reach[i], w)
	}
}

// timesBlendGo multiplies pr and pi by that piece.
func timesBlendGo(pr, pi, a, b, c, d []float64, nf int, reach []float64, w *hermite4) {
	for i := range pr {
		re, im := blended(a, b, c, d, nf, i, reach[i], w)
		x, y := pr[i], pi[i]
		pr[i], pi[i] = math.FMA(x, re, -(y*im)), math.FMA(x, im, y*re)
	}
}
