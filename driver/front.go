package driver

import (
	"fmt"
	"math"

	"gapline/internal/numeric"
)

// frontState is what the cones see in front at one frequency.
type frontState struct {
	impedance complex128 // acoustic, per volume velocity of all cones, Pa·s/m³
	transfer  complex128 // volume velocity into the outside air per that of the cones
	mouth     complex128 // with an insert: impedance of all mouths together
}

// frontLoad computes the load in front of the cones.
type frontLoad struct {
	circuit *Circuit
	piston  Piston
	pairs   []*PistonPair // neighbours 1, 2, … apart, for FullRadiation
	insert  *insertLoad
}

func newFrontLoad(c *Circuit) (frontLoad, error) {
	f := frontLoad{circuit: c, piston: PistonOfArea(c.sd)}
	if c.setup.Insert != nil {
		insert, err := newInsertLoad(c)
		f.insert = insert
		return f, err
	}
	if c.setup.Loading != FullRadiation {
		return f, nil
	}
	spacing := c.driverSpacing()
	for m := 1; m < c.setup.Count; m++ {
		pair, err := NewPistonPair(f.piston.Radius, float64(m)*spacing)
		if err != nil {
			return f, fmt.Errorf("drivers of one box: %w", err)
		}
		f.pairs = append(f.pairs, pair)
	}
	return f, nil
}

// driverSpacing returns the given spacing or the default one.
func (c *Circuit) driverSpacing() float64 {
	if numeric.Given(c.setup.Spacing) && c.setup.Spacing != 0 {
		return c.setup.Spacing
	}
	return DefaultSpacing * 2 * math.Sqrt(c.sd/math.Pi)
}

// at returns the load at angular frequency omega. The drivers of one box move
// alike, so each sees the mean of self and mutual impedance.
func (f *frontLoad) at(omega float64) frontState {
	c := f.circuit
	if f.insert != nil {
		return f.insert.at(omega)
	}
	if c.setup.Loading != FullRadiation {
		return frontState{transfer: 1}
	}
	k := omega / c.air.SoundSpeed
	z := f.piston.Impedance(k) - complex(0, k*f.piston.EndCorrection())
	for i, pair := range f.pairs {
		z += complex(2*(c.count-1-float64(i))/c.count, 0) * pair.Impedance(k)
	}
	scale := c.air.Impedance() / (c.count * c.sd)
	return frontState{impedance: complex(scale, 0) * z, transfer: 1}
}
