package field

import "math"

// Occupational guidance of NIOSH, "Criteria for a recommended standard:
// occupational noise exposure", publication 98-126, 1998.
const (
	occupationalLevel = 85.0     // dBA
	occupationalTime  = 8 * 3600 // s
	exchangeRate      = 3.0      // dB that halve the time
)

// VenueLimit is the level of WHO, "Global standard for safe listening venues and
// events", 2022, feature 1: 100 dB LAeq,15min.
const VenueLimit = 100.0

// ExposureTime returns the time in s after which a steady A-weighted level in dB
// reaches the occupational dose of NIOSH 1998: 8 h · 2^{(85−L)/3}. It has no
// upper end; below 80 dBA or so it means little.
func ExposureTime(level float64) float64 {
	return occupationalTime * math.Exp2((occupationalLevel-level)/exchangeRate)
}

// Exposure sets the level at the nearest listener against the guidance.
type Exposure struct {
	Level       float64 // dBA
	Time        float64 // until the occupational dose is reached, s
	OverVenue   bool    // above VenueLimit
	VenueMargin float64 // VenueLimit − Level, dB
}

// ExposureAt returns the comparison for an absolute A-weighted level.
func ExposureAt(level float64) Exposure {
	return Exposure{level, ExposureTime(level), level > VenueLimit, VenueLimit - level}
}
