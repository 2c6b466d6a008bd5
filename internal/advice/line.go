package advice

import (
	"fmt"
	"math"
	"slices"

	"gapline/cabinet/field"
	"gapline/internal/figure"
	"gapline/internal/preferred"
	"gapline/internal/quantity"
	"gapline/internal/result"
	"gapline/internal/study/line"
)

// remarks are findings being put together.
type remarks struct{ out []result.Finding }

func (r *remarks) add(s result.Severity, key string, text result.Text) {
	r.out = append(r.out, result.Finding{Severity: s, Key: key, Text: text})
}

func (r *remarks) note(key, text string) { r.add(result.Note, key, result.Plain(text)) }

func (r *remarks) caution(key, text string) { r.add(result.Caution, key, result.Plain(text)) }

// nearField stands wherever level against distance is shown.
const nearField = "In its near field a uniform line swings by about ±2.5 dB about 3 dB per doubling; at L²/(2λ) it is already within 1 dB of the spherical law. The formulas are for a straight line of the same length."

// LineFindings are the notes and cautions that belong to a stack's results.
func LineFindings(r *line.Result) []result.Finding {
	var out remarks
	for _, n := range r.Model.Notes {
		out.note("line", n)
	}
	if r.Conditions.Boundary == field.FreeField {
		out.note("line.boxes", "Boxes do not shade each other: behind the stack the model mirrors the front, where real boxes are quieter.")
	}
	if r.Distance != nil {
		out.note("line.boxes", nearField)
	}
	if r.Model.Absolute && r.Model.Band("woofers") >= 0 {
		out.add(result.Note, "cabinet.width", result.Say("Levels are those of boxes in a wall (half space). Below about %s, c/(π·cabinet.width), a stack in the open is up to 6 dB quieter.",
			result.Fig(figure.LineHung.HalfSpaceFrom, r.Model.HalfSpaceFrom)))
	}
	if a := r.Audience; a != nil {
		last := a.Bands[len(a.Bands)-1]
		out.add(result.Note, "audience.start", result.Say("Seats: octave bands each at full drive, %s; dBA is pink noise of that drive from %s to %s in all. %s",
			tones(a), bandName(a.Bands[0].Mid), bandName(last.Mid), absorbed(a.Absorbed)))
		if a.Exposure != nil {
			out.add(result.Caution, "audience.start", exposure(a))
		}
	} else if r.Model.Absolute {
		out.caution("drive.voltage", LoudnessCaution)
	}
	out.caution("line.boxes", SuspensionCaution)
	return out.out
}

// tones says how many tones stand for a band at the seats, and why so many.
func tones(a *line.Audience) string {
	text := fmt.Sprintf("means over %d to %d tones, doubled until no seat's level moves by more than %g dB", slices.Min(a.Tones), slices.Max(a.Tones), field.ToneTolerance)
	if !a.Settled {
		text += fmt.Sprintf(", which %d do not reach everywhere", field.MostTones)
	}
	return text
}

// bandName writes a nominal frequency: "500", "1k", "12.5k".
func bandName(f float64) string {
	if f = preferred.Nominal(f); f >= 1000 {
		return fmt.Sprintf("%.4gk", f/1000)
	}
	return fmt.Sprintf("%.4g", f)
}

func absorbed(yes bool) string {
	if yes {
		return "Air absorption counts."
	}
	return "Air absorption is left out."
}

// exposure sets the level at the nearest seat against the guidance.
func exposure(a *line.Audience) result.Text {
	x := a.Exposure
	decibels := quantity.Style{Verb: "%.1f", Bare: true}
	text := result.Say("Nearest seat, %s out: %s dBA at this drive. ", fmt.Sprintf("%.1f m", a.Seat[a.Nearest].X), result.Fig(figure.ExposureLevel, x.Level).As(decibels))
	if x.Level < 80 {
		text = text.And(result.Plain("Below the range of the occupational guidance. "))
	} else {
		text = text.And(result.Say("The occupational dose is reached after %s. ", duration(x.Time)))
	}
	if x.OverVenue {
		text = text.And(result.Say("%s over the venue limit. ", result.Fig(figure.ExposureMargin, -x.VenueMargin)))
	} else {
		text = text.And(result.Say("A drive %s higher reaches the venue limit. ", result.Fig(figure.ExposureMargin, x.VenueMargin)))
	}
	return text.And(result.Plain("Local rules decide. " + ExposureGuidance))
}

// duration words a time of exposure.
func duration(s float64) string {
	switch {
	case s >= 48*3600:
		return "days"
	case s >= 3600:
		return fmt.Sprintf("%.1f h", s/3600)
	case s >= 60:
		return fmt.Sprintf("%.0f min", s/60)
	}
	return fmt.Sprintf("%.0f s", math.Ceil(s))
}

// CrossoverFindings are the notes and cautions of a crossover.
func CrossoverFindings(c *line.Crossover, s *line.Study) []result.Finding {
	var out remarks
	x := &c.Crossing
	for _, n := range s.Model.Notes {
		out.note("crossover", n)
	}
	out.note("crossover.frequency", "A notch is how far the sum lies below both ways in phase. It counts within the coverage, in both planes, over the frequencies computed.")
	if apart := bandsApart(c, s); apart > 0.25*s.SoundSpeed()/x.Frequency {
		out.add(result.Note, x.High, result.Say("The %s and the %s stand %s apart across, %s λ at %s: no delay helps both sides alike. Nearer to each other, or one between two columns of the other, the notch goes.",
			x.Low, x.High, result.Num(apart, quantity.Length), result.Num(apart*x.Frequency/s.SoundSpeed(), quantity.Number).As(quantity.Style{Verb: "%.2f"}),
			result.Num(x.Frequency, quantity.Frequency)))
	}
	if l := s.Design.Horn.Length; x.High == "horn" && !math.IsNaN(l) {
		out.add(result.Note, "horn.length", result.Say("Delays count at the mouths. The horn's own path of %s takes %s: delay the other bands by that much more.",
			result.Num(l, quantity.Length), result.Num(l/s.SoundSpeed(), quantity.Time).As(quantity.Style{Verb: "%.3f"})))
	}
	if s.Model.Absolute {
		out.caution("drive.voltage", LoudnessCaution)
	}
	out.caution("line.boxes", SuspensionCaution)
	return out.out
}

// bandsApart is the horizontal distance between the middles of the two bands, m.
func bandsApart(c *line.Crossover, s *line.Study) float64 {
	middle := func(name string) float64 {
		b := &s.Model.Bands[s.Model.Band(name)]
		sum := 0.0
		for _, m := range b.Mouths {
			sum += m.Position.Y
		}
		return sum / float64(len(b.Mouths))
	}
	return math.Abs(middle(c.Crossing.Low) - middle(c.Crossing.High))
}
