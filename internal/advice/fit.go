package advice

import (
	"math"

	"gapline/driver"
	"gapline/internal/quantity"
	"gapline/internal/result"
	"gapline/internal/study/box"
)

// goodResidual is the rms relative deviation of |Z| up to which the model may be
// said to follow a sweep: a few times the error of a usual measurement.
const goodResidual = 0.03

// wideInterval is the relative half-width of an interval from which more points are
// called for.
const wideInterval = 0.2

// clearShare is the weight of a model below which others are as good: nine in ten.
const clearShare = 0.9

// standInError is the error of |Z| that is worth a note where a lossy inductance
// stands for the fitted coil.
const standInError = 0.005

// FitFindings says how far a driver fitted to impedance sweeps can be trusted.
func FitFindings(f *box.Fit) []result.Finding {
	var l list
	for _, x := range []*box.Fitted{&f.First, f.Second} {
		if x != nil {
			l.fitted(x)
		}
	}
	if le, n, off := f.First.StandIn(); off > standInError {
		l.add(result.Note, "woofer.le", "A driver file holds one lossy inductance; from half of fs to %s the nearest is le %s, le_exponent %s, and --write takes it: |Z| is off by up to %s with it.",
			result.Num(box.StandInTop, quantity.Frequency), result.Num(le, quantity.Inductance).As(quantity.Style{Verb: "%.3g"}),
			result.Num(n, quantity.Number).As(quantity.Style{Verb: "%.3g"}), share(off, "%.1f"))
	}
	if f.Vas == nil {
		l.add(result.Note, "woofer.vas", "One sweep tells nothing of Vas, mass and force factor: a second, with an added mass or in a known volume, does.")
	}
	l.add(result.Note, "woofer", "The intervals hold for independent errors of equal size; a systematic error of sweep or model is not in them.")
	return l.out
}

// share writes a share in per cent.
func share(v float64, verb string) result.Cell {
	return result.Num(v, quantity.Fraction).As(quantity.Style{Verb: verb})
}

// fitted says how far one sweep can be trusted.
func (l *list) fitted(x *box.Fitted) {
	if r := x.Fit.Residual; r > goodResidual {
		l.add(result.Note, "woofer", "%s: the model misses the sweep by %s (rms): the intervals cover scatter only, not this.", x.File, share(r, "%.1f"))
	}
	if x.Fit.Systematic() {
		l.add(result.Note, "woofer", "%s: neighbouring points lie on the same side of the model: that is no scatter, and the intervals are too narrow. Look at the residual; a narrower band (--from, --to) or a held Re (--re) may help.", x.File)
	}
	if x.Fit.Share < clearShare {
		l.add(result.Note, "woofer.le", "%s: other models of the inductance follow the sweep nearly as well (weight of this one %s); the intervals allow for that.", x.File, share(x.Fit.Share, "%.0f"))
	}
	if x.Inductor == box.NoInductor {
		l.add(result.Note, "woofer.le", "%s: the sweep does not determine the inductance: measure up to 10 or 20 times the resonance.", x.File)
	}
	if wide := widest(x.Fit); wide > wideInterval {
		l.add(result.Note, "woofer", "%s: the widest interval is %s: more points near the peak would help.", x.File, share(wide, "±%.0f"))
	}
}

// widest is the largest relative half-width of the main parameters' intervals.
func widest(f *driver.ImpedanceFit) float64 {
	w := 0.0
	for _, e := range []driver.Estimate{f.Fs, f.Qes, f.Qms, f.Re} {
		w = math.Max(w, (e.High-e.Low)/(2*e.Value))
	}
	return w
}
