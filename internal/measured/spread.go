package measured

// Spread is how far to either side in octaves a frequency that is read off a smoothed trace may
// lie off what the trace itself would give: half the width of the smoothing, and half a step
// of the grid without one.
func (s Smoothing) Spread() float64 {
	if s.Fraction > 0 {
		return 0.5 / float64(s.Fraction)
	}
	return 0.5 / PointsPerOctave
}
