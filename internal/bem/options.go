package bem

import "runtime"

const (
	// DefaultNodesPerWave is the element-size rule: nodes per wavelength.
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
	Workers      int     // goroutines; 0 means one per processor
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
	if o.Workers <= 0 {
		o.Workers = runtime.GOMAXPROCS(0)
	}
	if o.MaxMemory == 0 {
		o.MaxMemory = DefaultMemory
	}
	return o
}
