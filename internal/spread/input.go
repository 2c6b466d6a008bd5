package spread

import (
	"math/rand/v2"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distmv"
	"gonum.org/v1/gonum/stat/distuv"
	"gonum.org/v1/gonum/stat/samplemv"
)

// Input is one uncertain quantity.
type Input struct {
	Centre float64
	Half   float64 // half width of a uniform input; standard deviation of a normal one
	Normal bool
}

// Quantile returns the value that the input stays below with probability p.
func (in Input) Quantile(p float64) float64 {
	if in.Normal {
		return in.Centre + in.Half*distuv.UnitNormal.Quantile(p)
	}
	return in.Centre + in.Half*(2*p-1)
}

// tail is the share of a normal input left out beyond each of its ends.
const tail = 0.05

// Ends returns the two values between which the input is moved to see what it
// does: the ends of a uniform input, the 5 and 95 % points of a normal one. Both
// lie about 1.7 standard deviations from the centre (√3 and 1.645), so that
// inputs of either kind can be ranked together.
func (in Input) Ends() (low, high float64) {
	if in.Normal {
		return in.Quantile(tail), in.Quantile(1 - tail)
	}
	return in.Centre - in.Half, in.Centre + in.Half
}

// Sample draws a Latin hypercube of n points: each input falls once into each of
// n shares of equal probability. Row i of the result holds the inputs of point i.
// The same seed gives the same points.
func Sample(inputs []Input, n int, seed uint64) *mat.Dense {
	batch := mat.NewDense(n, len(inputs), nil)
	samplemv.LatinHypercube{
		Q:   distmv.NewUnitUniform(len(inputs), nil),
		Src: rand.NewPCG(seed, 0x6c617469), // any fixed second half of the seed
	}.Sample(batch)
	for i := range n {
		row := batch.RawRowView(i)
		for j, in := range inputs {
			row[j] = in.Quantile(row[j])
		}
	}
	return batch
}
