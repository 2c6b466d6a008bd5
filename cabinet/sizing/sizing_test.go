package sizing

import (
	"math"
	"testing"

	"gapline/cabinet/design"
	"gapline/internal/designtest"
	"gapline/internal/optional"
	"gapline/internal/reftable"

	"pgregory.net/rapid"
)

// Table crossover_gap, for c = 343 m/s; the tool's c differs, which moves the
// half-wave limit and not Keele's rule.
func TestGapAgainstTable(t *testing.T) {
	for _, r := range reftable.Read(t, "crossover_gap") {
		d := design.New()
		d.Cabinet.Pitch = optional.Of(r.Get("pitch_m"))
		d.Horn.MouthWidth = optional.Of(r.Get("X_m"))
		d.Horn.Coverage = optional.Of(r.Get("theta_deg") * math.Pi / 180)
		s := Size(&d)
		shift := math.Log2(s.Air.SoundSpeed / r.Get("c_m_s"))
		reftable.Within(t, r.Name+" half-wave basis", s.Gap.Open, r.Get("gap_K_half_oct")-shift, 1e-9)
		if math.Abs(GapOf(&d)-s.Gap.AsGiven()) > 1e-12 {
			t.Errorf("%s: GapOf %g, Size %g", r.Name, GapOf(&d), s.Gap.AsGiven())
		}
	}
}

// Common practice, no source: a 60-inch line starts at about 225 Hz, 10-inch
// spacing ends at about 675 Hz, and two mouths per box at half the spacing take
// it an octave up, to about 1.35 to 1.4 kHz.
func TestCommonPractice(t *testing.T) {
	const inch = 0.0254
	d := design.New()
	d.Cabinet.Pitch, d.Line.Boxes = optional.Of(10*inch), 6
	d.Insert.Mouths, d.Insert.Spacing = 2, optional.Of(5*inch)
	s := Size(&d)
	within := func(what string, got, lo, hi float64) {
		if !(got >= lo && got <= hi) {
			t.Errorf("%s = %.1f Hz, want %g to %g (common practice)", what, got, lo, hi)
		}
	}
	within("start of a 60-inch line", s.Coupling.Lower, 220, 230)
	within("end of 10-inch spacing", s.Coupling.Open.HalfWave, 670, 680)
	within("end with two mouths", s.Coupling.Insert.HalfWave, 1340, 1400)
	within("first lobe of the bare line", s.Coupling.Open.Lobe, 1340, 1400)
}

func TestFinerPitchNeverLowersTheHalfWaveLimit(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := designtest.Random(t)
		d.Insert.Spacing = optional.Float{} // follows the pitch
		finer := d
		finer.Cabinet.Pitch = optional.Of(finer.Cabinet.Pitch.Value() * rapid.Float64Range(0.2, 1).Draw(t, "finer"))
		a, b := Size(&d), Size(&finer)
		if b.Coupling.Open.HalfWave < a.Coupling.Open.HalfWave*(1-1e-12) ||
			b.Coupling.Insert.HalfWave < a.Coupling.Insert.HalfWave*(1-1e-12) {
			t.Fatalf("pitch %g: %g Hz, pitch %g: %g Hz", d.Cabinet.Pitch.Value(), a.Coupling.Open.HalfWave, finer.Cabinet.Pitch.Value(), b.Coupling.Open.HalfWave)
		}
	})
}
