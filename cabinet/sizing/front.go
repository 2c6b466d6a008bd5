package sizing

import (
	"gapline/internal/numeric"
	"gapline/waveguide"
)

// front is how flat the sound leaves the horn's mouth.
type front struct {
	path     float64 // apex to mouth, m
	sagitta  float64 // m
	flatTo   float64 // Hz
	flatLobe float64 // Hz
}

// straightInput is what the front of a straight guide depends on.
type straightInput struct {
	height, path float64 // of the mouth, and from apex to mouth, m
	pitch        float64 // m
	target       float64 // highest lobe allowed, a pressure ratio to the axis
	c            float64 // speed of sound, m/s
}

// straightFront is the stage of the front of a straight guide.
func straightFront(in straightInput) front {
	f := front{path: in.path, sagitta: waveguide.Sagitta(in.height, in.path), flatLobe: numeric.Absent}
	f.flatTo = waveguide.FlatTo(f.sagitta, in.c)
	if numeric.Given(f.sagitta) && numeric.Given(in.pitch) {
		f.flatLobe = waveguide.FrontLobeLimit(in.height, in.path, in.pitch, in.target, in.c)
	}
	return f
}
