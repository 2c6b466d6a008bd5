package designtest

import (
	"math"

	"gapline/cabinet/design"
	"gapline/internal/optional"
	"gapline/internal/wordset"
	"gapline/waveguide"

	"pgregory.net/rapid"
)

// Box is an invented box with an insert, so that every estimate runs.
func Box() design.Design {
	d := design.New()
	d.Cabinet.Height, d.Cabinet.Gap = optional.Of(0.268), optional.Of(0.004)
	d.Cabinet.Width = optional.Of(0.62)
	d.Line.Boxes = 7
	d.Woofer.Size = optional.Of(0.24)
	d.Insert = design.Insert{Mouths: 2, Spacing: optional.Of(0.136), MouthHeight: optional.Of(0.104), MouthWidth: optional.Of(0.084), SlotDepth: optional.Of(0.012), ChamberVolume: optional.Of(0.42e-3)}
	d.Horn.Coverage, d.Horn.MouthWidth, d.Horn.MouthHeight = optional.Of(85*math.Pi/180), optional.Of(0.33), optional.Of(0.258)
	d.Horn.PathLength = optional.Of(0.56)
	return d
}

// Closed is an invented closed box with a complete driver.
func Closed() design.Design {
	d := design.New()
	w := &d.Woofer
	w.Fs, w.Qes, w.Qms, w.Vas, w.Re, w.Sd, w.Xmax, w.Power = optional.Of(45), optional.Of(0.38), optional.Of(5), optional.Of(0.06), optional.Of(5.5), optional.Of(0.033), optional.Of(0.006), optional.Of(200)
	d.Enclosure.Volume = optional.Of(0.03)
	return d
}

// Folded is an invented box with a folded horn.
func Folded() design.Design {
	d := Box()
	d.Horn.Throat = optional.Of(0.036)
	d.Fold.ThroatToWall, d.Fold.VirtualPath, d.Fold.Layer = optional.Of(0.11), optional.Of(1.2), optional.Of(0.014)
	d.Cabinet.Depth = optional.Of(0.43)
	return d
}

// Random draws a design with every part that enters the gap.
func Random(t *rapid.T) design.Design {
	d := design.New()
	between := func(name string, lo, hi float64) float64 { return rapid.Float64Range(lo, hi).Draw(t, name) }
	d.Cabinet.Pitch = optional.Of(between("pitch", 0.1, 0.6))
	d.Line.Boxes = rapid.IntRange(1, 24).Draw(t, "boxes")
	d.Woofer.EffectiveDiameter = optional.Of(between("diameter/pitch", 0.3, 0.98) * d.Cabinet.Pitch.Value())
	d.Insert.Mouths = rapid.IntRange(1, 4).Draw(t, "mouths")
	d.Insert.Spacing = optional.Of(between("spacing·n/pitch", 0.7, 1.1) * d.Cabinet.Pitch.Value() / float64(d.Insert.Mouths))
	d.Insert.MouthHeight = optional.Of(between("mouth/spacing", 0.3, 0.95) * d.Insert.Spacing.Value())
	d.Insert.MouthWidth = optional.Of(between("mouth width", 0.03, 0.2))
	d.Insert.SlotDepth = optional.Of(between("slot depth", 0.003, 0.04))
	d.Insert.ChamberVolume = optional.Of(between("chamber", 1e-4, 3e-3))
	d.Horn.MouthWidth = optional.Of(between("mouth width", 0.1, 0.8))
	d.Horn.MouthHeight = optional.Of(between("mouth height/pitch", 0.5, 1) * d.Cabinet.Pitch.Value())
	d.Horn.Coverage = optional.Of(between("coverage", 0.3, 2.4))
	d.Horn.PathLength = optional.Of(between("path", 0.2, 3))
	d.Horn.Profile, d.Horn.Throat, d.Horn.Length = waveguide.ExponentialProfile, optional.Of(0.025), optional.Of(between("horn length", 0.1, 0.8))
	d.Targets.Coupling = rapid.SampledFrom(wordset.All[design.Basis]()).Draw(t, "basis")
	return d
}
