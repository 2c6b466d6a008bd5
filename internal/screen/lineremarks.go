package screen

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"gapline/cabinet/field"
	"gapline/internal/advice"
	"gapline/internal/quantity"
	"gapline/internal/study/line"
)

// remarks are the notes and cautions under the figures.
func (v *lineView) remarks() string {
	var b strings.Builder
	for _, f := range LineFindings(v.r, v.sys) {
		b.WriteString(Wrap(f.Text, lineWidth, signs[f.Severity], "        "))
	}
	return b.String()
}

// nearFieldNote stands wherever level against distance is shown.
const nearFieldNote = "In its near field a uniform line swings by about ±2.5 dB about 3 dB per doubling; at L²/(2λ) it is already within 1 dB of the spherical law. The formulas are for a straight line of the same length."

// LineFindings are the notes and cautions that belong to a stack's results.
func LineFindings(r *line.Result, sys quantity.System) []advice.Finding {
	var out []advice.Finding
	add := func(s advice.Severity, key, format string, args ...any) {
		out = append(out, advice.Finding{Severity: s, Key: key, Text: fmt.Sprintf(format, args...)})
	}
	for _, n := range r.Model.Notes {
		add(advice.Note, "line", "%s", n)
	}
	if r.Conditions.Boundary == field.FreeField {
		add(advice.Note, "line.boxes", "Boxes do not shade each other: behind the stack the model mirrors the front, where real boxes are quieter.")
	}
	if r.Distance != nil {
		add(advice.Note, "line.boxes", "%s", nearFieldNote)
	}
	if r.Model.Absolute && r.Model.Band("woofers") >= 0 {
		add(advice.Note, "cabinet.width", "Levels are those of boxes in a wall (half space). Below about %s, c/(π·cabinet.width), a stack in the open is up to 6 dB quieter.",
			quantity.Format(r.Model.HalfSpaceFrom, quantity.Frequency, sys))
	}
	if a := r.Audience; a != nil {
		add(advice.Note, "audience.start", "Seats: octave bands each at full drive, %s; dBA is pink noise of that drive from %s to %s in all. %s",
			tonesText(a), shortHz(a.Bands[0].Mid), shortHz(a.Bands[len(a.Bands)-1].Mid), absorbed(a.Absorbed))
		if a.Exposure != nil {
			add(advice.Caution, "audience.start", "%s", ExposureText(a))
		}
	} else if r.Model.Absolute {
		add(advice.Caution, "drive.voltage", "%s", advice.LoudnessCaution)
	}
	add(advice.Caution, "line.boxes", advice.SuspensionCaution)
	return out
}

// tonesText says how many tones stand for a band at the seats, and why so many.
func tonesText(a *line.Audience) string {
	text := fmt.Sprintf("means over %d to %d tones, doubled until no seat's level moves by more than %g dB", slices.Min(a.Tones), slices.Max(a.Tones), field.ToneTolerance)
	if !a.Settled {
		text += fmt.Sprintf(", which %d do not reach everywhere", field.MostTones)
	}
	return text
}

func absorbed(yes bool) string {
	if yes {
		return "Air absorption counts."
	}
	return "Air absorption is left out."
}

// ExposureText sets the level at the nearest seat against the guidance.
func ExposureText(a *line.Audience) string {
	x := a.Exposure
	text := fmt.Sprintf("Nearest seat, %.1f m out: %.1f dBA at this drive. ", a.Seat[a.Nearest].X, x.Level)
	if x.Level < 80 {
		text += "Below the range of the occupational guidance. "
	} else {
		text += fmt.Sprintf("The occupational dose is reached after %s. ", duration(x.Time))
	}
	if x.OverVenue {
		text += fmt.Sprintf("%.1f dB over the venue limit. ", -x.VenueMargin)
	} else {
		text += fmt.Sprintf("A drive %.1f dB higher reaches the venue limit. ", x.VenueMargin)
	}
	return text + "Local rules decide. " + advice.ExposureGuidance
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
