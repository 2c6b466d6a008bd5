package field

import "golang.org/x/sys/cpu"

// The kernels of vector.go in AVX2 and FMA instructions. perHz is 1/f and perHz32
// f^{-3/2} for each frequency.

//go:noescape
func lineAVX2(n int, re, im, hz, perHz *float64, path, rate, over float64, k *vectorConstants)

//go:noescape
func realAVX2(n int, re, im, hz, a *float64, path float64, k *vectorConstants)

//go:noescape
func complexAVX2(n int, re, im, hz, pr, pi *float64, path float64, k *vectorConstants)

//go:noescape
func timesSincAVX2(n int, p, hz, perHz *float64, rate, over float64, k *vectorConstants)

//go:noescape
func smallDiscAVX2(n int, p, hz *float64, scale, amp float64, k *vectorConstants)

//go:noescape
func largeDiscAVX2(n int, p, hz, perHz, perHz32 *float64, rate, over, amp float64, k *vectorConstants)

//go:noescape
func attenuateAVX2(n int, p, alpha *float64, minusX float64, k *vectorConstants)

//go:noescape
func setBlendAVX2(n int, re, im, a, b, c, d *float64, imaginary int, reach *float64, w *hermite4)

//go:noescape
func timesBlendAVX2(n int, pr, pi, a, b, c, d *float64, imaginary int, reach *float64, w *hermite4)

// fastKernels says whether the processor runs them.
var fastKernels = cpu.X86.HasAVX2 && cpu.X86.HasFMA

// addLine, addReal …: see lineGo, realGo … in vector.go. All slices of a call are as
// long as the frequencies, of which there is one at least.

func addLine(re, im, hz, perHz []float64, path, rate, over float64) {
	n := len(hz)
	re, im, perHz = re[:n], im[:n], perHz[:n]
	if !fastKernels {
		lineGo(re, im, hz, perHz, path, rate, over)
		return
	}
	lineAVX2(n, &re[0], &im[0], &hz[0], &perHz[0], path, rate, over, constants)
}

func addReal(re, im, hz, a []float64, path float64) {
	n := len(hz)
	re, im, a = re[:n], im[:n], a[:n]
	if !fastKernels {
		realGo(re, im, hz, a, path)
		return
	}
	realAVX2(n, &re[0], &im[0], &hz[0], &a[0], path, constants)
}

func addComplex(re, im, hz, pr, pi []float64, path float64) {
	n := len(hz)
	re, im, pr, pi = re[:n], im[:n], pr[:n], pi[:n]
	if !fastKernels {
		complexGo(re, im, hz, pr, pi, path)
		return
	}
	complexAVX2(n, &re[0], &im[0], &hz[0], &pr[0], &pi[0], path, constants)
}

func timesSinc(p, hz, perHz []float64, rate, over float64) {
	n := len(hz)
	p, perHz = p[:n], perHz[:n]
	if !fastKernels {
		timesSincGo(p, hz, perHz, rate, over)
		return
	}
	timesSincAVX2(n, &p[0], &hz[0], &perHz[0], rate, over, constants)
}

func smallDiscs(p, hz []float64, scale, amp float64) {
	n := len(hz)
	p = p[:n]
	if !fastKernels {
		smallDiscGo(p, hz, scale, amp)
		return
	}
	smallDiscAVX2(n, &p[0], &hz[0], scale, amp, constants)
}

func largeDiscs(p, hz, perHz, perHz32 []float64, rate, over, amp float64) {
	n := len(hz)
	p, perHz, perHz32 = p[:n], perHz[:n], perHz32[:n]
	if !fastKernels {
		largeDiscGo(p, hz, perHz, perHz32, rate, over, amp)
		return
	}
	largeDiscAVX2(n, &p[0], &hz[0], &perHz[0], &perHz32[0], rate, over, amp, constants)
}

func timesDecay(p, alpha []float64, x float64) {
	n := len(alpha)
	p = p[:n]
	if !fastKernels {
		attenuateGo(p, alpha, x)
		return
	}
	attenuateAVX2(n, &p[0], &alpha[0], -x, constants)
}

func setBlend(re, im, a, b, c, d []float64, nf int, reach []float64, w *hermite4) {
	n := len(re)
	im, reach = im[:n], reach[:n]
	a, b, c, d = a[:nf+n], b[:nf+n], c[:nf+n], d[:nf+n]
	if !fastKernels {
		setBlendGo(re, im, a, b, c, d, nf, reach, w)
		return
	}
	setBlendAVX2(n, &re[0], &im[0], &a[0], &b[0], &c[0], &d[0], 8*nf, &reach[0], w)
}

func timesBlend(pr, pi, a, b, c, d []float64, nf int, reach []float64, w *hermite4) {
	n := len(pr)
	pi, reach = pi[:n], reach[:n]
	a, b, c, d = a[:nf+n], b[:nf+n], c[:nf+n], d[:nf+n]
	if !fastKernels {
		timesBlendGo(pr, pi, a, b, c, d, nf, reach, w)
		return
	}
	timesBlendAVX2(n, &pr[0], &pi[0], &a[0], &b[0], &c[0], &d[0], 8*nf, &reach[0], w)
}
