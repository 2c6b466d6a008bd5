package figure_test

import (
	"fmt"

	"gapline/internal/figure"
)

// What is behind a figure?
func ExampleFind() {
	f := figure.Find("coupling.lower")
	fmt.Printf("%s (%s): %s = %s\n", f.Name, f.Trust, f.Symbol, f.Formula)
	// Output: line starts to couple (rule): f_low = c/(N·p): the wavelength is the line's length
}
