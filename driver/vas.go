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
	// Gradients of ln Mms with respect to ln fs of both sweeps.
	slope := 2 * q / (q - 1)
	mms := mass / (q - 1)
	return secondSweep(free, loaded, mms, sd, a, map[int]float64{thetaFs: -slope}, map[int]float64{thetaFs: slope}), nil
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
	vas := volume * (ratio - 1)
	w := 2 * math.Pi * free.Fs.Value
	mms := a.Density * a.SoundSpeed * a.SoundSpeed * sd * sd / (vas * w * w)
	// ln Mms = −ln Vas − 2 ln fs + const, and ln Vas follows ln ratio by slope.
	slope := ratio / (ratio - 1)
	return secondSweep(free, boxed, mms, sd, a,
		map[int]float64{thetaFs: slope - 2, thetaQes: slope},
		map[int]float64{thetaFs: -slope, thetaQes: -slope}), nil
}

// secondSweep completes the figures from Mms and the gradients of its logarithm
// with respect to the parameters of both fits.
func secondSweep(free, second *ImpedanceFit, mms, sd float64, a air.Air, byFree, bySecond map[int]float64) SecondSweep {
	w := 2 * math.Pi * free.Fs.Value
	cms := 1 / (w * w * mms)
	t := studentQuantile(math.Min(free.freedom, second.freedom))
	// estimate gives the interval of a value ∝ Mms^power·Π θ^extra.
	estimate := func(value, power float64, extra map[int]float64) Estimate {
		g, h := make([]float64, len(free.theta)), make([]float64, len(second.theta))
		for i, d := range byFree {
			g[i] += power * d
		}
		for i, d := range extra {
			g[i] += d
		}
		for i, d := range bySecond {
			h[i] += power * d
		}
		return logInterval(value, t*math.Sqrt(free.variance(g)+second.variance(h)))
	}
	compliance := map[int]float64{thetaFs: -2}
	return SecondSweep{
		Vas: estimate(a.Density*a.SoundSpeed*a.SoundSpeed*sd*sd*cms, -1, compliance),
		Mms: estimate(mms, 1, nil),
		Cms: estimate(cms, -1, compliance),
		Bl: estimate(math.Sqrt(w*mms*free.Re.Value/free.Qes.Value), 0.5,
			map[int]float64{thetaFs: 0.5, thetaRe: 0.5, thetaQes: -0.5}),
	}
}
