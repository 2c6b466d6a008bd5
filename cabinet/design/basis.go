package design

import "gapline/internal/wordset"

// Basis is what the gap is counted on; zero: not given, which is the half-wave
// rule.
type Basis int

// The bases.
const (
	HalfWave Basis = 1 + iota // the trade's rules
	Lobe                      // the lobe criterion, and the aperture integral of the horn
	basisCount
)

var bases = [basisCount]struct {
	name     string
	computed bool
}{
	HalfWave: {"half-wave", false},
	Lobe:     {"lobe", true},
}

// Name returns the basis's word in the design file.
func (b Basis) Name() string { return wordset.Row(bases[:], b).name }

func (b Basis) String() string { return b.Name() }

// Computed reports whether the basis takes what is computed from the mouths
// rather than the rule.
func (b Basis) Computed() bool { return wordset.Row(bases[:], b).computed }

// Choose returns the one of two values that the basis goes by.
func (b Basis) Choose(rule, computed float64) float64 {
	if b.Computed() {
		return computed
	}
	return rule
}

// Basis returns the basis of the gap.
func (d *Design) Basis() Basis {
	if d.Targets.Coupling == 0 {
		return HalfWave
	}
	return d.Targets.Coupling
}
