package sizing

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"gapline/cabinet/design"
	"gapline/driver"
	"gapline/internal/air"
	"gapline/internal/designtest"
	"gapline/internal/numeric"
	"gapline/internal/optional"
	"gapline/internal/reftable"
	"gapline/internal/wordset"
)

// tableAir is the air of the box tables.
var tableAir = air.Air{SoundSpeed: 343, Density: 1.2}

func boxIn(d *design.Design, a air.Air) BoxSizing { return new(Sizer).sizeBox(d, a) }

// The half-power frequency must be that of the alignment tables (Thiele 1971,
// Small 1972 and 1973) with Q, volume and tuning of a row. The root is found to
// 1e-12 of ln f; the table has 12 digits.
func TestHalfPowerAgainstAlignmentTables(t *testing.T) {
	const fs, qms, vas, tol = 40.0, 8.0, 0.1, 1e-9
	design := func(qt, volume float64) design.Design {
		d := designtest.Closed()
		w := &d.Woofer
		w.Fs, w.Qms, w.Qes, w.Vas = optional.Of(fs), optional.Of(qms), optional.Of(qt*qms/(qms-qt)), optional.Of(vas)
		d.Enclosure.Volume = optional.Of(volume)
		return d
	}
	for _, r := range reftable.Read(t, "box_vented_alignment") {
		d := design(r.Get("QT"), vas/r.Get("alpha"))
		d.Enclosure.Tuning, d.Enclosure.LeakQ = optional.Of(fs*r.Get("h")), optional.Of(r.Get("QL"))
		reftable.Near(t, r.Name, boxIn(&d, tableAir).F3, fs*r.Get("f3_over_fs"), tol)
	}
	for _, r := range reftable.Read(t, "box_closed_alignment") {
		const alpha = 3
		d := design(r.Get("Qtc")/2, vas/alpha)
		reftable.Near(t, r.Name, boxIn(&d, tableAir).F3, 2*fs*r.Get("f3_over_fc"), tol)
	}
}

func TestHighestZeroSeesAShallowDip(t *testing.T) {
	// (x−2)² − ε between steps, then a fall below 1: the dip's upper edge counts.
	const eps = 1e-6
	f := func(x float64) float64 { return math.Min((x-2.03)*(x-2.03)-eps, x-1) }
	reftable.Near(t, "zero", highestZero(f, 4, 0, 0.25), 2.03+math.Sqrt(eps), 1e-9)
	reftable.Near(t, "without a dip", highestZero(func(x float64) float64 { return x - 1 }, 4, 0, 0.3), 1, 1e-9)
	if x := highestZero(func(float64) float64 { return 1 }, 4, 0, 0.25); numeric.Given(x) {
		t.Errorf("a positive function has a zero at %g", x)
	}
}

// The quick search must find what the careful one of package driver finds.
func TestHalfPowerIsTheSummarys(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		draw := func(name string, lo, hi float64) float64 { return rapid.Float64Range(lo, hi).Draw(t, name) }
		d := designtest.Closed()
		w, e := &d.Woofer, &d.Enclosure
		w.Qes, w.Vas = optional.Of(draw("qes", 0.15, 1.5)), optional.Of(draw("vas", 0.01, 0.2))
		e.Volume = optional.Of(w.Vas.Value() * draw("vb", 0.1, 3))
		e.Kind = rapid.SampledFrom(wordset.All[driver.EnclosureKind]()).Draw(t, "kind")
		e.LeakQ, e.AbsorptionQ = optional.Of(draw("ql", 3, 30)), optional.Of(draw("qa", 5, 100))
		e.Tuning = optional.Of(w.Fs.Value() * draw("h", 0.6, 1.6))
		e.Radiator.Sd, e.RadiatorVas = optional.Of(draw("sp", 0.02, 0.06)), optional.Of(draw("vap", 0.02, 0.5))
		a := air.Of(d.Air)
		complete, err := d.Woofer.Derive(a)
		if err != nil {
			t.Fatal(err)
		}
		s := d.DriverSetup(complete, a)
		c, err := driver.NewCircuit(s)
		if err != nil {
			t.Fatal(err)
		}
		got, want := boxIn(&d, a).F3, c.Summary().F3
		if math.Abs(got/want-1) <= 1e-9 {
			return
		}
		// A dip that only just reaches half power may slip through the summary's
		// steps: then the level just below got must be under it.
		s.Driver.Le = optional.Float{}
		plain, err := driver.NewCircuit(s)
		if err != nil {
			t.Fatal(err)
		}
		under := plain.At(got*(1-1e-6), 1).Level() - driver.Level(plain.PassbandPressure(1))
		if !(got > want) || under > driver.HalfPower {
			t.Fatalf("f3 = %.12g Hz, the summary has %.12g", got, want)
		}
	})
}

