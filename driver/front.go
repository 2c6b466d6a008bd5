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
	pairs   []*PistonPair // of drivers, for FullRadiation
	weights []float64     // of the pairs in the mean over the drivers
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
	for _, p := range c.setup.pairs(c.spacings()) {
		pair, err := NewPistonPair(f.piston.Radius, p.distance)
		if err != nil {
			return f, fmt.Errorf("drivers of one box: %w", err)
		}
		f.pairs = append(f.pairs, pair)
		f.weights = append(f.weights, 2*p.count/c.count)
	}
	return f, nil
}

// apart is how many pairs of a box's drivers stand at one distance, m.
type apart struct{ distance, count float64 }

// pairs lists the distances of a box's drivers, whose rows and columns are the given
// distances in m apart.
func (s *Setup) pairs(spacing, lateral float64) []apart {
	columns := max(s.Columns, 1)
	rows := (s.Count + columns - 1) / columns
	switch {
	case rows == 1:
		return inLine(columns, lateral)
	case columns == 1:
		return inLine(rows, spacing)
	}
	var out []apart
	at := ConePositions(rows, columns, spacing, lateral)
	for i := range at {
		for j := range i {
			out = append(out, apart{math.Hypot(at[i].X-at[j].X, at[i].Y-at[j].Y), 1})
		}
	}
	return out
}

func inLine(n int, spacing float64) []apart {
	var out []apart
	for m := 1; m < n; m++ {
		out = append(out, apart{float64(m) * spacing, float64(n - m)})
	}
	return out
}

// spacings returns the given distances between rows and between columns or the
// default ones, m.
func (c *Circuit) spacings() (spacing, lateral float64) {
	or := func(given float64) float64 {
		if numeric.Given(given) && given != 0 {
			return given
		}
		return DefaultSpacing * 2 * math.Sqrt(c.sd/math.Pi)
	}
	return or(c.setup.Spacing), or(c.setup.Lateral)
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
		z += complex(f.weights[i], 0) * pair.Impedance(k)
	}
	scale := c.air.Impedance() / (c.count * c.sd)
	return frontState{impedance: complex(scale, 0) * z, transfer: 1}
}
