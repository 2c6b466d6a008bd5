package filter

import "gapline/internal/wordset"

// Polarity is that of a band; zero: not given, which is normal.
type Polarity int

// The polarities. Normal is that in which the bands add in phase at their
// crossover.
const (
	Normal Polarity = 1 + iota
	Inverted
	polarityCount
)

var polarities = [polarityCount]string{Normal: "normal", Inverted: "inverted"}

// PolarityOf returns the polarity of a band that is inverted or not.
func PolarityOf(inverted bool) Polarity {
	if inverted {
		return Inverted
	}
	return Normal
}

// Name returns the polarity's word in the design file.
func (p Polarity) Name() string { return wordset.Row(polarities[:], p) }

func (p Polarity) String() string { return p.Name() }