// Displacement-limited level of a closed box, p = ρω²·Sd·X/(2√2·π) at 1 m
// (Small 1972; table box_displacement_spl).
func TestMaxLevelAgainstDisplacementTable(t *testing.T) {
	for _, r := range reftable.Read(t, "box_displacement_spl") {
		d := designtest.Closed()
		d.Woofer.Sd, d.Woofer.Xmax, d.Woofer.Power = optional.Of(r.Get("Sd_m2")), optional.Of(r.Get("X_peak_m")), optional.Of(1e9)
		d.Targets.Lowest = optional.Of(500)
		d.Targets.LevelAt = optional.Of(r.Get("f_Hz")) // goes before lowest
		s := boxIn(&d, air.Air{SoundSpeed: r.Get("c"), Density: r.Get("rho")})
		reftable.Within(t, r.Name, s.MaxLevel+numeric.DB(1/r.Get("r_m")), r.Get("spl_half_dB"), 1e-8)
		reftable.Near(t, r.Name+" swept volume", s.SweptVolume, r.Get("Vd_m3"), 1e-9)
		if s.Limit != driver.ExcursionLimit || s.LevelAt != r.Get("f_Hz") {
			t.Errorf("%s: limit %v at %g Hz", r.Name, s.Limit, s.LevelAt)
		}
	}
}

// Far above resonance the power-limited level is that of 1 W plus 10·log10(P)
// (table box_driver); 300 times fs leaves less than 1e-3 dB of the slope.
func TestMaxLevelAgainstEfficiencyTable(t *testing.T) {
	for _, r := range reftable.Read(t, "box_driver") {
		d := design.New()
		w := &d.Woofer
		w.Sd, w.Mms, w.Cms, w.Bl, w.Re, w.Rms = optional.Of(r.Get("Sd_m2")), optional.Of(r.Get("Mms_kg")), optional.Of(r.Get("Cms_m_N")), optional.Of(r.Get("Bl_Tm")), optional.Of(r.Get("Re_ohm")), optional.Of(r.Get("Rms_kg_s"))
		w.Power = optional.Of(100)
		d.Enclosure.Volume = optional.Of(10)
		d.Targets.LevelAt = optional.Of(300 * r.Get("fs_Hz"))
		s := boxIn(&d, air.Air{SoundSpeed: r.Get("c"), Density: r.Get("rho")})
		reftable.Within(t, r.Name, s.MaxLevel, r.Get("spl_1W1m_half_dB")+20, 1e-3)
		if s.Limit != driver.PowerLimit {
			t.Errorf("%s: limit %v", r.Name, s.Limit)
		}
	}
}

func TestCountsAndCosts(t *testing.T) {
	d := designtest.Closed()
	d.Line.Boxes, d.Woofer.PerBox = 6, 2
	d.Cost = design.Cost{Woofer: optional.Of(100), Mid: optional.Of(20), Horn: optional.Of(150), Crossover: optional.Of(30), Cabinet: optional.Of(200), Insert: optional.Of(10)}
	s := boxIn(&d, tableAir)
	if s.Drivers != 2 || s.Crossovers != 0 || s.Cost != 400 {
		t.Errorf("woofers alone: %+v", s)
	}
	d.Horn.Coverage, d.Mid.PerBox, d.Mid.Size, d.Insert.Mouths = optional.Of(1.5), 4, optional.Of(0.05), 2
	s = boxIn(&d, tableAir)
	// 2·100 + 4·20 + 150 + 2·30 + 200 + 10 = 700.
	if s.Drivers != 7 || s.LineDrivers != 42 || s.Crossovers != 2 || s.Cost != 700 || s.LineCost != 4200 {
		t.Errorf("three bands: %+v", s)
	}
	d.Cost.Crossover = optional.Float{}
	if s = boxIn(&d, tableAir); numeric.Given(s.Cost) {
		t.Errorf("cost %g without the price of a crossover", s.Cost)
	}
}

func BenchmarkSizeBox(b *testing.B) {
	d := designtest.Closed()
	d.Enclosure.Tuning, d.Enclosure.LeakQ = optional.Of(42), optional.Of(7)
	b.Run("new driver", func(b *testing.B) {
		for b.Loop() {
			boxIn(&d, tableAir)
		}
	})
	b.Run("same driver", func(b *testing.B) {
		var z Sizer
		for b.Loop() {
			z.sizeBox(&d, tableAir)
		}
	})
}
