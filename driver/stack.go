package driver

import (
	"context"
	"fmt"
	"math"
	"math/cmplx"

	"gapline/internal/numeric"
)

// Stack is a straight line of equal boxes in one wall, all driven with the same
// voltage, each with its own circuit, coupled by the radiation impedance
// between every pair of cones, mouths and vents.
type Stack struct {
	circuit *Circuit
	boxes   int
	pitch   float64
	fronts  [][]weightedKernel // by the number of boxes between: mean over the pairs of cones or mouths
}

// mutualKernel is a prepared mutual radiation impedance over ρcS.
type mutualKernel interface {
	Impedance(k float64) complex128
}

var (
	_ mutualKernel = (*PistonPair)(nil)
	_ mutualKernel = (*RectanglePair)(nil)
)

type weightedKernel struct {
	weight float64
	kernel mutualKernel
}

// NewStack returns a stack of boxes at the given pitch in m. The setup's
// Loading is taken as FullRadiation. Vents radiate as small sources; without
// Vent.Distance a vent and the cones of its own box do not act on each other.
// The error says when boxes overlap.
func NewStack(s Setup, boxes int, pitch float64) (*Stack, error) {
	if boxes < 1 {
		return nil, fmt.Errorf("boxes = %d: must be at least 1", boxes)
	}
	if !(pitch > 0) || math.IsInf(pitch, 0) {
		return nil, fmt.Errorf("pitch = %g: must be a positive length", pitch)
	}
	s.Loading = FullRadiation
	c, err := NewCircuit(s)
	if err != nil {
		return nil, err
	}
	k := &Stack{circuit: c, boxes: boxes, pitch: pitch, fronts: make([][]weightedKernel, boxes)}
	cache := map[[2]int64]mutualKernel{}
	for m := 1; m < boxes; m++ {
		if k.fronts[m], err = k.kernels(m, cache); err != nil {
			return nil, fmt.Errorf("boxes at a pitch of %g m: %w", pitch, err)
		}
	}
	return k, nil
}

// kernels returns the mutual impedances between the cones or mouths of two
// boxes m apart, with the weights of their mean.
func (k *Stack) kernels(m int, cache map[[2]int64]mutualKernel) ([]weightedKernel, error) {
	at := k.elements()
	index := map[mutualKernel]int{}
	var out []weightedKernel
	for _, a := range at {
		for _, b := range at {
			kernel, err := k.kernel(math.Abs(a.X-b.X), math.Abs(float64(m)*k.pitch+a.Y-b.Y), cache)
			if err != nil {
				return nil, err
			}
			i, seen := index[kernel]
			if !seen {
				i = len(out)
				index[kernel] = i
				out = append(out, weightedKernel{kernel: kernel})
			}
			out[i].weight += 1 / float64(len(at))
		}
	}
	return out, nil
}

// elements returns the positions of the cones of a box, or of its mouths.
func (k *Stack) elements() []Position {
	insert := k.circuit.setup.Insert
	if insert == nil {
		return k.circuit.conePositions()
	}
	_, lateral := k.circuit.spacings()
	return ConePositions(insert.Mouths, max(insert.Columns, 1), insert.Spacing, lateral)
}

// kernel prepares the pair of elements dx, dy apart, once per distance (to a
// tenth of a micrometre).
func (k *Stack) kernel(dx, dy float64, cache map[[2]int64]mutualKernel) (mutualKernel, error) {
	const grid = 1e-7
	key := [2]int64{int64(math.Round(dx / grid)), int64(math.Round(dy / grid))}
	if found, ok := cache[key]; ok {
		return found, nil
	}
	var made mutualKernel
	if load := k.circuit.front.insert; load != nil {
		if dy < load.mouth.Height*(1-1e-9) && dx < load.mouth.Width*(1-1e-9) {
			return nil, fmt.Errorf("mouths %.4g m high, %.4g m apart, overlap", load.mouth.Height, dy)
		}
		made = NewRectanglePair(load.mouth, dx, dy)
	} else {
		pair, err := NewPistonPair(k.circuit.front.piston.Radius, math.Hypot(dx, dy))
		if err != nil {
			return nil, err
		}
		made = pair
	}
	cache[key] = made
	return made, nil
}

// StackPoint is what the stack does at one frequency.
type StackPoint struct {
	Frequency  float64 // Hz
	Axis       float64 // level far away on the axis, referred to 1 m, dB re 20 µPa
	PowerLevel float64 // level at 1 m if the radiated power spread evenly over half space, dB re 20 µPa
	Radiated   float64 // W
	Electrical float64 // W
	Lost       float64 // as heat in drivers and boxes, W
	Largest    float64 // excursion of the hardest working cone, peak, m
	Smallest   float64 // and of the least working one, peak, m
}

// Sweep solves the coupled boxes at the frequencies f in Hz and the given
// voltage in V at each box. Results do not depend on the number of cores. It
// stops with the context's error when cancelled.
func (k *Stack) Sweep(ctx context.Context, f []float64, volts float64) ([]StackPoint, error) {
	work := newStackWork(k)
	out := make([]StackPoint, len(f))
	for i, x := range f {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		p, err := work.at(x, volts)
		if err != nil {
			return nil, fmt.Errorf("stack at %g Hz: %w", x, err)
		}
		out[i] = p
	}
	return out, nil
}

// StackLevels is the response of stacks of several sizes.
type StackLevels struct {
	Frequency []float64      // Hz
	Boxes     []int          // sizes
	Points    [][]StackPoint // by size, then frequency
}

// NewStackLevels solves stacks of each size in boxes, for example 1, 2, 4, 8,
// with the same voltage in V at every box.
func NewStackLevels(ctx context.Context, s Setup, boxes []int, pitch float64, f []float64, volts float64) (*StackLevels, error) {
	out := &StackLevels{Frequency: f, Boxes: boxes}
	for _, n := range boxes {
		k, err := NewStack(s, n, pitch)
		if err != nil {
			return nil, err
		}
		points, err := k.Sweep(ctx, f, volts)
		if err != nil {
			return nil, err
		}
		out.Points = append(out.Points, points)
	}
	return out, nil
}

// Gain returns, for size i > 0 against size i−1 at frequency j, the rise in dB of
// the level on axis and of the radiated power. On axis all boxes add in phase,
// so that doubling gives about 6 dB at every frequency; the power gains 6 dB
// while the boxes couple and 3 dB above. The mutual air load changes both.
func (l *StackLevels) Gain(i, j int) (axis, power float64) {
	if i < 1 || i >= len(l.Points) {
		return numeric.Absent, numeric.Absent
	}
	now, before := l.Points[i][j], l.Points[i-1][j]
	return now.Axis - before.Axis, now.PowerLevel - before.PowerLevel
}

// powerLevel returns the level at 1 m of a power spread over half space.
func powerLevel(watts, impedance float64) float64 {
	return Level(math.Sqrt(watts * impedance / (2 * math.Pi)))
}

// square returns |z|².
func square(z complex128) float64 { a := cmplx.Abs(z); return a * a }
