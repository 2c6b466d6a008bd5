package design

import (
	"gapline/internal/numeric"
	"gapline/waveguide"
)

// HornDrive is the compression driver at the horn's throat and what it is driven
// with.
type HornDrive struct {
	Driver  waveguide.CompressionDriver
	Voltage float64 // r.m.s., V; by default DefaultHornVoltage
}

// DefaultHornVoltage is the drive in V r.m.s. at which a compression driver is worked
// out: 1 W into 8 Ω.
const DefaultHornVoltage = 2.83

func newHornDrive() HornDrive {
	a := numeric.Absent
	return HornDrive{
		Driver:  waveguide.CompressionDriver{Re: a, Le: a, Bl: a, Mms: a, Fs: a, Qms: a, Sd: a, FrontVolume: a, RearVolume: a},
		Voltage: a,
	}
}

// Given reports whether the design says anything of the compression driver.
func (h *HornDrive) Given() bool {
	d := &h.Driver
	for _, x := range []float64{d.Re, d.Le, d.Bl, d.Mms, d.Fs, d.Qms, d.Sd, d.FrontVolume, d.RearVolume, h.Voltage} {
		if numeric.Given(x) {
			return true
		}
	}
	return false
}
