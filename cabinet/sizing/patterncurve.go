package sizing

import (
	"math"

	"gapline/waveguide"
)

// patternCurve gives the pattern control of a unit mouth by interpolation over the
// coverage, for studies of many designs whose coverage differs from one to the next. In
// each cell of cellWidth it is a polynomial through controlNodes Chebyshev points
// (J.-P. Berrut and L. N. Trefethen, SIAM Review 46 (2004) 501-517, eq. 5.1), held
// against the stage itself between the nodes: where that differs by more than
// curveTolerance of any figure, as where the beam breaks up, the cell is not used.
type patternCurve struct {
	exact patternMemory
	cells map[int]*controlCell
}

const (
	cellWidth      = 1.0 / 64 // rad
	controlNodes   = 6
	curveTolerance = 1e-6 // relative; the waist itself is found to 1e-6
)

// controlCell holds the controls at the nodes of a cell.
type controlCell struct {
	at   [controlNodes]waveguide.Control
	good bool
}

// nodes are the Chebyshev points of the second kind on 0 … 1, with their weights.
var nodes, nodeWeights = func() (x, w [controlNodes]float64) {
	for i := range x {
		x[i] = (1 - math.Cos(math.Pi*float64(i)/(controlNodes-1))) / 2
		w[i] = 1 - 2*float64(i%2)
	}
	w[0] /= 2
	w[controlNodes-1] /= 2
	return x, w
}()

// of returns the pattern control for the coverage in rad, as patternMemory does.
func (c *patternCurve) of(coverage float64) waveguide.Control {
	place := coverage / cellWidth
	if !(place > 0 && place < math.Pi/cellWidth) {
		return c.exact.of(coverage)
	}
	i := int(place)
	cell := c.cells[i]
	if cell == nil {
		cell = c.fill(i)
	}
	if !cell.good {
		return c.exact.of(coverage)
	}
	return cell.between(place - float64(i))
}

// fill works out a cell.
func (c *patternCurve) fill(i int) *controlCell {
	cell := &controlCell{}
	for j, x := range nodes {
		cell.at[j] = c.exact.of((float64(i) + x) * cellWidth)
	}
	cell.good = true
	for _, x := range [...]float64{0.17, 0.81} {
		got, want := cell.between(x), c.exact.of((float64(i)+x)*cellWidth)
		cell.good = cell.good && near(got.Frequency, want.Frequency) && near(got.Narrowest, want.Narrowest) &&
			near(got.NarrowestAt, want.NarrowestAt) && near(got.WidthInWavelength, want.WidthInWavelength)
	}
	if c.cells == nil {
		c.cells = map[int]*controlCell{}
	}
	c.cells[i] = cell
	return cell
}

// near is false where either is NaN.
func near(a, b float64) bool { return math.Abs(a-b) <= curveTolerance*math.Abs(b) }

// between is the control at x of the cell's width from its start.
func (c *controlCell) between(x float64) waveguide.Control {
	var sum waveguide.Control
	weights := 0.0
	for i := range c.at {
		d := x - nodes[i]
		if d == 0 {
			return c.at[i]
		}
		w, k := nodeWeights[i]/d, &c.at[i]
		weights += w
		sum.Frequency += w * k.Frequency
		sum.Narrowest += w * k.Narrowest
		sum.NarrowestAt += w * k.NarrowestAt
		sum.WidthInWavelength += w * k.WidthInWavelength
	}
	return waveguide.Control{Frequency: sum.Frequency / weights, Narrowest: sum.Narrowest / weights,
		NarrowestAt: sum.NarrowestAt / weights, WidthInWavelength: sum.WidthInWavelength / weights}
}
