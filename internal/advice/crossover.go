package advice

import (
	"gapline/internal/numeric"
	"gapline/internal/quantity"
	"gapline/internal/result"
	"gapline/internal/study/line"
)

// farApart is the distance of two bands across, in wavelengths at their crossover,
// from which their notch at the sides is worth a word.
const farApart = 0.25

// CrossoverFindings are the notes and cautions of a crossover.
func CrossoverFindings(c *line.Crossover, s *line.Study) []result.Finding {
	var l list
	l.assumed("crossover", s.Design, s.Model)
	l.add(result.Note, "crossover.frequency", "A notch is how far the sum lies below both ways in phase. It counts within the coverage, in both planes, over the frequencies computed.")
	x := &c.Crossing
	if apart := s.Apart(x.Low, x.High); apart > farApart*s.SoundSpeed()/x.Frequency {
		l.add(result.Note, x.High, "The %s and the %s stand %s apart across, %s λ at %s: no delay helps both sides alike. Nearer to each other, or one between two columns of the other, the notch goes.",
			x.Low, x.High, length(apart), result.Num(apart*x.Frequency/s.SoundSpeed(), quantity.Number).As(quantity.Style{Verb: "%.2f"}), hertz(x.Frequency))
	}
	if path := s.Design.Horn.Length.Value(); x.High == "horn" && numeric.Given(path) {
		l.add(result.Note, "horn.length", "Delays count at the mouths. The horn's own path of %s takes %s: delay the other bands by that much more.",
			length(path), result.Num(path/s.SoundSpeed(), quantity.Time).As(quantity.Style{Verb: "%.3f", Unit: "ms"}))
	}
	if s.Model.Absolute {
		l.add(result.Caution, "drive.voltage", LoudnessCaution)
	}
	l.add(result.Caution, "line.boxes", SuspensionCaution)
	return l.out
}
