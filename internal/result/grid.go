package result

import "gapline/internal/figure"

// Values are the values along one side of a grid, SI.
type Values struct {
	Key string // in JSON and CSV; empty: left out of JSON
	Fig *figure.Def
	SI  []float64
}

// Name returns the name in CSV.
func (v *Values) Name() string {
	if v.Key == "" {
		return v.Fig.Leaf()
	}
	return v.Key
}

// Grid is a figure over two variables: Z[i][j] belongs to Y.SI[i] and X.SI[j], SI.
// A nil row has no values.
type Grid struct {
	Shown
	Key     string // in JSON, of the object; empty: the object around it
	ValueOf string // in JSON, of the values; empty: the figure's last part
	X, Y    Values
	Fig     *figure.Def
	Z       [][]float64
	Turned  bool     // in CSV a row for each value of X instead of Y
	Heads   []string // of the columns in CSV, after the first
	// Split cuts each row into rows of so many values in JSON: a grid over a third
	// variable, of which each row holds a plane. 0: rows stay whole.
	Split int
	Look  *Map // how it is drawn
}

// Name returns the name of the values in JSON.
func (g *Grid) Name() string {
	if g.ValueOf == "" {
		return g.Fig.Leaf()
	}
	return g.ValueOf
}
