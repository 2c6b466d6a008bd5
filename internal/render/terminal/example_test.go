package terminal_test

import (
	"os"

	"gapline/internal/figure"
	"gapline/internal/quantity"
	"gapline/internal/render/machine"
	"gapline/internal/render/terminal"
	"gapline/internal/result"
)

// One description, set for people in inches and for programs in SI.
func Example() {
	r := &result.Result{Title: "a box"}
	rows := result.Rows(result.FigureRow(result.Fig(figure.CouplingPitch, 0.272)), result.FigureRow(result.Fig(figure.CouplingLower, 180.25)))
	r.Add(result.Table{Shown: result.At(result.Screen | result.Data), Title: result.Plain("COUPLING"),
		Columns: []result.Column{{}, {Trust: true, Head: result.Plain("trust")}}, Rows: rows})
	if err := terminal.Write(os.Stdout, r, quantity.Inch); err != nil {
		panic(err)
	}
	if err := machine.JSON(os.Stdout, r); err != nil {
		panic(err)
	}
	// Output:
	// a box
	// COUPLING                             trust
	//   pitch, box to box      10.7 in  geometry
	//   line starts to couple   180 Hz      rule
	// {
	//   "schema_version": 1,
	//   "title": "a box",
	//   "coupling": {
	//     "pitch_m": 0.272,
	//     "lower_hz": 180.25
	//   }
	// }
}
