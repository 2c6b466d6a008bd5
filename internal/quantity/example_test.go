package quantity_test

import (
	"fmt"

	"gapline/internal/quantity"
)

// A quantity is read with its unit and refused without one.
func ExampleParse() {
	si, err := quantity.Parse("10 in", quantity.Length)
	fmt.Println(si, err)
	_, err = quantity.Parse("254", quantity.Length)
	fmt.Println(err)
	// Output:
	// 0.254 <nil>
	// 254 has no unit: a length is needed, in mm, cm, m, in, ft
}

// The renderer chooses the unit, not the formula.
func ExampleFormat() {
	fmt.Println(quantity.Format(0.272, quantity.Length, quantity.Metric), "or", quantity.Format(0.272, quantity.Length, quantity.Inch))
	// Output: 272 mm or 10.7 in
}
