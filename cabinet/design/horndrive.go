package design

import (
	"gapline/internal/numeric"
	"gapline/internal/optional"
	"gapline/waveguide"
)

// HornDrive is the compression driver at the horn's throat and what it is driven
// with.
type HornDrive struct {
	Driver  waveguide.CompressionDriver
	Voltage optional.Float // r.m.s., V; by default DefaultHornVoltage

	Depth, Diameter optional.Float // outside of the driver, m
	Power           optional.Float // thermal power limit, W
	Xmax            optional.Float // largest displacement of the diaphragm, one way, m
	Sensitivity     optional.Float // level in a plane-wave tube of the throat's area at DefaultHornVoltage, dB
}

// DefaultHornVoltage is the drive in V r.m.s. at which a compression driver is worked
// out: 1 W into 8 Ω.
const DefaultHornVoltage = 2.83

// Given reports whether the design says anything of how the compression driver moves. A
// resistance beside the power turns that into a voltage and says nothing of it.
func (h *HornDrive) Given() bool {
	d := &h.Driver
	if d.Re.Given() && !h.Power.Given() {
		return true
	}
	for _, x := range []float64{d.Le.Value(), d.Bl.Value(), d.Mms.Value(), d.Fs.Value(), d.Qms.Value(), d.Sd.Value(), d.FrontVolume.Value(), d.RearVolume.Value(), h.Voltage.Value()} {
		if numeric.Given(x) {
			return true
		}
	}
	return false
}
