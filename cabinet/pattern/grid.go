package pattern

import (
	"math"

	"gapline/cabinet/field"

	"gonum.org/v1/gonum/dsp/fourier"
)

// Directions are those of a grid of the given number of rings from ahead to behind, ring by
// ring: rings+1 rings of 2·rings spokes each.
func Directions(rings int) []field.Vec {
	spokes := 2 * rings
	out := make([]field.Vec, 0, (rings+1)*spokes)
	for i := range rings + 1 {
		sin, cos := math.Sincos(math.Pi * float64(i) / float64(rings))
		for j := range spokes {
			up, left := math.Sincos(2 * math.Pi * float64(j) / float64(spokes))
			out = append(out, field.Vec{X: cos, Y: sin * left, Z: sin * up})
		}
	}
	return out
}

// RingsFor is how many rings hold the pattern of a radiator that lies within radius m of the
// place that phases count from, at f Hz in air of sound speed c m/s: its degree is kR, and ten
// more hold what falls off beyond. They are even in number, and leastRings at least.
func RingsFor(radius, f, c float64) int {
	const beyond, leastRings = 10, 18
	n := int(math.Ceil(2*math.Pi*f/c*radius)) + beyond
	return max(leastRings, n+n%2)
}

// finer puts the pressures of a grid on one with times as many rings by trigonometric
// interpolation, first along the great circles through the axis, then around it.
func finer(p []complex128, rings, times int) []complex128 {
	if times == 1 {
		return p
	}
	spokes, fineRings, fineSpokes := 2*rings, times*rings, 2*times*rings
	half := make([]complex128, (fineRings+1)*spokes) // fine rings of coarse spokes
	circle := newResampler(2*rings, times)
	for j := range rings {
		opposite := j + rings
		for i := range rings {
			circle.in[i] = p[i*spokes+j]
			circle.in[rings+i] = p[(rings-i)*spokes+opposite]
		}
		out := circle.run()
		for i := range fineRings + 1 {
			half[i*spokes+j] = out[i%(2*fineRings)]
			half[i*spokes+opposite] = out[(2*fineRings-i)%(2*fineRings)]
		}
	}
	fine := make([]complex128, (fineRings+1)*fineSpokes)
	for i := range fineRings + 1 {
		copy(circle.in, half[i*spokes:(i+1)*spokes])
		copy(fine[i*fineSpokes:], circle.run())
	}
	return fine
}

// resampler interpolates a periodic sequence.
type resampler struct {
	in, spectrum, wide, out []complex128
	from, to                *fourier.CmplxFFT
}

func newResampler(n, times int) *resampler {
	return &resampler{
		in: make([]complex128, n), spectrum: make([]complex128, n), wide: make([]complex128, n*times), out: make([]complex128, n*times),
		from: fourier.NewCmplxFFT(n), to: fourier.NewCmplxFFT(n * times),
	}
}

func (r *resampler) run() []complex128 {
	n, m := len(r.in), len(r.wide)
	r.from.Coefficients(r.spectrum, r.in)
	clear(r.wide)
	scale := complex(1/float64(n), 0)
	for i := range n / 2 {
		r.wide[i] = r.spectrum[i] * scale
	}
	for i := 1; i < (n+1)/2; i++ {
		r.wide[m-i] = r.spectrum[n-i] * scale
	}
	if n%2 == 0 { // the highest order belongs to both directions
		r.wide[n/2] += r.spectrum[n/2] * scale / 2
		r.wide[m-n/2] += r.spectrum[n/2] * scale / 2
	}
	return r.to.Sequence(r.out, r.wide)
}
