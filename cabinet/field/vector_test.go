package field

import (
	"context"
	"math"
	"math/cmplx"
	"math/rand/v2"
	"testing"

	"gapline/internal/reftable"

	"gonum.org/v1/gonum/floats"
)

// vectorLengths are numbers of frequencies that leave over none to three.
var vectorLengths = []int{1, 2, 3, 4, 5, 7, 8, 30, 201}

// randoms returns n numbers between low and high.
func randoms(r *rand.Rand, n int, low, high float64) []float64 {
	out := make([]float64, n)
	for i := range out {
		out[i] = low + (high-low)*r.Float64()
	}
	return out
}

// guarded returns a copy with room behind it that a kernel must not touch.
func guarded(p []float64) []float64 {
	out := make([]float64, len(p)+4)
	copy(out, p)
	for i := range 4 {
		out[len(p)+i] = 12345
	}
	return out[:len(p)]
}

// Whatever the processor's instructions compute, the functions in Go compute to the
// last bit; and what stands behind the last frequency stays as it is.
func TestKernelsEqualTheirTwins(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 11))
	for _, n := range vectorLengths {
		hz := randoms(r, n, 20, 20000)
		perHz, perHz32 := make([]float64, n), make([]float64, n)
		for i, f := range hz {
			perHz[i], perHz32[i] = 1/f, 1/(f*math.Sqrt(f))
		}
		a, b := randoms(r, n, -1, 1), randoms(r, n, -1, 1)
		table := randoms(r, 2*n+5, -1, 1)
		path, g, amp := 400*r.Float64()/343, 1e-2*r.Float64(), r.Float64()
		for name, run := range map[string]func(twin bool, x, y []float64){
			"line": func(twin bool, x, y []float64) {
				f := addLine
				if twin {
					f = lineGo
				}
				f(x, y, hz, perHz, path, g/math.Pi, amp/g)
			},
			"real": func(twin bool, x, y []float64) {
				f := addReal
				if twin {
					f = realGo
				}
				f(x, y, hz, a, -path)
			},
			"complex": func(twin bool, x, y []float64) {
				f := addComplex
				if twin {
					f = complexGo
				}
				f(x, y, hz, a, b, path)
			},
			"times sinc": func(twin bool, x, _ []float64) {
				f := timesSinc
				if twin {
					f = timesSincGo
				}
				f(x, hz, perHz, g/math.Pi, 1/g)
			},
			"small disc": func(twin bool, x, _ []float64) {
				f := smallDiscs
				if twin {
					f = smallDiscGo
				}
				f(x, hz, smallDisc/20000, amp)
			},
			"large disc": func(twin bool, x, _ []float64) {
				f := largeDiscs
				if twin {
					f = largeDiscGo
				}
				f(x, hz, perHz, perHz32, 0.4/math.Pi, 1/0.4, amp)
			},
			"decay": func(twin bool, x, _ []float64) {
				f := timesDecay
				if twin {
					f = attenuateGo
				}
				f(x, perHz, 3)
			},
			"set blend": func(twin bool, x, y []float64) {
				f := setBlend
				if twin {
					f = setBlendGo
				}
				f(x, y, table, table[1:], table[2:], table[3:], n+2, a, &hermite4{0.3, 0.7, 0.02, -0.05})
			},
			"times blend": func(twin bool, x, y []float64) {
				f := timesBlend
				if twin {
					f = timesBlendGo
				}
				f(x, y, table, table[1:], table[2:], table[3:], n+2, a, &hermite4{0.3, 0.7, 0.02, -0.05})
			},
		} {
			start, beside := randoms(r, n, -1, 1), randoms(r, n, -1, 1)
			x, y, u, v := guarded(start), guarded(beside), guarded(start), guarded(beside)
			run(false, x, y)
			run(true, u, v)
			for i := range n + 4 {
				if p, q := x[:n+4][i], u[:n+4][i]; math.Float64bits(p) != math.Float64bits(q) {
					t.Errorf("%s of %d frequencies: first sum at %d is %v, in Go %v", name, n, i, p, q)
				}
				if p, q := y[:n+4][i], v[:n+4][i]; math.Float64bits(p) != math.Float64bits(q) {
					t.Errorf("%s of %d frequencies: second sum at %d is %v, in Go %v", name, n, i, p, q)
				}
			}
		}
	}
}

// Phasors against the library's.
func TestPhasors(t *testing.T) {
	for _, angle := range []float64{0, 0.3, 1, -2.5, 1e3 / 7, -4e4 / 3, 1e6 / 11} {
		re, im := []float64{0}, []float64{0}
		addReal(re, im, []float64{math.Abs(angle)}, []float64{1}, math.Copysign(1/math.Pi, -angle))
		if d := cmplx.Abs(complex(re[0], im[0]) - cmplx.Exp(complex(0, angle))); d > 6e-9 {
			t.Errorf("phasor of %g rad is off by %g", angle, d)
		}
	}
}

