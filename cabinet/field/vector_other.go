//go:build !amd64

package field

func addLine(re, im, hz, perHz []float64, path, rate, over float64) {
	lineGo(re, im, hz, perHz, path, rate, over)
}

func addReal(re, im, hz, a []float64, path float64) { realGo(re, im, hz, a, path) }

func addComplex(re, im, hz, pr, pi []float64, path float64) { complexGo(re, im, hz, pr, pi, path) }

func timesSinc(p, hz, perHz []float64, rate, over float64) { timesSincGo(p, hz, perHz, rate, over) }

func smallDiscs(p, hz []float64, scale, amp float64) { smallDiscGo(p, hz, scale, amp) }

func largeDiscs(p, hz, perHz, perHz32 []float64, rate, over, amp float64) {
	largeDiscGo(p, hz, perHz, perHz32, rate, over, amp)
}

func timesDecay(p, alpha []float64, x float64) { attenuateGo(p, alpha, x) }

func setBlend(re, im, a, b, c, d []float64, nf int, reach []float64, w *hermite4) {
	setBlendGo(re, im, a, b, c, d, nf, reach, w)
}

func timesBlend(pr, pi, a, b, c, d []float64, nf int, reach []float64, w *hermite4) {
	timesBlendGo(pr, pi, a, b, c, d, nf, reach, w)
}
