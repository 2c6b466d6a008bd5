package cabinet

import (
	"math"
	"testing"

	"gapline/internal/numeric"
	"gapline/internal/reftable"

	"pgregory.net/rapid"
)

// Table crossover_gap, for c = 343 m/s; the tool's c differs, which moves the
// half-wave limit and not Keele's rule.
func TestGapAgainstTable(t *testing.T) {
	for _, r := range reftable.Read(t, "crossover_gap") {
		d := New()
		d.Cabinet.Pitch = r.Get("pitch_m")
		d.Horn.MouthWidth = r.Get("X_m")
		d.Horn.Coverage = r.Get("theta_deg") * math.Pi / 180
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
	d := New()
	d.Cabinet.Pitch, d.Line.Boxes = 10*inch, 6
	d.Insert.Mouths, d.Insert.Spacing = 2, 5*inch
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

// randomDesign draws a design with every part that enters the gap.
func randomDesign(t *rapid.T) Design {
	d := New()
	between := func(name string, lo, hi float64) float64 { return rapid.Float64Range(lo, hi).Draw(t, name) }
	d.Cabinet.Pitch = between("pitch", 0.1, 0.6)
	d.Line.Boxes = rapid.IntRange(1, 24).Draw(t, "boxes")
	d.Woofer.EffectiveDiameter = between("diameter/pitch", 0.3, 0.98) * d.Cabinet.Pitch
	d.Insert.Mouths = rapid.IntRange(1, 4).Draw(t, "mouths")
	d.Insert.Spacing = between("spacing·n/pitch", 0.7, 1.1) * d.Cabinet.Pitch / float64(d.Insert.Mouths)
	d.Insert.MouthHeight = between("mouth/spacing", 0.3, 0.95) * d.Insert.Spacing
	d.Insert.MouthWidth = between("mouth width", 0.03, 0.2)
	d.Insert.SlotDepth = between("slot depth", 0.003, 0.04)
	d.Insert.ChamberVolume = between("chamber", 1e-4, 3e-3)
	d.Horn.MouthWidth = between("mouth width", 0.1, 0.8)
	d.Horn.MouthHeight = between("mouth height/pitch", 0.5, 1) * d.Cabinet.Pitch
	d.Horn.Coverage = between("coverage", 0.3, 2.4)
	d.Horn.PathLength = between("path", 0.2, 3)
	d.Horn.Profile, d.Horn.Throat, d.Horn.Length = "exponential", 0.025, between("horn length", 0.1, 0.8)
	d.Targets.Coupling = rapid.SampledFrom(Bases).Draw(t, "basis")
	return d
}

// scale multiplies every length by s.
func scale(d Design, s float64) Design {
	for _, x := range []*float64{
		&d.Cabinet.Pitch, &d.Woofer.EffectiveDiameter, &d.Insert.Spacing, &d.Insert.MouthHeight, &d.Insert.MouthWidth,
		&d.Insert.SlotDepth, &d.Horn.MouthWidth, &d.Horn.MouthHeight, &d.Horn.PathLength, &d.Horn.Throat, &d.Horn.Length,
	} {
		*x *= s
	}
	d.Insert.ChamberVolume *= s * s * s
	return d
}

// Similarity: lengths times s, frequencies over s, the gap unchanged.
func TestScaling(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := randomDesign(t)
		s := rapid.Float64Range(0.3, 3).Draw(t, "scale")
		big := scale(d, s)
		a, b := Size(&d), Size(&big)
		for i := range Figures {
			f := &Figures[i]
			x, y := f.Value(&a), f.Value(&b)
			switch f.Kind.String() {
			case "frequency":
				y *= s
			case "length":
				y /= s
			}
			if f.Key == "line.near_field_1khz_m" {
				y /= s // at one frequency, which does not scale along
			}
			if math.IsNaN(x) && math.IsNaN(y) || math.IsInf(x, 1) && math.IsInf(y, 1) {
				continue
			}
			// A lobe that touches its target within rounding may fall to either
			// side, which moves the limit by a whole lobe.
			if f.Key == "coupling.open.lobe_hz" || f.Key == "coupling.insert.lobe_hz" {
				if nearTarget(&d) {
					t.Skip("a lobe lies on its target")
				}
			}
			// Cancelled lobes are rounding noise near the floor.
			if f.Kind.String() == "level" && x < -100 {
				continue
			}
			// The abscissa of a flat minimum is known to about the root of the
			// precision of its value.
			tol := 1e-8
			if f.Key == "horn.narrowest_hz" {
				tol = 1e-3
			}
			if math.Abs(x-y) > tol*math.Max(math.Abs(x), 1) {
				t.Fatalf("%s: %.12g before, %.12g after scaling by %g", f.Key, x, y, s)
			}
		}
	})
}

// nearTarget reports whether any lobe of the cones or mouths lies within
// rounding of the lobe target.
func nearTarget(d *Design) bool {
	for _, ms := range []Mouths{d.wooferMouths(), d.insertMouths()} {
		for m := 1; m <= maxLobes; m++ {
			if math.Abs(ms.LobeRatio(d.Pitch(), m)/d.LobeTarget()-1) < 1e-9 {
				return true
			}
		}
	}
	return false
}

func TestFinerPitchNeverLowersTheHalfWaveLimit(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := randomDesign(t)
		d.Insert.Spacing = numeric.Absent // follows the pitch
		finer := d
		finer.Cabinet.Pitch *= rapid.Float64Range(0.2, 1).Draw(t, "finer")
		a, b := Size(&d), Size(&finer)
		if b.Coupling.Open.HalfWave < a.Coupling.Open.HalfWave*(1-1e-12) ||
			b.Coupling.Insert.HalfWave < a.Coupling.Insert.HalfWave*(1-1e-12) {
			t.Fatalf("pitch %g: %g Hz, pitch %g: %g Hz", d.Cabinet.Pitch, a.Coupling.Open.HalfWave, finer.Cabinet.Pitch, b.Coupling.Open.HalfWave)
		}
	})
}

func TestSizerRemembersNothingWrong(t *testing.T) {
	var z Sizer
	rapid.Check(t, func(t *rapid.T) {
		d := randomDesign(t)
		if got, want := z.Size(&d), Size(&d); !equalSizing(&got, &want) {
			t.Fatalf("a used Sizer gives %+v, a fresh one %+v", got, want)
		}
	})
}

func equalSizing(a, b *Sizing) bool {
	for i := range Figures {
		x, y := Figures[i].Value(a), Figures[i].Value(b)
		if x != y && !(math.IsNaN(x) && math.IsNaN(y)) {
			return false
		}
	}
	return true
}

// What the file does not give is NaN, never a number made up.
func TestMissingInputsGiveNothing(t *testing.T) {
	d := New()
	s := Size(&d)
	for i := range Figures {
		f := &Figures[i]
		if f.Group() == "air" {
			continue
		}
		if v := f.Value(&s); !math.IsNaN(v) {
			t.Errorf("%s = %g for a design that gives nothing", f.Key, v)
		}
	}
}
