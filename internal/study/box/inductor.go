package box

import (
	"gapline/driver"
	"gapline/internal/wordset"
)

// Inductor is the model of the voice coil's inductance in a fit.
type Inductor int

// The models. AutoInductor weighs the others against each other.
const (
	AutoInductor Inductor = 1 + iota
	LossyInductor
	PlainInductor
	LossyPlainInductor
	SemiInductor
	RingInductor
	SplitInductor
	NoInductor
	inductorCount
)

// inductors hold each model's name, what it is called in a sentence, and the model
// of the fit.
var inductors = [inductorCount]struct {
	name, called string
	model        driver.InductorModel
}{
	AutoInductor:       {"auto", "inductance as the sweep determines it", driver.AnyInductor},
	LossyInductor:      {"lossy", "lossy inductance", driver.LossyInductor},
	PlainInductor:      {"plain", "plain inductance", driver.PlainInductor},
	LossyPlainInductor: {"lossy-plain", "lossy and plain inductance in series", driver.LossyPlainInductor},
	SemiInductor:       {"semi", "semi-inductance beside and behind plain ones", driver.SemiInductor},
	RingInductor:       {"ring", "plain inductance and one shunted by a resistance", driver.RingInductor},
	SplitInductor:      {"split", "resistance and reactance with powers of their own", driver.SplitInductor},
	NoInductor:         {"none", "no inductance", driver.NoInductor},
}

// Name returns the model's name.
func (i Inductor) Name() string { return wordset.Row(inductors[:], i).name }

// Called returns what the model is called in a sentence.
func (i Inductor) Called() string { return wordset.Row(inductors[:], i).called }

func (i Inductor) model() driver.InductorModel { return wordset.Row(inductors[:], i).model }

// taken returns the inductor of a fit's model.
func taken(m driver.InductorModel) Inductor {
	for _, i := range wordset.All[Inductor]() {
		if i.model() == m {
			return i
		}
	}
	return NoInductor
}
