package exposure

import (
	"math"
	"testing"

	"gapline/internal/reftable"
)

// SCENIHR, "Potential health risks of exposure to noise from personal music players"
// (2008), 3.3.5, table 3: times for equal doses of Directive 2003/10/EC, rounded to
// minutes; the rows whose minutes are exact halves of 8 h.
func TestTimesOfTheDirective(t *testing.T) {
	for _, c := range []struct {
		of           Daily
		level, hours float64
	}{
		{EULower, 83, 4}, {EULower, 89, 1}, {EULower, 95, 0.25},
		{EUUpper, 88, 4}, {EUUpper, 97, 0.5}, {EUUpper, 100, 0.25},
		{EULimit, 87, 8}, {EULimit, 93, 2}, {EULimit, 102, 0.25},
	} {
		reftable.Near(t, c.of.Name, c.of.Time(c.level), c.hours*3600, 1e-12)
	}
}

// NIOSH 98-126, table 1-1: 15 min at 100 dBA, 28 s at 115 dBA (from memory).
func TestTimesOfNIOSH(t *testing.T) {
	reftable.Near(t, "100 dBA", NIOSH.Time(100), 15*60, 1e-12)
	// The 100 dB over 15 min of the venues' standard are the same dose.
	reftable.Near(t, "venue", NIOSH.Time(Venue), 15*60, 1e-12)
	reftable.Within(t, "115 dBA", NIOSH.Time(115), 28, 0.5) // the table rounds to seconds
}

// The directive gives peaks as pressures: 112, 140 and 200 Pa.
func TestPeaksOfTheDirective(t *testing.T) {
	for _, c := range []struct {
		of     Daily
		pascal float64
	}{{EULower, 112}, {EUUpper, 140}, {EULimit, 200}} {
		reftable.Within(t, c.of.Name, 20*math.Log10(c.pascal/20e-6), c.of.Peak, 0.1) // printed without decimals
	}
}
