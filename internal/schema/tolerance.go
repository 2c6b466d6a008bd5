package schema

import (
	"fmt"
	"math"

	"gapline/cabinet/design"
	"gapline/internal/quantity"
)

// Tolerance is how far one key may be off.
type Tolerance struct {
	Key    *Key
	Amount float64 // half width of a uniform spread, or standard deviation; SI, or a share of the value
	Share  bool    // Amount is a share of the key's value
	Normal bool
}

// Half returns the amount in SI for a design.
func (t *Tolerance) Half(d *design.Design) float64 {
	if t.Share {
		return t.Amount * math.Abs(t.Key.Number(d))
	}
	return t.Amount
}

// String returns the tolerance as a person would write it: "± 2 mm".
func (t *Tolerance) String() string { return t.Text(quantity.Metric) }

// Text returns the tolerance in the given units.
func (t *Tolerance) Text(sys quantity.System) string {
	amount := quantity.FormatDifference(t.Amount, t.Key.Kind, sys)
	if t.Share {
		amount = quantity.Format(t.Amount, quantity.Fraction, sys)
	}
	if t.Normal {
		return "sigma " + amount
	}
	return "± " + amount
}

// Tolerances are how far the keys of a design may be off, and how that is sampled.
type Tolerances struct {
	List    []Tolerance // in the order of the table of keys
	Samples int
	Seed    uint64
}

// Bounds and defaults of the sample.
const (
	defaultSamples = 2000
	MinSamples     = 20
	MaxSamples     = 200_000
	defaultSeed    = 1
)

// NewTolerances returns a sample of the usual size without tolerances yet.
func NewTolerances() *Tolerances { return &Tolerances{Samples: defaultSamples, Seed: defaultSeed} }

// CheckSamples returns an error for a number of samples that is not possible.
func CheckSamples(n int) error {
	return checkCount(n, "samples", MinSamples, MaxSamples)
}

// checkCount returns an error for a number that is not from least to most.
func checkCount(n int, what string, least, most int) error {
	if n < least || n > most {
		return fmt.Errorf("%d %s: a whole number from %d to %d is needed", n, what, least, most)
	}
	return nil
}

// Check returns an error for an amount that is not possible.
func (t *Tolerance) Check() error {
	switch {
	case !(t.Amount > 0) || math.IsInf(t.Amount, 0):
		return fmt.Errorf("is %v: a tolerance above 0 is needed", t)
	case t.Share && t.Amount > 1:
		return fmt.Errorf("is %v of the value: 100 %% at most are possible", t)
	case !t.Share && t.Amount > t.Key.Max-t.Key.Min:
		return fmt.Errorf("is %v: that is more than the whole range of the key, %s to %s", t, t.Key.bound(t.Key.Min), t.Key.bound(t.Key.Max))
	}
	return nil
}
