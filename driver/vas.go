package driver

import (
	"fmt"
	"math"

	"gapline/internal/air"
)

// SecondSweep is what a second sweep, with an added mass or in a known volume,
// adds to the first.
type SecondSweep struct {
	Vas Estimate // m³
	Mms Estimate // kg
	Cms Estimate // m/N
	Bl  Estimate // T·m
}

// VasByAddedMass finds Vas from a sweep in free air and one with the given mass
// in kg fixed to the cone, for a driver of effective area sd in m²:
//
//	Mms = m/((fs/fm)² − 1),  Cms = 1/(ωs² Mms),  Vas = ρc² Sd² Cms
//
// The intervals combine both fits as independent. It returns an error when the
// mass did not lower the resonance. (Small 1972, appendix.)
func VasByAddedMass(free, loaded *ImpedanceFit, mass, sd float64, a air.Air) (SecondSweep, error) {
	if !(mass > 0) || !(sd > 0) {
		return SecondSweep{}, fmt.Errorf("added mass %g kg, area %g m²: both must be positive", mass, sd)
	}
	q := math.Pow(free.Fs.Value/loaded.Fs.Value, 2)
	if !(q > 1) {
		return SecondSweep{}, fmt.Errorf("the added mass did not lower the resonance: %.4g Hz without, %.4g Hz with it", free.Fs.Value, loaded.Fs.Value)
	}
	return secondSweep(free, loaded, sd, a, func(free, loaded *vector) (lnMms float64, byFree, bySecond vector) {
		q := math.Exp(2 * (free[thetaFs] - loaded[thetaFs]))
		slope := 2 * q / (q - 1)
		byFree[thetaFs], bySecond[thetaFs] = -slope, slope
		return math.Log(mass / (q - 1)), byFree, bySecond
	}), nil
}

// VasByKnownVolume finds Vas from a sweep in free air and one in a closed,
// unfilled box of the given volume in m³ (Small 1972):
//
//	Vas = Vb ((fc Qec)/(fs Qes) − 1)
//
// The form with Qec allows for the change of air load between the two. It
// returns an error when the box did not raise the resonance.
func VasByKnownVolume(free, boxed *ImpedanceFit, volume, sd float64, a air.Air) (SecondSweep, error) {
	if !(volume > 0) || !(sd > 0) {
		return SecondSweep{}, fmt.Errorf("volume %g m³, area %g m²: both must be positive", volume, sd)
	}
	ratio := boxed.Fs.Value * boxed.Qes.Value / (free.Fs.Value * free.Qes.Value)
	if !(ratio > 1) {
		return SecondSweep{}, fmt.Errorf("the box did not raise the resonance: %.4g Hz in free air, %.4g Hz in the box", free.Fs.Value, boxed.Fs.Value)
	}
	return secondSweep(free, boxed, sd, a, func(free, boxed *vector) (lnMms float64, byFree, bySecond vector) {
		ratio := math.Exp(boxed[thetaFs] + boxed[thetaQes] - free[thetaFs] - free[thetaQes])
		// ln Mms = −ln Vas − 2 ln fs + const, and ln Vas follows ln ratio by slope.
		slope := ratio / (ratio - 1)
		byFree[thetaFs], byFree[thetaQes] = slope-2, slope
		bySecond[thetaFs], bySecond[thetaQes] = -slope, -slope
		w := 2 * math.Pi * math.Exp(free[thetaFs])
		return math.Log(stiffnessOf(a, sd, volume*(ratio-1)) / (w * w)), byFree, bySecond
	}), nil
}

// stiffnessOf returns the stiffness in N/m that a volume in m³ has on a piston of
// area sd in m².
func stiffnessOf(a air.Air, sd, volume float64) float64 {
	return a.Density * a.SoundSpeed * a.SoundSpeed * sd * sd / volume
}

// secondSweep completes the figures from ln Mms, given with its gradients by the
// parameters of both fits, over each pair of their models.
func secondSweep(free, second *ImpedanceFit, sd float64, a air.Air, lnMms func(free, second *vector) (float64, vector, vector)) SecondSweep {
	// of gives the estimate of a value c·Mms^power·Π θ^extra.
	of := func(c, power float64, extra vector) Estimate {
		var tails []tail
		for i := range free.models {
			for j := range second.models {
				m, n := &free.models[i], &second.models[j]
				weight := m.weight * n.weight
				mass, g, h := lnMms(&m.theta, &n.theta)
				if weight < leastWeight || math.IsNaN(mass) {
					continue
				}
				value := math.Log(c) + power*mass
				for k := range thetaCount {
					value += extra[k] * m.theta[k]
					g[k], h[k] = power*g[k]+extra[k], power*h[k]
				}
				tails = append(tails, tail{weight, value, math.Sqrt(m.variance(&g) + n.variance(&h)), math.Min(m.freedom, n.freedom)})
			}
		}
		return interval(tails).exp()
	}
	turn := 2 * math.Pi
	var compliance, force vector
	compliance[thetaFs] = -2
	force[thetaFs], force[thetaRe], force[thetaQes] = 0.5, 0.5, -0.5
	return SecondSweep{
		Vas: of(stiffnessOf(a, sd, turn*turn), -1, compliance),
		Mms: of(1, 1, vector{}),
		Cms: of(1/(turn*turn), -1, compliance),
		Bl:  of(math.Sqrt(turn), 0.5, force),
	}
}
