package describe

import (
	"gapline/cabinet/layout"
	"gapline/internal/result"
)

// spacing is the largest distance between neighbouring centres along the line of woofers:
// within a box, or from the uppermost of one to the lowermost of the box above.
type spacing struct {
	from, to float64 // heights over the middle of the lower box, m
	y        float64 // of the column, m
	across   bool    // to is in the box above
	lowest   *layout.Part
	highest  *layout.Part
	halfWave float64 // Hz
}

// spacing finds where the spacing acts that sets the half-wave limit; ok is false where
// the design has no line of woofers.
func (w drawing) spacing() (s spacing, ok bool) {
	kind, limit := layout.Cone, &w.sizing.Coupling.Open
	if w.HasInsert() {
		kind, limit = layout.InsertMouth, &w.sizing.Coupling.Insert.CouplingLimit
	}
	at := w.Of(kind, layout.Woofers)
	if len(at) == 0 || w.Line.Boxes == 1 || !isFinite(limit.HalfWave) {
		return s, false
	}
	s.lowest = &w.Parts[at[0]]
	s.highest, s.y, s.halfWave = s.lowest, s.lowest.At.Y, limit.HalfWave
	for _, i := range at[1:] {
		p := &w.Parts[i]
		if p.At.Y != s.y {
			break
		}
		if d := p.At.Z - s.highest.At.Z; d > s.to-s.from {
			s.from, s.to = s.highest.At.Z, p.At.Z
		}
		s.highest = p
	}
	if joint := w.Pitch() - (s.highest.At.Z - s.lowest.At.Z); joint > s.to-s.from+layout.Touch {
		s.from, s.to, s.across = s.highest.At.Z, s.lowest.At.Z+w.Pitch(), true
	}
	return s, s.to > s.from
}

// text says what the spacing sets.
func (s *spacing) text() result.Text {
	return result.Say("s = %s, half wave %s", length(s.to-s.from), short(s.halfWave))
}

// spacingMarks draws the spacing beside the front, with the mouths of the box above where
// it runs to one.
func (w drawing) spacingMarks(s spacing) (lines []result.Line, d result.Dimension) {
	edge, side := w.Width/2, -18.0
	if s.y < 0 {
		edge, side = -edge, 18
	}
	for _, z := range []float64{s.from, s.to} {
		lines = append(lines, through(result.CentreLine, "", [2]float64{s.y, z}, [2]float64{edge, z}))
	}
	if s.across {
		x, bottom := w.Width/2, w.Pitch()-w.Height/2
		top := s.to + s.lowest.Height/2 + 0.02*w.Height
		lines = append(lines, through(result.CentreLine, "", [2]float64{x, top}, [2]float64{x, bottom}, [2]float64{-x, bottom}),
			through(result.CentreLine, "box above", [2]float64{-x, bottom}, [2]float64{-x, top}))
		above := *s.lowest
		above.At.Z = s.to
		lines = append(lines, shapeOf(result.CentreLine, above.Face(layout.FromFront, above.Width)))
	}
	return lines, result.Dimension{X0: edge, Y0: s.from, X1: edge, Y1: s.to, Offset: side, Text: s.text()}
}
