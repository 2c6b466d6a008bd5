package driver_test

import (
	"context"
	"fmt"

	"gapline/driver"
	"gapline/internal/air"
	"gapline/internal/optional"
)

// An invented 250 mm woofer.
func exampleDriver() driver.Complete {
	p := driver.Parameters{}
	p.Fs, p.Qes, p.Qms, p.Vas, p.Re, p.Sd = optional.Of(50), optional.Of(0.33), optional.Of(6), optional.Of(0.055), optional.Of(5.2), optional.Of(0.034)
	p.Xmax, p.Power = optional.Of(0.006), optional.Of(300)
	d, err := p.Derive(air.Of(air.Standard))
	if err != nil {
		panic(err)
	}
	return d
}

// The figures lie between the rows QT 0.30 and 0.33 of the alignment table for
// QL = 7, and follow α = 1/(2QT²) − 1 for the closed box.
func ExampleSuggest_whichBoxSuitsThisDriver() {
	list, err := driver.Suggest(exampleDriver(), 1, 7)
	if err != nil {
		panic(err)
	}
	for _, s := range list {
		fmt.Printf("%s %s: %.1f L, tuning %.1f Hz, f3 %.1f Hz\n", s.Alignment.Name, s.Kind, 1000*s.Volume, s.Tuning, s.F3)
	}
	// Output:
	// QB3 vented: 21.8 L, tuning 63.2 Hz, f3 74.5 Hz
	// B2 closed: 13.4 L, tuning NaN Hz, f3 113.0 Hz
}

// The figures are regression only; the tests of the stack hold it to the table
// of mean resistance.
func ExampleNewStackLevels_gainPerDoubling() {
	box := driver.Enclosure{Kind: driver.Closed}
	box.Volume = optional.Of(0.025)
	setup := driver.Setup{Driver: exampleDriver(), Enclosure: box}
	stack, err := driver.NewStackLevels(context.Background(), setup, []int{1, 2, 4, 8}, 0.3, []float64{40, 160, 640}, 2.83)
	if err != nil {
		panic(err)
	}
	for j, f := range stack.Frequency {
		axis, power := stack.Gain(3, j)
		fmt.Printf("%3.0f Hz: 4 to 8 boxes gain %.1f dB on axis, %.1f dB of power\n", f, axis, power)
	}
	// Output:
	//  40 Hz: 4 to 8 boxes gain 6.0 dB on axis, 5.8 dB of power
	// 160 Hz: 4 to 8 boxes gain 6.0 dB on axis, 3.4 dB of power
	// 640 Hz: 4 to 8 boxes gain 6.0 dB on axis, 3.1 dB of power
}
