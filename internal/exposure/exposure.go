// Package exposure holds published guidance on sound that people are exposed to. It is
// guidance, not law: local rules decide.
package exposure

import "math"

// Daily is a daily dose of noise: a level over eight hours, and how many dB halve the time.
type Daily struct {
	Name     string
	Level    float64 // A-weighted, over 8 h, dB
	Exchange float64 // dB that halve the time
	Peak     float64 // highest C-weighted peak, dB; NaN: none
	Source   string
}

const (
	workday = 8 * 3600 // s
	niosh   = `NIOSH, "Criteria for a recommended standard: occupational noise exposure", publication 98-126, 1998`
	europe  = "Directive 2003/10/EC, article 3 (peaks of 200, 140 and 112 Pa)"
)

// The doses. Those of the directive are for workers, a week's mean may stand for a day's,
// and its limit counts behind hearing protection.
var (
	NIOSH   = Daily{"NIOSH recommended limit", 85, 3, math.NaN(), niosh}
	EULimit = Daily{"EU exposure limit", 87, 3, 140, europe}
	EUUpper = Daily{"EU upper action value", 85, 3, 137, europe}
	EULower = Daily{"EU lower action value", 80, 3, 135, europe}
)

// Time returns the time in s after which a steady A-weighted level in dB reaches the
// dose: 8 h · 2^{(L₈−L)/q}. It has no upper end.
func (d Daily) Time(level float64) float64 {
	return workday * math.Exp2((d.Level-level)/d.Exchange)
}

// Venue is the level of WHO, "Global standard for safe listening venues and events",
// 2022, feature 1: 100 dB LAeq over 15 min.
const Venue = 100.0
