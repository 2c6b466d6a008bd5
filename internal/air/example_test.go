package air_test

import (
	"fmt"

	"gapline/internal/air"
)

// How fast is sound in a hall of 20 °C and 50 % humidity?
func ExampleSoundSpeed() {
	fmt.Printf("%.1f m/s\n", air.SoundSpeed(air.Standard))
	// Output: 344.0 m/s
}
