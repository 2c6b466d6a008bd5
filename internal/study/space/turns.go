package space

import (
	"gapline/cabinet/sizing"
	"gapline/internal/schema"
)

// Turn is one tolerance that by itself turns the verdict of a level of trust on the gap.
type Turn struct {
	Tolerance schema.Tolerance
	At        float64 // the key's value there, SI
	Level     sizing.Level
	Gap       float64 // there, octaves
	Opens     bool    // a gap that is closed as designed; else it closes an open one
}

// Turns lists what each tolerance by itself turns, at the ends that the effects of r were
// found at. Rule and aperture alone are looked at: a run of the wave level and a trace are
// of one design.
func (t *Tolerance) Turns(r *ToleranceResult) []Turn {
	target := t.Base.Targets.Gap.Or(0)
	designed := sizing.Levels(t.Base, &r.Sizing)
	var out []Turn
	for _, e := range r.Effects {
		for _, at := range []float64{e.InLow, e.InHigh} {
			d := *t.Base
			e.Tolerance.Key.SetNumber(&d, at)
			s := sizing.Size(&d)
			for l, g := range sizing.Levels(&d, &s) {
				was := &designed[l]
				if l := sizing.Level(l); l > sizing.ByAperture || !g.Given || len(g.Unknown)+len(was.Unknown) > 0 {
					continue
				}
				if (g.Gap > target) != (was.Gap > target) {
					out = append(out, Turn{e.Tolerance, at, sizing.Level(l), g.Gap, g.Gap > target})
				}
			}
		}
	}
	return out
}
