package advice

import (
	"math"
	"slices"

	"gapline/cabinet/field"
	"gapline/internal/preferred"
	"gapline/internal/quantity"
	"gapline/internal/result"
	"gapline/internal/study/line"
)

// LineFindings are the notes and cautions that belong to a stack's results.
func LineFindings(r *line.Result) []result.Finding {
	var l list
	l.assumed("line", r.Design, r.Model)
	switch {
	case r.Model.Patterned():
		l.patterns(r)
	case r.Conditions.Boundary == field.FreeField:
		l.add(result.Note, "line.boxes", "Boxes do not shade each other: behind the stack the model mirrors the front, where real boxes are quieter.")
	}
	if r.Distance != nil {
		l.add(result.Note, "line.boxes", "In its near field a uniform line swings by about ±2.5 dB about 3 dB per doubling; at L²/(2λ) it is already within 1 dB of the spherical law. "+
			"The formulas are for a straight line of the same length.")
	}
	if r.Model.InHalfSpace() {
		l.add(result.Note, "cabinet.width", "Levels are those of boxes in a wall (half space). Below about %s, c/(π·cabinet.width), a stack in the open is up to 6 dB quieter.",
			hertz(r.Model.HalfSpaceFrom))
	}
	if r.Polar != nil {
		l.beam(r.Polar)
	}
	l.loudest(r)
	switch {
	case r.Audience != nil:
		l.seats(r.Audience)
	case r.Model.Absolute:
		l.add(result.Caution, "drive.voltage", LoudnessCaution)
	}
	l.add(result.Caution, "line.boxes", SuspensionCaution)
	return l.out
}

// seats says what the levels at the seats are and sets the loudest against the
// guidance.
func (l *list) seats(a *line.Audience) {
	absorbed := "Air absorption is left out."
	if a.Absorbed {
		absorbed = "Air absorption counts."
	}
	l.add(result.Note, "audience.start", "Seats: octave bands each at full drive, %s; dBA is pink noise of that drive from %s to %s in all. %s",
		tones(a), octaveName(a.Bands[0].Mid), octaveName(a.Bands[len(a.Bands)-1].Mid), absorbed)
	if a.Exposure == nil {
		return
	}
	x := a.Exposure
	dose := result.Say("Below the range of the occupational guidance.")
	if x.Level >= quietest {
		dose = result.Say("The occupational dose is reached after %s.", duration(x.Time))
	}
	venue := result.Say("A drive %s higher reaches the venue limit.", level(x.VenueMargin))
	if x.OverVenue {
		venue = result.Say("%s over the venue limit.", level(-x.VenueMargin))
	}
	l.add(result.Caution, "audience.start", "Nearest seat, %s out: %s dBA at this drive. %s %s Local rules decide. "+ExposureGuidance,
		away(a.Seat[a.Nearest].X), tenths(x.Level), dose, venue)
}

// tones says how many tones stand for a band at the seats, and why so many.
func tones(a *line.Audience) result.Text {
	text := result.Say("means over %s to %s tones, doubled until no seat's level moves by more than %s",
		result.Count(slices.Min(a.Tones)), result.Count(slices.Max(a.Tones)), exactly(field.ToneTolerance, quantity.Level))
	if !a.Settled {
		text = text.And(result.Say(", which %s do not reach everywhere", result.Count(field.MostTones)))
	}
	return text
}

// quietest is the level in dBA from which the occupational guidance counts (NIOSH
// 98-126).
const quietest = 80

// tenths is a number with one decimal.
func tenths(x float64) result.Cell {
	return result.Num(x, quantity.Number).As(quantity.Style{Verb: "%.1f"})
}

// away is a distance in a hall.
func away(m float64) result.Cell {
	return result.Num(m, quantity.Length).As(quantity.Style{Verb: "%.1f", Unit: "m", InchUnit: "ft"})
}

// octaveName is the name of an octave by its middle: "125", "8k".
func octaveName(f float64) result.Text {
	number := func(x float64) result.Cell {
		return result.Num(x, quantity.Number).As(quantity.Style{Verb: "%.4g"})
	}
	if f = preferred.Nominal(f); f >= 1000 {
		return result.Say("%sk", number(f/1000))
	}
	return result.Say("%s", number(f))
}

// duration words a time of exposure, s.
func duration(s float64) result.Text {
	whole := quantity.Style{Verb: "%.0f"}
	switch {
	case s >= 48*3600:
		return result.Say("days")
	case s >= 3600:
		return result.Say("%s h", tenths(s/3600))
	case s >= 60:
		return result.Say("%s min", result.Num(s/60, quantity.Number).As(whole))
	}
	return result.Say("%s s", result.Num(math.Ceil(s), quantity.Number).As(whole))
}
