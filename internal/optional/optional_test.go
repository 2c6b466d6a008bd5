package optional_test

import (
	"math"
	"testing"
	"unsafe"

	"pgregory.net/rapid"

	"gapline/internal/optional"
)

// numbers draws finite and infinite numbers, the ends of the range often.
func numbers() *rapid.Generator[float64] {
	return rapid.OneOf(
		rapid.Float64(),
		rapid.SampledFrom([]float64{0, math.Copysign(0, -1), 1, -1, math.Inf(1), math.Inf(-1),
			math.MaxFloat64, -math.MaxFloat64, math.SmallestNonzeroFloat64}),
	)
}

func TestANumberComesBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x := numbers().Draw(t, "x")
		f := optional.Of(x)
		if !f.Given() || f.Value() != x || f.Or(x+1) != x {
			t.Fatalf("%g comes back as %g, given %t", x, f.Value(), f.Given())
		}
	})
}

func TestEqualWhereTheNumbersAre(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x, y := numbers().Draw(t, "x"), numbers().Draw(t, "y")
		if got := optional.Of(x) == optional.Of(y); got != (x == y) {
			t.Fatalf("%g and %g as optionals: equal %t", x, y, got)
		}
		if optional.Of(x) == (optional.Float{}) {
			t.Fatalf("%g is equal to what is not given", x)
		}
	})
}

// Every NaN, whatever its payload and sign, is the zero value.
func TestNotGiven(t *testing.T) {
	var zero optional.Float
	if zero.Given() || !math.IsNaN(zero.Value()) || zero.Or(3) != 3 {
		t.Errorf("the zero value is %g, given %t, or 3: %g", zero.Value(), zero.Given(), zero.Or(3))
	}
	if got, want := math.Float64bits(zero.Value()), math.Float64bits(math.NaN()); got != want {
		t.Errorf("what is not given has the bits %#x, math.NaN %#x", got, want)
	}
	rapid.Check(t, func(t *rapid.T) {
		const exponent = 0x7ff0_0000_0000_0000
		payload := rapid.Uint64Range(1, 1<<52-1).Draw(t, "payload")
		sign := uint64(rapid.IntRange(0, 1).Draw(t, "sign")) << 63
		if f := optional.Of(math.Float64frombits(sign | exponent | payload)); f != zero {
			t.Fatalf("NaN of payload %#x is given", payload)
		}
	})
}

func TestOneZero(t *testing.T) {
	f := optional.Of(math.Copysign(0, -1))
	if f != optional.Of(0) || math.Signbit(f.Value()) {
		t.Errorf("-0 is kept as %g", f.Value())
	}
}

func TestNoLargerThanANumber(t *testing.T) {
	if got, want := unsafe.Sizeof(optional.Float{}), unsafe.Sizeof(float64(0)); got != want {
		t.Errorf("an optional takes %d bytes, a number %d", got, want)
	}
}
