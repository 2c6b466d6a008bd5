package field

import "gapline/internal/programme"

// AWeighting returns the A-weighting in dB at f in Hz, see programme.AWeighting.
func AWeighting(f float64) float64 { return programme.AWeighting(f) }
