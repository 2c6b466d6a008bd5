package cabinet

import (
	"math"

	"gapline/internal/numeric"
)

// Drive is the signal at the terminals of one box. Give one of both.
type Drive struct {
	Voltage float64 // rms, V; by default DefaultVoltage
	Power   float64 // W into the nominal resistance
}

// DefaultVoltage puts 1 W into 8 Ω, V.
const DefaultVoltage = 2.83

// DriveVoltage returns the rms voltage in V at the terminals of one box, for a
// nominal resistance in Ω.
func (d *Design) DriveVoltage(nominal float64) float64 {
	if numeric.Given(d.Drive.Power) {
		return math.Sqrt(d.Drive.Power * nominal)
	}
	return orElse(d.Drive.Voltage, DefaultVoltage)
}
