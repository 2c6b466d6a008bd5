package review

import "gapline/internal/document"

// method is one way of computing, what it assumes and where it ends.
type method struct{ name, trust, assumes, limits string }

// methodList are the methods behind the document.
var methodList = []method{
	{"half-wave rule", "rule", "Largest spacing of neighbouring centres, endless line.",
		"Gradual, not an edge; keeps the whole pattern clean, splayed or steered. In a straight line the first true lobe comes an octave later."},
	{"lobe criterion", "aperture", "Endless straight line of equal mouths in phase, rigid baffle, uniform velocity over each mouth.",
		"A finite line shows the lobe's skirt somewhat lower; splay is not in it."},
	{"insert's chamber", "rule", "Air behind the plate as one spring, air in the mouths as one mass.",
		"Above the corner the chamber has modes of its own; measure one box."},
	{"horn's pattern, rule", "rule", "Mouth width times coverage alone.", "Known bias, printed beside the integral."},
	{"horn's pattern, integral", "aperture", "Circular front over a mouth in a rigid baffle, uniform amplitude.",
		"Real amplitude tapers, so real horns narrow less; cabinet edges are not in it."},
	{"horn's loading", "aperture", "Plane or spherical waves through the profile (Webster), piston at the mouth.",
		"No higher modes; the compression driver as a lumped circuit."},
	{"folded path", "rule", "Rays in two plane layers, mirror at the wall.",
		"Good while the layer is thinner than half a wave; the turn's reflection is not in it."},
	{"low end", "aperture", "Lumped circuit of driver and box (Thiele, Small), small signals, half space, 1 m.",
		"No standing waves in the box, no power compression, no distortion."},
	{"field of the stack", "aperture", "Sum of all mouths with exact distances, mouths in the open, boxes do not shade each other.",
		"Behind the stack real boxes are quieter; no room, no wind, no layers of air."},
	{"crossover", "aperture", "The same sum through the filters, with true places.", "Drivers' own phase beyond the filters is not in it."},
	{"wave equation", "wave", "Boundary elements in a plane section, rigid walls.", "A section, not the whole box; no losses."},
	{"tolerances", "as its figures", "Independent errors, sampled by Latin hypercube.", "As good as the figures that it repeats; correlated errors are not in it."},
}

// methods lists assumptions and limits.
func (b *builder) methods(s *document.Section) error {
	t := document.Table{Caption: "What each method assumes and where it ends", Head: []string{"method", "trust", "assumes", "limits"}, Left: []bool{true, true, true, true}}
	for _, m := range methodList {
		t.Rows = append(t.Rows, document.Cells(m.name, m.trust, m.assumes, m.limits))
	}
	s.Add(t)
	return nil
}
