package advice

import (
	"math"
	"slices"

	"gapline/cabinet/source"
	"gapline/internal/result"
	"gapline/internal/study/line"
)

// leastNeighbours is the least number of boxes whose middle one has neighbours.
const leastNeighbours = 3

// patterns says what hung patterns leave out, and by how much they move the seats.
func (l *list) patterns(r *line.Result) {
	alone := slices.ContainsFunc(r.Model.Bands, func(b source.Band) bool { return b.Pattern != nil && b.Pattern.Boxes <= 1 })
	switch {
	case alone && r.Design.Line.Boxes >= leastNeighbours:
		l.add(result.Note, "line.boxes", "The pattern is that of one box by itself, whose level on its axis is left as it is: neighbours, which in a stack shade the rear by some 6 to 10 dB more and "+
			"lengthen the front, are not in it. gapline wave --of front --boxes %s has them.", result.Count(leastNeighbours))
	case !alone:
		l.add(result.Note, "line.boxes", "Every box has the pattern of the middle one: ahead the stack is within about 1.5 dB of what all boxes solved together give, behind within about 6 dB; the outermost boxes differ most.")
	}
	l.add(result.Note, "line.boxes", "Each place counts as far from each box: nearer than about its width squared over the wavelength ideal mouths tell more.")
	m := r.Moved()
	switch {
	case m == nil:
	case math.Abs(m.Most) > line.MovedNoticeably:
		l.add(result.Note, "audience.start", "The pattern moves the seats by up to %s against ideal mouths, at %s: both stand side by side.", level(m.Most), away(r.Audience.Seat[m.Seat].X))
	default:
		l.add(result.Note, "audience.start", "The pattern moves no seat by more than %s against ideal mouths, in any octave.", level(math.Abs(m.Most)))
	}
}
