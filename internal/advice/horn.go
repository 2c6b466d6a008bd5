package advice

import (
	"math"

	"gapline/internal/figure"
	"gapline/internal/numeric"
	"gapline/internal/quantity"
	"gapline/internal/result"
	"gapline/internal/study/horn"
	"gapline/waveguide"
)

// HornFindings says what sets the horn's limits and what could not be worked out.
func HornFindings(st *horn.Study) []result.Finding {
	f := finder{d: st.Design, s: &st.Sizing}
	f.hornLimit()
	h := &st.Sizing.Horn
	if h.FlaresFilled < 16e3 {
		f.add(result.Note, figure.HornFlaresFilled.Key, "A flat front fills the flares only up to %s; above it the mouth must deliver a curved front, or horn.flare_splitters more.",
			hertz(h.FlaresFilled))
	}
	if st.NoVertical != "" {
		f.add(result.Note, "horn.path_length", "Not worked out: %s.", st.NoVertical)
	}
	if st.Loading == nil {
		f.add(result.Note, "horn.profile", "The loading is not worked out: %s.", st.NoLoading)
		return f.out
	}
	l := st.Loading
	if l.Drives == nil {
		f.add(result.Note, "compression_driver.re", "Without [compression_driver] the source is a plane-wave tube of the throat's area: its power is what enters, not what a driver delivers.")
	} else {
		f.add(result.Note, "compression_driver.voltage", "Compression driver at %s r.m.s.", exactly(l.Voltage, quantity.Voltage))
		f.hornDriven(st)
	}
	if l.ListError > 0.03 {
		f.add(result.Note, "horn.areas", "The points are few: leaving out every second one changes the throat impedance by up to %s. The list's own error is about a third of that when the profile is smooth.",
			result.Num(l.ListError, quantity.Fraction).As(quantity.Style{Verb: "%.0f"}))
	}
	if high := f.s.Air.SoundSpeed / (2 * math.Max(f.d.Horn.MouthWidth.Value(), 0)); high > 0 && !math.IsInf(high, 1) {
		f.add(result.Note, figure.HornRipple.Key, "The loading takes plane fronts for granted: above the first cross mode of the mouth, about %s, it is an estimate.", hertz(high))
	}
	return f.out
}

// hornLimit names what sets the horn's lower end when it is not the pattern,
// and the narrowing above it.
func (f *finder) hornLimit() {
	h := &f.s.Horn
	if numeric.Given(h.PatternRule) && !numeric.Given(h.PatternComputed) {
		f.add(result.Note, figure.HornPatternComputed.Key, "A mouth with a circular front does not narrow to %s before its beam breaks up: "+
			"the aperture integral knows no frequency from which it holds the coverage, and does not bear out the rule's %s.", angle(h.ExitCoverage), hertz(h.PatternRule))
	}
	if !numeric.Given(h.Lower) {
		return
	}
	switch {
	case h.Lower == f.d.Horn.Lowest.Value():
		f.add(result.Note, "horn.lowest", "The compression driver's lowest crossover, %s, sets the horn's lower limit: a wider mouth would not help.", hertz(h.Lower))
	case h.Lower == waveguide.FlareMargin*h.Cutoff:
		f.add(result.Note, figure.HornCutoff.Key, "The flare's cutoff sets the horn's lower limit, %s: a slower flare would help, a wider mouth would not.", hertz(h.Lower))
	}
	if numeric.Given(h.Narrowest) {
		text := result.Say("Above its limit the horn narrows to %s near %s", angle(h.Narrowest), hertz(h.NarrowestAt))
		if widest, at := f.widest(); widest > 1.05*h.ExitCoverage {
			text = text.And(result.Say(", and by the same integral widens to %s near %s", angle(widest), hertz(at)))
		}
		f.detail(figure.HornNarrowest.Key, "%s, before it returns to %s.", text, angle(h.ExitCoverage))
	}
}

// Where the widest pattern above the narrowest is looked for: in steps of a twelfth of an
// octave up to three octaves above it, or the end of hearing.
const widestTo, widestOver, widestStep = 20e3, 8, 1.0594630943592953

// widest is the widest pattern of the mouth above its narrowest by the aperture integral,
// rad, and where it lies, Hz.
func (f *finder) widest() (width, at float64) {
	exit := f.d.Horn.Exit()
	for hz := f.s.Horn.NarrowestAt; hz <= math.Min(widestTo, widestOver*f.s.Horn.NarrowestAt); hz *= widestStep {
		if w := exit.Beamwidth(f.s.Air.SoundSpeed / hz); w > width {
			width, at = w, hz
		}
	}
	return width, at
}
