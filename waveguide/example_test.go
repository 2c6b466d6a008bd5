package waveguide_test

import (
	"fmt"
	"math"

	"gapline/waveguide"
)

const soundSpeed = 343.4 // m/s

// From which frequency does a mouth 330 mm wide hold 85°?
func ExampleFindControl() {
	coverage := 85 * math.Pi / 180
	k := waveguide.FindControl(0.33, coverage, soundSpeed)
	fmt.Printf("rule %.0f Hz, aperture %.0f Hz\n", waveguide.KeeleFrequency(0.33, coverage), k.Frequency)
	fmt.Printf("narrowest %.0f° at %.0f Hz\n", k.Narrowest*180/math.Pi, k.NarrowestAt)
	// Output:
	// rule 906 Hz, aperture 972 Hz
	// narrowest 55° at 1701 Hz
}

// How long must a straight horn be for a 250 mm mouth to be flat to 16 kHz?
func ExamplePathForSagitta() {
	quarterWave := soundSpeed / (4 * 16e3)
	fmt.Printf("%.2f m\n", waveguide.PathForSagitta(0.25, quarterWave))
	// Output: 1.45 m
}

// How deep is a fold that gives a plane front?
func ExampleNewFold() {
	spec := waveguide.NewFoldSpec(0.12, math.Inf(1), 0.014, 0.25)
	fold, err := waveguide.NewFold(spec)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%s, %.0f mm deep, paths differ by %.3f mm\n", fold.Wall.Kind(), 1e3*fold.Depth(), 1e3*fold.PathSpread())
	// Output: parabola, 141 mm deep, paths differ by 0.000 mm
}
