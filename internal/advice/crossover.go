package advice

import (
	"gapline/cabinet/design"
	"gapline/cabinet/filter"
	"gapline/cabinet/layout"
	"gapline/cabinet/sizing"
	"gapline/cabinet/source"
	"gapline/internal/figure"
	"gapline/internal/numeric"
	"gapline/internal/quantity"
	"gapline/internal/result"
	"gapline/internal/study/fit"
	"gapline/internal/study/line"
)

// farApart is the distance of two bands across, in wavelengths at their crossover,
// from which their notch at the sides is worth a word.
const farApart = 0.25

// CrossoverFindings are the notes and cautions of a crossover.
func CrossoverFindings(c *line.Crossover, s *line.Study) []result.Finding {
	var l list
	l.assumed("crossover", s.Design, s.Model)
	x := &c.Crossing
	at := handed{x.Low, x.High, x.Frequency, &x.Handover}
	if x.FromFile {
		l.crossedAt(at)
	}
	sized := sizing.Size(s.Design)
	judged := Judge(s.Design, &sized, &fit.Fit{})
	l.twoWindows(at, sized.Gap.Basis.Name(), &judged, true)
	if c.LeastBad() {
		l.add(result.Note, "crossover.frequency", "Both bands do not cover %s: what the search finds is the least bad crossover, not a good one.", hertz(c.Best.Frequency))
	}
	l.add(result.Note, "crossover.frequency", "A notch is how far the sum lies below both ways in phase. It counts within the coverage, in both planes, over the frequencies computed and between them; "+
		"%s stands for all that cancels.", level(filter.Floor))
	if apart := s.Apart(x.Low, x.High); apart > farApart*s.SoundSpeed()/x.Frequency {
		l.add(result.Note, x.High, "The %s and the %s stand %s apart across, %s λ at %s: no delay helps both sides alike. Nearer to each other, or one between two columns of the other, the notch goes.",
			x.Low, x.High, length(apart), result.Num(apart*x.Frequency/s.SoundSpeed(), quantity.Number).As(quantity.Style{Verb: "%.2f"}), hertz(x.Frequency))
	}
	l.inside(c, s.Design)
	if c.One != nil {
		l.overdriven(c.One, c.Overdriven)
	}
	if s.Model.Absolute {
		l.add(result.Caution, "drive.voltage", LoudnessCaution)
	}
	l.add(result.Caution, "line.boxes", SuspensionCaution)
	return l.out
}

// inside says what the ways inside the boxes do to the delays.
func (l *list) inside(c *line.Crossover, d *design.Design) {
	low, high, early, late := c.Low, c.High, c.Crossing.Low, c.Crossing.High
	if low.Inside > high.Inside {
		low, high, early, late = high, low, late, early
	}
	if high.Inside == low.Inside {
		return
	}
	key, fold := "horn.length", result.Text{}
	if p := layout.PathOf(d); late == source.Horn && p.Folded > 0 {
		fold = result.Say(", %s of it through the fold,", length(p.Folded))
	} else if late != source.Horn {
		key = late
	}
	l.add(result.Note, key, "Delays count at the mouths. From its drivers to its mouths the sound of the %s goes %s farther than that of the %s%s and takes %s more: "+
		"a processor delays the %s by that much more, as the rows for it say.", late, length(high.Inside-low.Inside), early, fold,
		result.Num(high.Time()-low.Time(), quantity.Time).As(quantity.Style{Verb: "%.3f", Unit: "ms"}), early)
}

// handed is a crossover frequency that the file gives, and where the two bands may hand
// over.
type handed struct {
	low, high string
	frequency float64 // Hz
	*sizing.Handover
}

// crossovers judges the crossover frequencies that the file gives.
func (f *finder) crossovers() {
	below := source.Woofers
	if f.d.HasMid() {
		below = source.Mids
		if hz := f.d.Low.Frequency.Value(); numeric.Given(hz) {
			h := sizing.MidHandover(f.d, f.s)
			f.crossedAt(handed{source.Woofers, source.Mids, hz, &h})
		}
	}
	if hz := f.d.Crossover.Frequency.Value(); numeric.Given(hz) {
		h := sizing.HornHandover(f.d, f.s)
		at := handed{below, source.Horn, hz, &h}
		f.crossedAt(at)
		f.twoWindows(at, f.s.Gap.Basis.Name(), &f.judged, false)
	}
}

// likePrinted is how far a frequency may lie beyond a limit as a part of it: limits are
// printed rounded, and whoever takes one over is not to be told that it is missed.
const likePrinted = 1e-3

// crossedAt tells what is wrong with a crossover frequency.
func (l *list) crossedAt(x handed) {
	key, lower, upper := "crossover.frequency", figure.GapLow.Key, figure.GapHigh.Key
	if x.high == source.Mids {
		key, lower, upper = "crossover.low_frequency", figure.GapWooferMid.Key, "mid.lowest"
	}
	under := func(limit float64) bool { return x.frequency < limit*(1-likePrinted) }
	over := func(limit float64) bool { return x.frequency > limit*(1+likePrinted) }
	at := hertz(x.frequency)
	switch {
	case under(x.Lowest):
		l.add(result.Contradiction, key, "%s = %s lies under %s, %s.", key, at, hertz(x.Lowest), lowestLimits[x.Limit])
	case !x.Known():
	case x.Open && under(x.From):
		l.add(result.Note, lower, "%s = %s lies under %s, to which the %s couple: the %s can be used only from %s.", key, at, hertz(x.From), x.low, x.high, hertz(x.To))
	case x.Open && over(x.To):
		l.add(result.Note, upper, "%s = %s lies above %s, from which the %s can be used: the %s stop coupling farther below it than they must.", key, at, hertz(x.To), x.high, x.low)
	case !x.Open && under(x.From):
		l.add(result.Note, upper, "%s = %s lies under %s, from which the %s can be used: both bands cover %s to %s.", key, at, hertz(x.From), x.high, hertz(x.From), hertz(x.To))
	case !x.Open && over(x.To):
		l.add(result.Note, lower, "%s = %s lies above %s, to which the %s couple: both bands cover %s to %s.", key, at, hertz(x.To), x.low, hertz(x.From), hertz(x.To))
	}
}

// lowestLimits word what sets the lowest crossover.
var lowestLimits = [...]string{
	sizing.NoLowest:       "the lowest that the upper band allows",
	sizing.LowestOfDriver: "the compression driver's lowest crossover (horn.lowest)",
	sizing.LowestOfFlare:  "1.2 times the flare's cutoff: below it the compression driver is not loaded",
	sizing.LowestOfMids:   "the mids' lowest crossover (mid.lowest)",
}
