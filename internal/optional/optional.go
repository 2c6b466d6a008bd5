// Package optional holds a number that a design may leave out.
//
// NaN says "not given" well in arithmetic, because it passes through every
// formula, but badly in a record: it is equal to nothing, not even to itself, so
// that two designs with the same gaps compare as different, and the zero value of
// a struct says that every length is 0 instead of not given. Float keeps both
// uses: it is compared with ==, its zero value is not given, and Value gives NaN
// for the formulas.
package optional

import "math"

// Float is a number or not given, which is its zero value. Two are == when both
// are not given or both are the same number.
type Float struct {
	bits uint64 // those of the number, XOR those of NaN
}

// notGiven is math.Float64bits(math.NaN()), which a constant cannot call.
const notGiven = 0x7FF8_0000_0000_0001

// Of returns x as given; NaN is not given. The two zeros are one.
func Of(x float64) Float {
	switch {
	case math.IsNaN(x):
		return Float{}
	case x == 0:
		x = 0 // of -0
	}
	return Float{math.Float64bits(x) ^ notGiven}
}

// Value returns the number, or NaN when it is not given.
func (f Float) Value() float64 { return math.Float64frombits(f.bits ^ notGiven) }

// Given reports whether there is a number.
func (f Float) Given() bool { return f != Float{} }

// Or returns the number, or otherwise when it is not given.
func (f Float) Or(otherwise float64) float64 {
	if f.Given() {
		return f.Value()
	}
	return otherwise
}
