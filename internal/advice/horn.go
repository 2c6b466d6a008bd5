package advice

import (
	"math"

	"gapline/internal/figure"
	"gapline/internal/quantity"
	"gapline/internal/study/horn"
)

// HornFindings says what sets the horn's limits and what could not be worked out.
// The texts use the given units.
func HornFindings(st *horn.Study, sys quantity.System) []Finding {
	f := finder{d: st.Design, s: &st.Sizing, sys: sys}
	f.hornLimit()
	h := &st.Sizing.Horn
	if h.FlaresFilled < 16e3 {
		f.add(Note, figure.HornFlaresFilled.Key, "A flat front fills the flares only up to %s; above it the mouth must deliver a curved front, or horn.flare_splitters more.",
			f.hz(h.FlaresFilled))
	}
	if st.NoVertical != "" {
		f.add(Note, "horn.path_length", "Not worked out: %s.", st.NoVertical)
	}
	if st.Loading == nil {
		f.add(Note, "horn.profile", "The loading is not worked out: %s.", st.NoLoading)
		return f.out
	}
	l := st.Loading
	if l.Drives == nil {
		f.add(Note, "compression_driver.re", "Without [compression_driver] the source is a plane-wave tube of the throat's area: its power is what enters, not what a driver delivers.")
	} else {
		f.add(Note, "compression_driver.voltage", "Compression driver at %s r.m.s.", quantity.Canonical(l.Voltage, quantity.Voltage))
	}
	if l.ListError > 0.03 {
		f.add(Note, "horn.areas", "The points are few: leaving out every second one changes the throat impedance by up to %.0f %%. The list's own error is about a third of that when the profile is smooth.",
			100*l.ListError)
	}
	if high := f.s.Air.SoundSpeed / (2 * math.Max(f.d.Horn.MouthWidth, 0)); high > 0 && !math.IsInf(high, 1) {
		f.add(Note, figure.HornRipple.Key, "The loading takes plane fronts for granted: above the first cross mode of the mouth, about %s, it is an estimate.", f.hz(high))
	}
	return f.out
}
