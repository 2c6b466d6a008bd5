package designtest

import (
	"math"

	"gapline/cabinet/design"
	"gapline/internal/wordset"
	"gapline/waveguide"

	"pgregory.net/rapid"
)

// Box is an invented box with an insert, so that every estimate runs.
func Box() design.Design {
	d := design.New()
	d.Cabinet.Height, d.Cabinet.Gap = 0.268, 0.004
	d.Cabinet.Width = 0.62
	d.Line.Boxes = 7
	d.Woofer.Size = 0.24
	d.Insert = design.Insert{Mouths: 2, Spacing: 0.136, MouthHeight: 0.104, MouthWidth: 0.084, SlotDepth: 0.012, ChamberVolume: 0.42e-3}
	d.Horn.Coverage, d.Horn.MouthWidth, d.Horn.MouthHeight = 85*math.Pi/180, 0.33, 0.258
	d.Horn.PathLength = 0.56
	return d
}

// Closed is an invented closed box with a complete driver.
func Closed() design.Design {
	d := design.New()
	w := &d.Woofer
	w.Fs, w.Qes, w.Qms, w.Vas, w.Re, w.Sd, w.Xmax, w.Power = 45, 0.38, 5, 0.06, 5.5, 0.033, 0.006, 200
	d.Enclosure.Volume = 0.03
	return d
}

// Folded is an invented box with a folded horn.
func Folded() design.Design {
	d := Box()
	d.Horn.Throat = 0.036
	d.Fold.ThroatToWall, d.Fold.VirtualPath, d.Fold.Layer = 0.11, 1.2, 0.014
	d.Cabinet.Depth = 0.43
	return d
}

// Random draws a design with every part that enters the gap.
func Random(t *rapid.T) design.Design {
	d := design.New()
	between := func(name string, lo, hi float64) float64 { return rapid.Float64Range(lo, hi).Draw(t, name) }
	d.Cabinet.Pitch = between("pitch", 0.1, 0.6)
	d.Line.Boxes = rapid.IntRange(1, 24).Draw(t, "boxes")
	d.Woofer.EffectiveDiameter = between("diameter/pitch", 0.3, 0.98) * d.Cabinet.Pitch
	d.Insert.Mouths = rapid.IntRange(1, 4).Draw(t, "mouths")
	d.Insert.Spacing = between("spacing·n/pitch", 0.7, 1.1) * d.Cabinet.Pitch / float64(d.Insert.Mouths)
	d.Insert.MouthHeight = between("mouth/spacing", 0.3, 0.95) * d.Insert.Spacing
	d.Insert.MouthWidth = between("mouth width", 0.03, 0.2)
	d.Insert.SlotDepth = between("slot depth", 0.003, 0.04)
	d.Insert.ChamberVolume = between("chamber", 1e-4, 3e-3)
	d.Horn.MouthWidth = between("mouth width", 0.1, 0.8)
	d.Horn.MouthHeight = between("mouth height/pitch", 0.5, 1) * d.Cabinet.Pitch
	d.Horn.Coverage = between("coverage", 0.3, 2.4)
	d.Horn.PathLength = between("path", 0.2, 3)
	d.Horn.Profile, d.Horn.Throat, d.Horn.Length = waveguide.ExponentialProfile, 0.025, between("horn length", 0.1, 0.8)
	d.Targets.Coupling = rapid.SampledFrom(wordset.All[design.Basis]()).Draw(t, "basis")
	return d
}
