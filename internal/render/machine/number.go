package machine

import (
	"math"
	"strconv"
)

// Number is a float64 that JSON can hold: NaN and infinities are null.
type Number float64

// MarshalJSON writes the number as AppendNumber does.
func (n Number) MarshalJSON() ([]byte, error) { return AppendNumber(nil, float64(n)), nil }

// AppendNumber appends the shortest text that reads back to the same number, with an
// exponent only where digits would be many (as ECMA-262, 7.1.12.1, which JSON libraries
// follow). What JSON has no number for is appended as null.
func AppendNumber(dst []byte, x float64) []byte {
	switch {
	case !finite(x):
		return append(dst, "null"...)
	case math.Abs(x) < 1e21 && math.Abs(x) >= 1e-6 || x == 0:
		return strconv.AppendFloat(dst, x, 'f', -1, 64)
	}
	dst = strconv.AppendFloat(dst, x, 'e', -1, 64)
	if n := len(dst); n >= 4 && dst[n-4] == 'e' && dst[n-3] == '-' && dst[n-2] == '0' {
		dst[n-2] = dst[n-1] // e-09 to e-9
		dst = dst[:n-1]
	}
	return dst
}

// AppendField appends a number as CSV holds it: as JSON does, and nothing where JSON
// has null.
func AppendField(dst []byte, x float64) []byte {
	if !finite(x) {
		return dst
	}
	return AppendNumber(dst, x)
}

func finite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }
