package section

import (
	"context"
	"errors"
	"fmt"
	"math"
	"math/cmplx"

	"gapline/cabinet/design"
	"gapline/internal/numeric"
	"gapline/waveguide/wave"
)

// defaultPlateShare is the thickness of the plate between the layers against
// theirs when nothing is said.
const defaultPlateShare = 0.25

// turnSizes are the layer thicknesses that are compared, against the design's.
var turnSizes = []float64{0.5, 1, 1.5}

// Turn is the turn between the layers, for one thickness and one shape.
type Turn struct {
	Bend     wave.Bend
	Filleted bool // half-round plate end, outer corners rounded about it
	Result   *wave.BendResult
}

// TurnCheck is the turn solved for the design's layer and for thinner and
// thicker ones, plain and filleted.
type TurnCheck struct {
	Layer, Plate float64 // of the design, m
	CrossMode    float64 // of the design's layer, Hz
	Turns        []Turn  // by thickness; plain before filleted
}

// Turns returns the turns to solve. The plate between the layers has the given
// thickness in m, or when that is NaN twice fold.bend_radius, or a quarter of the
// design's layer.
func Turns(d *design.Design, plate float64) (*TurnCheck, []Fault) {
	var p faults
	p.need(d.Fold.Layer.Value(), TurnLacks)
	if len(p) > 0 {
		return nil, p
	}
	switch {
	case numeric.Given(plate):
	case d.Fold.BendRadius.Value() > 0: // half the plate
		plate = 2 * d.Fold.BendRadius.Value()
	default:
		plate = defaultPlateShare * d.Fold.Layer.Value()
	}
	c := &TurnCheck{Layer: d.Fold.Layer.Value(), Plate: plate}
	for _, size := range turnSizes {
		plain := wave.Bend{Thickness: size * d.Fold.Layer.Value(), Plate: plate}
		filleted := plain
		filleted.OuterRadius, filleted.RoundPlate = plain.Thickness+plate/2, true
		c.Turns = append(c.Turns, Turn{Bend: plain}, Turn{Bend: filleted, Filleted: true})
	}
	c.CrossMode = c.Plain().Bend.CrossMode(Air(d))
	return c, nil
}

// Plain and Fillet are the turns of the design's own layer.
func (c *TurnCheck) Plain() *Turn { return c.own(false) }

// Fillet is the design's turn with rounded corners.
func (c *TurnCheck) Fillet() *Turn { return c.own(true) }

func (c *TurnCheck) own(filleted bool) *Turn {
	for i := range c.Turns {
		if t := &c.Turns[i]; t.Bend.Thickness == c.Layer && t.Filleted == filleted {
			return t
		}
	}
	panic("section: the design's own turn is missing")
}

// crossMargin keeps the highest frequency off the cross mode, where the legs
// would have to be endless.
const crossMargin = 0.97

// ErrCrossMode says that no frequency lies below the cross mode of the design's
// layer.
var ErrCrossMode = errors.New("no frequency lies below the layers' cross mode")

// Solve solves every turn at those of the frequencies that lie below its cross
// mode. Thicker layers than the design's may be left without a result; for the
// design's own the error is ErrCrossMode.
func (c *TurnCheck) Solve(ctx context.Context, d *design.Design, s Solve) error {
	solve := wave.SolveBend
	if s.Halve {
		solve = wave.SolveBendChecked
	}
	for i := range c.Turns {
		t := &c.Turns[i]
		t.Result = nil
		var below []float64
		for _, f := range s.Frequencies {
			if f < crossMargin*t.Bend.CrossMode(Air(d)) {
				below = append(below, f)
			}
		}
		if len(below) == 0 && t.Bend.Thickness <= c.Layer {
			return fmt.Errorf("%w, at %.0f Hz for fold.layer", ErrCrossMode, t.Bend.CrossMode(Air(d)))
		}
		if len(below) == 0 {
			continue
		}
		r, err := solve(ctx, t.Bend, Air(d), below, s.Run)
		if err != nil {
			return err
		}
		t.Result = r
	}
	return nil
}

// LoudReflection is the reflection, a pressure ratio, from which a turn counts
// as disturbing: a tenth of the power.
var LoudReflection = math.Sqrt(0.1)

// QuietTo returns the frequency, Hz, at which the reflection first reaches
// LoudReflection, interpolated on a logarithmic scale; +Inf when it stays below
// it up to the last frequency solved.
func (t *Turn) QuietTo() float64 {
	if t.Result == nil {
		return numeric.Absent
	}
	f := t.Result.Frequency
	last := 0.0
	for i, r := range t.Result.Reflection {
		level := cmplx.Abs(r)
		if level >= LoudReflection {
			if i == 0 {
				return f[0]
			}
			share := (LoudReflection - last) / (level - last)
			return f[i-1] * math.Pow(f[i]/f[i-1], share)
		}
		last = level
	}
	return math.Inf(1)
}
