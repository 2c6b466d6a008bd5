package advice

import (
	"math"

	"gapline/internal/result"
	"gapline/internal/study/line"
)

// patterns says what hung patterns leave out, and by how much they move the seats.
func (l *list) patterns(r *line.Result) {
	l.add(result.Note, "line.boxes", "The pattern is that of one box by itself: neighbours, which in a stack shade and reflect, are left out, and each place counts as far from each box "+
		"(beyond about its width squared over the wavelength).")
	if m := r.Moved(); m != nil && math.Abs(m.Most) > line.MovedNoticeably {
		l.add(result.Note, "audience.start", "The pattern moves the seats by up to %s against ideal mouths, at %s: both stand side by side.", level(m.Most), away(r.Audience.Seat[m.Seat].X))
	}
}
