package bem

import "gapline/internal/parallel"

// Choice of order and size, by measurement: greatest error of the pressure on
// the wall, per cent of its root mean square, for sources inside the notched
// cabinet at 8 kHz (exact solution) and for the rigid cylinder in a plane wave
// at ka = 15.
//
//	nodes per     cabinet, nodes per element         cylinder, ka = 15
//	wavelength    2     3     4     6     8          2     3     4     6     8
//	    5        6.4   5.8   1.9   1.0   0.51       4.2   3.0   1.3   1.7   0.50
//	    6        5.9   1.9   1.1   0.38  0.18       3.1   2.2   0.46  0.84  0.16
//	    8        3.9   0.99  0.50  0.09  0.025      2.5   1.2   0.31  0.22  0.084
//	   12        2.5   0.38  0.19  0.011 0.002      1.9   0.38  0.17  0.012 0.002
//
// The cost depends on the number of nodes alone, so high order wins; six nodes
// keep elements short enough to follow outlines. Bounded domains, which need no
// hypersingular integral, are ten times better.
const (
	// DefaultNodesPerWave is the element-size rule: 8 nodes per wavelength hold
	// the greatest error of a smooth field on the boundary below 0.5 %.
	DefaultNodesPerWave = 8
	// DefaultOrder is the number of nodes of an element.
	DefaultOrder = 6
	// DefaultGrading is how many times an element is cut towards an edge where
	// the field is singular.
	DefaultGrading = 2
	// DefaultMemory bounds the matrices, in bytes.
	DefaultMemory = 2 << 30
)

// Options says how finely and with what means to solve. The zero value means
// the defaults.
type Options struct {
	NodesPerWave float64 // nodes per wavelength; 0 means DefaultNodesPerWave
	Order        int     // nodes per element, 2 to 8; 0 means DefaultOrder
	Grading      int     // cuts towards a singular edge; 0 means DefaultGrading, negative none
	Halvings     int     // how many times each element that follows from the above is cut in two
	Workers      int     // goroutines, at most one for each core; 0 means that many
	MaxMemory    int64   // bytes; 0 means DefaultMemory
}

func (o Options) withDefaults() Options {
	if o.NodesPerWave == 0 {
		o.NodesPerWave = DefaultNodesPerWave
	}
	if o.Order == 0 {
		o.Order = DefaultOrder
	}
	if o.Grading == 0 {
		o.Grading = DefaultGrading
	}
	if o.Grading < 0 {
		o.Grading = -1
	}
	o.Workers = parallel.Workers(o.Workers)
	if o.MaxMemory == 0 {
		o.MaxMemory = DefaultMemory
	}
	return o
}

// Finer cuts every element in two and makes one more cut towards singular edges.
// Halves alone leave the element at such an edge half as long, where the error of
// r^(2/3) falls so slowly that the change would be half of the error.
func (o Options) Finer() Options {
	o = o.withDefaults()
	o.Halvings++
	if o.Grading > 0 {
		o.Grading++
	}
	return o
}
