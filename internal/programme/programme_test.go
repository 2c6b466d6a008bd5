package programme

import (
	"math"
	"math/cmplx"
	"testing"

	"gapline/internal/reftable"
)

// Table 3 of IEC 61672-1, rounded to a tenth; 0.051 lets a value that lies halfway round
// either way.
func TestWeightingsAgainstTheirTable(t *testing.T) {
	const half = 0.051
	for _, r := range reftable.Read(t, "weighting_iec61672") {
		f := 1000 * math.Pow(10, r.Get("n")/10)
		reftable.Within(t, r.Name+" A", AWeighting(f), r.Get("A_dB"), half)
		reftable.Within(t, r.Name+" C", CWeighting(f), r.Get("C_dB"), half)
	}
}

// Every third octave of the programme signal is that of the printed table, at its place.
func TestProgrammeAgainstItsTable(t *testing.T) {
	thirds := IEC.Thirds()
	rows := reftable.Read(t, "programme_iec60268")
	if len(rows) != len(thirds) {
		t.Fatalf("%d third octaves, the table has %d", len(thirds), len(rows))
	}
	for i, r := range rows {
		reftable.Within(t, r.Name, thirds[i].Level, r.Get("level_dB"), 0)
		// Nominal frequencies lie within 1.2 % of the exact ones (ISO 266).
		reftable.Near(t, r.Name, thirds[i].Mid, r.Get("f_Hz"), 0.012)
	}
}

// The note of clause 7: the whole signal lies about 12.5 dB above the zero level.
func TestPowerOfTheWholeProgramme(t *testing.T) {
	sum, share := 0.0, 0.0
	for _, b := range IEC.Thirds() {
		sum += math.Pow(10, b.Level/10)
		share += b.Share
	}
	reftable.Within(t, "whole signal", 10*math.Log10(sum), 12.5, 0.1) // "approximately"
	reftable.Near(t, "shares", share, 1, 1e-12)
}

// Pink noise through the filter of figure 2, a ladder of resistors and capacitors, lies
// within the tolerances of the table in every third octave once its level is set: another
// way to the same spectrum, by the standard's own circuit.
func TestProgrammeAgainstTheFilterOfTheStandard(t *testing.T) {
	rows := reftable.Read(t, "programme_iec60268")
	low, high := math.Inf(-1), math.Inf(1) // of the level that puts every band within
	for i, b := range IEC.Thirds() {
		const steps = 60
		mean := 0.0
		for k := range steps {
			f := b.Low * math.Pow(b.High/b.Low, (float64(k)+0.5)/steps)
			mean += math.Pow(cmplx.Abs(ladder(f)), 2) / steps
		}
		off := b.Level - 10*math.Log10(mean)
		low, high = math.Max(low, off-rows[i].Get("tolerance_dB")), math.Min(high, off+rows[i].Get("tolerance_dB"))
	}
	if low > high {
		t.Errorf("no level of the filtered noise puts every third octave within the tolerances: %g to %g", low, high)
	}
}

// ladder is the voltage over the output resistor of figure 2 for 1 V of the source,
// from the output back to the source.
func ladder(f float64) complex128 {
	s := complex(0, 2*math.Pi*f)
	series := func(r, c float64) complex128 { return complex(r, 0) + 1/(s*complex(c, 0)) }
	across := func(r, c float64) complex128 { return complex(1/r, 0) + s*complex(c, 0) }
	v, i := complex(1, 0), complex(1/10e3, 0) // at the output: 1 V over 10 kΩ
	v += i * (1 / (s * complex(0.47e-6, 0)))
	i += v * across(3300, 68e-9)
	v += i * series(330, 2.2e-6)
	i += v * across(3300, 91e-9)
	v += i * series(430, 2.2e-6)
	return 1 / v
}

// Octaves by hand: three third octaves each, about their middle.
func TestOctaveOfAThird(t *testing.T) {
	for _, c := range []struct {
		n    float64 // of 10^(n/10) kHz
		want int
	}{{-17, -6}, {-16, -5}, {-13, -4}, {-1, 0}, {0, 0}, {1, 0}, {2, 1}, {13, 4}, {-2, -1}} {
		if got := (Third{Mid: 1000 * math.Pow(10, c.n/10)}).Octave(); got != c.want {
			t.Errorf("third octave %g lies in octave %d, want %d", c.n, got, c.want)
		}
	}
}

func TestFindAndCrest(t *testing.T) {
	if s, err := Find(" IEC "); err != nil || s != &IEC {
		t.Errorf("Find: %v, %v", s, err)
	}
	if _, err := Find("brown"); err == nil {
		t.Error("an unknown spectrum is found")
	}
	if c, err := CrestOf(6); err != nil || math.Abs(float64(c)-1.99526) > 1e-5 {
		t.Errorf("6 dB is a crest factor of %v, %v", c, err)
	}
	for _, bad := range []float64{-1, 31, math.NaN(), math.Inf(1)} {
		if _, err := CrestOf(bad); err == nil {
			t.Errorf("a crest factor of %v dB is accepted", bad)
		}
	}
}

// IEC 61260-1: middles at 10^(n/10) kHz, edges at half a step, so that neighbours meet.
func TestThirdsMeet(t *testing.T) {
	thirds := Pink.Thirds()
	for i, b := range thirds {
		reftable.Near(t, "width", b.High/b.Low, math.Pow(10, 0.1), 1e-12)
		reftable.Near(t, "middle", b.Mid, math.Sqrt(b.Low*b.High), 1e-12)
		if i > 0 {
			reftable.Near(t, "edge", b.Low, thirds[i-1].High, 1e-12)
		}
	}
	reftable.Near(t, "1 kHz", thirds[17].Mid, 1000, 1e-12)
}

// 0 dB at 1 kHz by definition (IEC 61672-1, 5.5.6).
func TestWeightingsMeetAtOneKilohertz(t *testing.T) {
	if a, c := AWeighting(1000), CWeighting(1000); a != 0 || c != 0 {
		t.Errorf("A %g dB, C %g dB at 1 kHz", a, c)
	}
}

// The clipped programme of power tests has a crest factor of 1.8 to 2.2; ten times is 20 dB; a
// square wave has 0 dB.
func TestCrest(t *testing.T) {
	if !(DefaultCrest >= 1.8 && DefaultCrest <= 2.2) {
		t.Errorf("default of %v", DefaultCrest)
	}
	reftable.Near(t, "ten times", Crest(10).DB(), 20, 1e-15)
	for db, want := range map[float64]float64{0: 1, 20: 10, 30: 31.6227766} {
		c, err := CrestOf(db)
		if err != nil {
			t.Error(err)
		}
		reftable.Near(t, "crest", float64(c), want, 1e-8)
	}
	if c, err := CrestOf(-1); err == nil || c != 0 {
		t.Errorf("a crest factor of -1 dB: %v, %v", c, err)
	}
}
