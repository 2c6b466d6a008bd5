package box

import (
	"gapline/driver"
	"gapline/internal/wordset"
)

// Inductor is the model of the voice coil's inductance in a fit.
type Inductor int

// The models. AutoInductor takes the first of the others that the sweep determines.
const (
	AutoInductor Inductor = 1 + iota
	LossyInductor
	PlainInductor
	NoInductor
	inductorCount
)

// inductors hold each model's name, what it is called in a sentence, and the model
// of the fit; the richest stand first.
var inductors = [inductorCount]struct {
	name, called string
	model        driver.InductorModel
}{
	AutoInductor:  {"auto", "inductance as the sweep determines it", driver.LossyInductor},
	LossyInductor: {"lossy", "lossy inductance", driver.LossyInductor},
	PlainInductor: {"plain", "plain inductance", driver.PlainInductor},
	NoInductor:    {"none", "no inductance", driver.NoInductor},
}

// Name returns the model's name.
func (i Inductor) Name() string { return wordset.Row(inductors[:], i).name }

// Called returns what the model is called in a sentence.
func (i Inductor) Called() string { return wordset.Row(inductors[:], i).called }

func (i Inductor) model() driver.InductorModel { return wordset.Row(inductors[:], i).model }

// tried lists the models to fit, in order.
func (i Inductor) tried() []Inductor {
	if i == AutoInductor {
		return wordset.All[Inductor]()[1:]
	}
	return []Inductor{i}
}
