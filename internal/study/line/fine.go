package line

import "gapline/cabinet/field"

// fineTolerance keeps levels within 0.005 dB where they lie 30 dB under the largest
// about them: measured at the nearest seat of a starter against a tolerance of 1e-6.
const fineTolerance = 1e-5

// Fine returns the stack with the air absorption of seats, for single points whose
// notches are to be trusted.
func (s *Study) Fine() (*field.Engine, error) { return s.engine("", true, fineTolerance) }
