package sizing_test

import (
	"fmt"
	"math"

	"gapline/cabinet/design"
	"gapline/cabinet/sizing"
	"gapline/internal/optional"
)

// How wide is the gap between 10-inch cones 272 mm apart and an 85° mouth?
func ExampleSize() {
	d := design.New()
	d.Cabinet.Height, d.Cabinet.Gap = optional.Of(0.27), optional.Of(0.002)
	d.Line.Boxes = 7
	d.Woofer.Size = optional.Of(0.241)
	d.Horn.MouthWidth, d.Horn.Coverage = optional.Of(0.33), optional.Of(85*math.Pi/180)
	s := sizing.Size(&d)
	fmt.Printf("couples up to %.0f Hz, horn from %.0f Hz, gap %+.2f oct\n", s.Gap.Low, s.Gap.High, s.Gap.Open)
	d.Insert.Mouths = 2
	s = sizing.Size(&d)
	fmt.Printf("with two mouths a box up to %.0f Hz, gap %+.2f oct\n", s.Gap.Low, s.Gap.Insert)
	// Output:
	// couples up to 632 Hz, horn from 906 Hz, gap +0.52 oct
	// with two mouths a box up to 1265 Hz, gap -0.48 oct
}
