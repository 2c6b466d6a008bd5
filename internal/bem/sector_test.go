package bem

import (
	"math"
	"math/cmplx"
	"testing"
)

// sectorFar is the far field of a circle of radius a whose sector |γ| < half moves
// outward with 1 m/s, the rest being rigid, in the direction γ from its middle: the
// velocity's cosine series against Hn⁽²⁾′ (P. M. Morse, K. U. Ingard, Theoretical
// Acoustics, 1968, eq. 7.3.7), with the leading term of DLMF 10.17.6.
func sectorFar(ka, a, half, gamma float64) complex128 {
	terms := int(ka) + 25
	j := besselJ(terms+1, ka)
	sum := complex(half/math.Pi, 0) / complex(-j[1], math.Y1(ka)) // H0' = −H1
	power := complex128(1)
	for n := 1; n < terms; n++ {
		power *= 1i
		slope := complex((j[n-1]-j[n+1])/2, -(math.Yn(n-1, ka)-math.Yn(n+1, ka))/2)
		v := 2 * math.Sin(float64(n)*half) / (float64(n) * math.Pi)
		sum += complex(v*math.Cos(float64(n)*gamma), 0) * power / slope
	}
	return sum * complex(0, -testRho*testC) * cmplx.Rect(math.Sqrt(2*a/(math.Pi*ka)), math.Pi/4)
}

// Where a moving stretch of a smooth wall ends pressure goes as r ln r. The cuts
// towards such a place keep the error as small as without it.
func TestMovingSectorOfACircle(t *testing.T) {
	const (
		a, half  = 0.1, 0.6
		accurate = 2e-4 // of the middle's pressure; without the cuts the error reaches 4e-4
	)
	edges := []Edge{
		{Name: "sector", Curve: Arc{Radius: a, Start: -half, Sweep: 2 * half}, Wall: Uniform(1)},
		{Name: "rest", Curve: Arc{Radius: a, Start: half, Sweep: 2*math.Pi - 2*half}},
	}
	for _, ka := range []float64{0.2, 1, 4} {
		sol := mustSolve(t, exterior(Mirror{}, edges), frequencyOf(ka/a), Options{})
		gammas := []float64{0, 0.5, 1, 2, 3}
		angles := make([]float64, len(gammas)) // from +y towards +x
		for i, g := range gammas {
			angles[i] = math.Pi/2 - g
		}
		far, err := sol.Pattern("air", angles)
		if err != nil {
			t.Fatal(err)
		}
		scale := cmplx.Abs(sectorFar(ka, a, half, 0))
		for i, g := range gammas {
			want := sectorFar(ka, a, half, g)
			if e := cmplx.Abs(far[i]-want) / scale; !(e < accurate) {
				t.Errorf("ka = %g, γ = %g: F = %v, want %v (error %.2g)", ka, g, far[i], want, e)
			}
		}
	}
}
