package field

import "gapline/internal/exposure"

// VenueLimit is exposure.Venue, dB.
const VenueLimit = exposure.Venue

// ExposureTime returns the time in s after which a steady A-weighted level in dB
// reaches the occupational dose of NIOSH 1998, see exposure.Daily. Below 80 dBA or so it
// means little.
func ExposureTime(level float64) float64 { return exposure.NIOSH.Time(level) }

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
