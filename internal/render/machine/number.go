package machine

import (
	"encoding/json"
	"math"
	"strconv"
)

// Number is a float64 that JSON can hold: NaN and infinities are null.
type Number float64

// MarshalJSON writes the shortest text that reads back to the same number.
func (n Number) MarshalJSON() ([]byte, error) {
	f := float64(n)
	if math.IsNaN(f) || math.IsInf(f, 0) {
		return []byte("null"), nil
	}
	return json.Marshal(f)
}

// AppendNumber appends a number as JSON and CSV hold it; what JSON has no number for
// is appended as null.
func AppendNumber(dst []byte, x float64) []byte {
	switch {
	case math.IsNaN(x) || math.IsInf(x, 0):
		return append(dst, "null"...)
	case math.Abs(x) < 1e21 && math.Abs(x) >= 1e-6 || x == 0:
		return strconv.AppendFloat(dst, x, 'f', -1, 64)
	}
	return strconv.AppendFloat(dst, x, 'e', -1, 64)
}