// The pattern of a strip against sin x/x, near 0 and far out.
func TestPatternOfAStrip(t *testing.T) {
	for x := 1e-9; x < 2e3; x *= 1.1 {
		p := []float64{1}
		timesSinc(p, []float64{x}, []float64{1 / x}, 1/math.Pi, 1)
		if d := math.Abs(p[0] - math.Sin(x)/x); d > 6e-9 {
			t.Errorf("pattern at %g is off by %g", x, d)
		}
	}
}

// discPatternAt is the piston's pattern at x.
func discPatternAt(x float64) float64 {
	p := []float64{0}
	if x < smallDisc {
		smallDiscs(p, []float64{x}, 1, 1)
	} else {
		largeDiscs(p, []float64{x}, []float64{1 / x}, []float64{1 / (x * math.Sqrt(x))}, 1/math.Pi, 1, math.Sqrt(8/math.Pi))
	}
	return p[0]
}

// The pattern of a piston against the published table and the library's Bessel
// function, on both sides of where its forms meet.
func TestPatternOfAPiston(t *testing.T) {
	for _, r := range reftable.Read(t, "piston_directivity") {
		x := r.Get("ka") * math.Sin(r.Get("theta_deg")*math.Pi/180)
		reftable.Within(t, r.Name, discPatternAt(x), r.Get("D"), 2e-7)
	}
	for x := 1e-6; x < 500; x += 0.013 {
		if d := math.Abs(discPatternAt(x) - 2*math.J1(x)/x); d > 2e-8 {
			t.Errorf("pattern at %g is off by %g", x, d)
		}
	}
}

// A whole stack against the direct sum in doubles: strips and pistons in the far field,
// where their patterns are closed forms. The error is at most kernelError of what all
// mouths would give in phase, and so below 0.01 dB wherever the level lies less than
// 80 dB below that.
func TestStackAgainstTheDirectSum(t *testing.T) {
	const kernelError = 2e-8
	for name, s := range map[string]Stack{"strips": polarStack(), "cones": conesStack(12)} {
		t.Run(name, func(t *testing.T) {
			e := mustNew(t, s, Options{})
			spec := PolarSpec{Angle: Angles(73, 2*math.Pi), Axis: 0, Distance: math.Inf(1),
				Frequency: floats.LogSpan(make([]float64, 41), 20, 20000)}
			got, err := e.Polar(context.Background(), spec)
			if err != nil {
				t.Fatal(err)
			}
			inPhase := float64(len(e.sources))
			largest, decibels := 0.0, 0.0
			for i, f := range spec.Frequency {
				k := 2 * math.Pi * f / e.SoundSpeed()
				for j, angle := range spec.Angle {
					want := directSum(e, k, spec.direction(angle))
					p := got.Pressure[i][j]
					largest = max(largest, cmplx.Abs(p-want)/inPhase)
					if level := 20 * math.Log10(cmplx.Abs(want)/inPhase); level > -80 {
						decibels = max(decibels, math.Abs(20*math.Log10(cmplx.Abs(p)/cmplx.Abs(want))))
					}
				}
			}
			if largest > kernelError || decibels > 0.01 {
				t.Errorf("off by %.3g of the sum in phase, by %.3g dB", largest, decibels)
			}
			t.Logf("off by %.3g of the sum in phase, by %.3g dB", largest, decibels)
		})
	}
}

// conesStack is a curved stack of cones alone, two a box.
func conesStack(n int) Stack {
	s := hallStack(n)
	for i := range s.Boxes {
		s.Boxes[i].Mouths = s.Boxes[i].Mouths[:2]
	}
	return s
}

// directSum is the far field in direction u, mouth by mouth.
func directSum(e *Engine, k float64, u Vec) complex128 {
	var sum complex128
	for i := range e.sources {
		s := &e.sources[i]
		amp := s.weight
		if s.kind == Circle {
			if x := k * s.a * u.Cross(s.axes.forward).Norm(); x > 0 {
				amp *= 2 * math.J1(x) / x
			}
		} else {
			for _, x := range []float64{k * s.a * u.Dot(s.axes.left), k * s.b * u.Dot(s.axes.up)} {
				if x != 0 {
					amp *= math.Sin(x) / x
				}
			}
		}
		sum += complex(amp, 0) * cmplx.Exp(complex(0, k*s.middle.Sub(e.centre).Dot(u)))
	}
	return sum
}
