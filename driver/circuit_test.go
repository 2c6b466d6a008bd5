package driver

import (
	"math"
	"math/cmplx"
	"testing"

	"gapline/internal/air"
	"gapline/internal/numeric"
	"gapline/internal/optional"
	"gapline/internal/reftable"
	"gapline/internal/special"
	"gapline/internal/wordset"

	"pgregory.net/rapid"
)

var testAir = air.Air{SoundSpeed: 343, Density: 1.2}

// small builds a driver from its Thiele-Small parameters.
func small(t testing.TB, fs, qes, qms, vas float64) Complete {
	t.Helper()
	p := Parameters{}
	p.Fs, p.Qes, p.Qms, p.Vas, p.Sd, p.Re = optional.Of(fs), optional.Of(qes), optional.Of(qms), optional.Of(vas), optional.Of(0.05), optional.Of(5.5)
	c, err := p.Derive(testAir)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func circuit(t testing.TB, s Setup) *Circuit {
	t.Helper()
	c, err := NewCircuit(s)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func closedBox(volume float64) Enclosure {
	e := Enclosure{Kind: Closed}
	e.Volume = optional.Of(volume)
	return e
}

func ventedBox(volume, tuning, leakQ float64) Enclosure {
	e := closedBox(volume)
	e.Kind, e.Tuning, e.LeakQ = Vented, optional.Of(tuning), optional.Of(leakQ)
	return e
}

// rowEnclosure reads the box of a reference row; "inf" is +Inf.
func rowEnclosure(r reftable.Row) Enclosure {
	if r.Text("type") == "closed" {
		return closedBox(r.Get("Vb_m3"))
	}
	return ventedBox(r.Get("Vb_m3"), r.Get("fb_Hz"), r.Get("QL"))
}

func TestResponseAgainstTable(t *testing.T) {
	for _, r := range reftable.Read(t, "box_response") {
		d := small(t, r.Get("fs_Hz"), r.Get("Qes"), r.Get("Qms"), r.Get("Vas_m3"))
		c := circuit(t, Setup{Driver: d, Enclosure: rowEnclosure(r)})
		f := r.Get("f_Hz")
		const volts = 2.83
		p := c.At(f, volts)
		static := math.Sqrt2 * d.Bl.Value() * volts / d.Re.Value() * d.Cms.Value()
		reftable.Within(t, r.Name+" level", p.Level()-Level(c.PassbandPressure(volts)), r.Get("G_dB"), 1e-9)
		reftable.Within(t, r.Name+" phase", math.Remainder(p.Phase()*180/math.Pi-r.Get("phase_deg"), 360), 0, 1e-9)
		reftable.Near(t, r.Name+" excursion", p.Excursion/static, r.Get("X_rel"), closedForm)
		reftable.Near(t, r.Name+" |Z|", cmplx.Abs(p.Impedance)/d.Re.Value(), r.Get("absZ_over_Re"), closedForm)
		reftable.Within(t, r.Name+" arg Z", cmplx.Phase(p.Impedance)*180/math.Pi, r.Get("phaseZ_deg"), 1e-8)
		reftable.Near(t, r.Name+" group delay", 1000*c.GroupDelay(f), r.Get("group_delay_ms"), 1e-7)
	}
}

// The circuit must reproduce the alignment tables: with QT, h and α of a row
// its half-power frequency and its peak are those of the row.
func TestCircuitReproducesVentedAlignments(t *testing.T) {
	for _, r := range reftable.Read(t, "box_vented_alignment") {
		const fs, qms = 40, 8
		qt := r.Get("QT")
		d := small(t, fs, qt*qms/(qms-qt), qms, 0.1)
		s := circuit(t, Setup{Driver: d, Enclosure: ventedBox(0.1/r.Get("alpha"), fs*r.Get("h"), r.Get("QL"))}).Summary()
		reftable.Near(t, r.Name+" f3/fs", s.F3/fs, r.Get("f3_over_fs"), closedForm)
		reftable.Within(t, r.Name+" peak", s.Peak, r.Get("peak_dB"), 1e-8)
		if name := r.Text("type"); name != "SC4" && s.Alignment.Name != name {
			t.Errorf("%s: named %q, want %q", r.Name, s.Alignment.Name, name)
		}
	}
}

// And the design equations must find the row's box from QT and QL.
func TestVentedAlignmentAgainstTable(t *testing.T) {
	for _, r := range reftable.Read(t, "box_vented_alignment") {
		if r.Text("type") == "SC4" {
			continue
		}
		a, err := VentedAlignment(r.Get("QT"), r.Get("QL"))
		if err != nil {
			t.Errorf("%s: %v", r.Name, err)
			continue
		}
		if a.Name != r.Text("type") {
			t.Errorf("%s: %s, want %s", r.Name, a.Name, r.Text("type"))
		}
		// QT has 12 digits, and the box follows it with a slope of about ten.
		const tol = 1e-8
		reftable.Near(t, r.Name+" h", a.H, r.Get("h"), tol)
		reftable.Near(t, r.Name+" alpha", a.Alpha, r.Get("alpha"), tol)
		reftable.Near(t, r.Name+" f3", a.F3, r.Get("f3_over_fs"), tol)
		reftable.Within(t, r.Name+" ripple", a.Ripple, r.Get("peak_dB"), 1e-7)
		if numeric.Given(a.K) && a.Name == "C4" {
			reftable.Near(t, r.Name+" k", a.K, r.Get("k"), 1e-8)
		}
	}
}

// Thiele's printed table 1 (1961, 1971), alignments 1 to 8: QT, Cas/Cab and
// f3/fs; values from memory. His slide-rule digits are good to about 0.7 %.
func TestThielesPrintedTable(t *testing.T) {
	for _, row := range []struct{ qt, alpha, f3 float64 }{
		{0.180, 10.48, 2.68}, {0.209, 7.48, 2.28}, {0.259, 4.46, 1.77}, {0.303, 2.95, 1.45},
		{0.383, 1.414, 1.000}, {0.415, 1.055, 0.867}, {0.466, 0.729, 0.729}, {0.518, 0.559, 0.641},
	} {
		a, err := VentedAlignment(row.qt, math.Inf(1))
		if err != nil {
			t.Fatal(err)
		}
		reftable.Near(t, "alpha", a.Alpha, row.alpha, 0.01)
		reftable.Near(t, "f3/fs", a.F3, row.f3, 0.005)
	}
}

func TestClosedAlignmentAgainstTables(t *testing.T) {
	for _, r := range reftable.Read(t, "box_closed_alignment") {
		const fs, qms, vas = 30, 50, 0.1
		qtc := r.Get("Qtc")
		qt := qtc / 2 // α = 3
		d := small(t, fs, qt*qms/(qms-qt), qms, vas)
		c := circuit(t, Setup{Driver: d, Enclosure: closedBox(vas / 3)})
		s := c.Summary()
		reftable.Near(t, r.Name+" Qtc", s.Qtc, qtc, closedForm)
		reftable.Near(t, r.Name+" f3/fc", s.F3/s.Fc, r.Get("f3_over_fc"), closedForm)
		reftable.Within(t, r.Name+" peak", s.Peak, r.Get("peak_dB"), 1e-8)
		if numeric.Given(r.Get("fpeak_over_fc")) {
			// A flat maximum is found to the root of the precision of the level.
			reftable.Near(t, r.Name+" fpeak", s.PeakFrequency/s.Fc, r.Get("fpeak_over_fc"), 1e-4)
		}
		reftable.Within(t, r.Name+" level at fc", c.relative(s.Fc), r.Get("level_fc_dB"), 1e-9)
	}
	for _, r := range reftable.Read(t, "box_closed_design") {
		qt, qms := r.Get("Qts"), 9.0
		d := small(t, r.Get("fs_Hz"), qt*qms/(qms-qt), qms, r.Get("Vas_m3"))
		s := circuit(t, Setup{Driver: d, Enclosure: closedBox(r.Get("Vb_m3"))}).Summary()
		reftable.Near(t, r.Name+" fc", s.Fc, r.Get("fc_Hz"), closedForm)
		reftable.Near(t, r.Name+" Qtc", s.Qtc, r.Get("Qtc"), closedForm)
		reftable.Near(t, r.Name+" f3", s.F3, r.Get("f3_Hz"), closedForm)
		reftable.Within(t, r.Name+" peak", s.Peak, r.Get("peak_dB"), 1e-8)
	}
}

// Small 1972: the closed box is s²/(s² + s ωc/Qtc + ωc²).
func TestClosedBoxAgainstPolynomial(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := genComplete(t)
		c, err := NewCircuit(Setup{Driver: d, Enclosure: closedBox(d.Vas.Value() * rapid.Float64Range(0.05, 3).Draw(t, "vb/vas"))})
		if err != nil {
			t.Fatal(err)
		}
		s := c.Summary()
		x := rapid.Float64Range(0.1, 20).Draw(t, "f/fc")
		want := -10 * math.Log10(math.Pow(1-1/(x*x), 2)+1/math.Pow(x*s.Qtc, 2))
		if got := c.relative(x * s.Fc); math.Abs(got-want) > 1e-9 {
			t.Fatalf("level at %g fc = %.12g dB, want %.12g", x, got, want)
		}
	})
}

func genEnclosure(t *rapid.T, d Complete) Enclosure {
	draw := func(name string, lo, hi float64) float64 { return rapid.Float64Range(lo, hi).Draw(t, name) }
	e := closedBox(d.Vas.Value() * draw("vb/vas", 0.1, 2))
	e.LeakQ, e.AbsorptionQ = optional.Of(draw("ql", 3, 30)), optional.Of(draw("qa", 5, 100))
	e.Kind = rapid.SampledFrom(wordset.All[EnclosureKind]()).Draw(t, "kind")
	e.Tuning = optional.Of(d.Fs.Value() * draw("h", 0.6, 1.6))
	switch e.Kind {
	case Vented:
		e.VentQ = optional.Of(draw("qp", 5, 100))
		e.Vent.Distance = optional.Of(draw("distance", 0.1, 0.5))
	case PassiveRadiator:
		e.Radiator.Count = rapid.IntRange(1, 2).Draw(t, "radiators")
		e.Radiator.Sd, e.Radiator.Cms, e.Radiator.Qms = optional.Of(d.Sd.Value()*draw("sp/sd", 0.5, 2)), optional.Of(d.Cms.Value()*draw("cp", 0.5, 3)), optional.Of(draw("qmp", 3, 20))
	}
	return e
}

// Conservation: what the amplifier gives is radiated or lost, for any box,
// wiring and front.
func TestPowerIsConserved(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := genComplete(t)
		d.Le, d.LeExponent = optional.Of(1e-3), optional.Of(rapid.Float64Range(0.5, 1).Draw(t, "exponent"))
		s := Setup{Driver: d, Count: rapid.IntRange(1, 3).Draw(t, "count"), Loading: Loading(rapid.IntRange(0, 1).Draw(t, "loading")),
			Wiring: rapid.SampledFrom(wordset.All[Wiring]()).Draw(t, "wiring"), Enclosure: genEnclosure(t, d)}
		c, err := NewCircuit(s)
		if err != nil {
			t.Fatal(err)
		}
		b := c.Power(d.Fs.Value()*math.Exp2(rapid.Float64Range(-2, 4).Draw(t, "octaves")), 2.83)
		if math.Abs(b.Sum()-b.Electrical) > 1e-11*b.Electrical {
			t.Fatalf("in %.15g W, out %.15g W: %+v", b.Electrical, b.Sum(), b)
		}
	})
}

// Two routes to the radiated power of a closed box: the load on the cone, and
// the intensity of the far field over the half sphere, a piston's directivity
// being 2J₁(x)/x with x = ka·sin θ (Kinsler et al., sec. 7.4). Exact at any
// frequency.
func TestRadiatedPowerFromFarField(t *testing.T) {
	d := small(t, 45, 0.35, 6, 0.08)
	c := circuit(t, Setup{Driver: d, Enclosure: closedBox(0.05), Loading: FullRadiation})
	for _, f := range Frequencies(20, 3000, 23) {
		p := cmplx.Abs(c.At(f, 10).Pressure)
		ka := 2 * math.Pi * f / testAir.SoundSpeed * PistonOfArea(d.Sd.Value()).Radius
		solid := numeric.Integrate(func(theta float64) float64 {
			d := special.Jinc(ka * math.Sin(theta))
			return 2 * math.Pi * d * d * math.Sin(theta)
		}, 0, math.Pi/2, 40, 4)
		want := solid * p * p / testAir.Impedance()
		reftable.Near(t, "radiated power", c.Power(f, 10).Front, want, 1e-10)
	}
}

// Two drivers in twice the volume are twice one driver: 6 dB more pressure in
// parallel at the same voltage, the same in series, and impedances of half and
// double.
func TestTwoDriversPerBox(t *testing.T) {
	d := small(t, 45, 0.35, 6, 0.08)
	one := circuit(t, Setup{Driver: d, Enclosure: ventedBox(0.06, 50, 7)}).At(70, 2)
	parallel := circuit(t, Setup{Driver: d, Count: 2, Enclosure: ventedBox(0.12, 50, 7)}).At(70, 2)
	series := circuit(t, Setup{Driver: d, Count: 2, Wiring: Series, Enclosure: ventedBox(0.12, 50, 7)}).At(70, 2)
	reftable.Near(t, "parallel |p|", cmplx.Abs(parallel.Pressure), 2*cmplx.Abs(one.Pressure), 1e-12)
	reftable.Near(t, "series |p|", cmplx.Abs(series.Pressure), cmplx.Abs(one.Pressure), 1e-12)
	reftable.Near(t, "parallel |Z|", cmplx.Abs(parallel.Impedance), cmplx.Abs(one.Impedance)/2, 1e-12)
	reftable.Near(t, "series |Z|", cmplx.Abs(series.Impedance), 2*cmplx.Abs(one.Impedance), 1e-12)
	reftable.Near(t, "series excursion", series.Excursion, one.Excursion/2, 1e-12)
	reftable.Near(t, "parallel excursion", parallel.Excursion, one.Excursion, 1e-12)
}

// A passive radiator with an endless compliance is a vent of the same mass.
func TestPassiveRadiatorTendsToVent(t *testing.T) {
	d := small(t, 40, 0.4, 6, 0.1)
	vented := circuit(t, Setup{Driver: d, Enclosure: ventedBox(0.08, 42, 10)})
	e := ventedBox(0.08, 42, 10)
	e.Kind = PassiveRadiator
	e.Radiator = Radiator{Count: 2, Sd: optional.Of(0.06), Cms: optional.Of(1e6)}
	passive := circuit(t, Setup{Driver: d, Enclosure: e})
	for _, f := range []float64{20, 42, 80} {
		reftable.Near(t, "pressure", cmplx.Abs(passive.At(f, 1).Pressure), cmplx.Abs(vented.At(f, 1).Pressure), 1e-7)
	}
	// With compliance, the response has its notch where the radiator resonates
	// alone, fp = 1/(2π√(Mmp Cmp)) (Small 1974).
	e.Radiator.Cms = optional.Of(5e-4)
	passive = circuit(t, Setup{Driver: d, Enclosure: e})
	r := passive.Enclosure().Radiator
	notch := 1 / (2 * math.Pi * math.Sqrt(r.Mms.Value()*r.Cms.Value()))
	e.LeakQ = optional.Float{}
	lossless := circuit(t, Setup{Driver: d, Enclosure: e})
	if got := lossless.relative(notch); got > -200 {
		t.Errorf("level at the notch = %g dB, want none", got)
	}
	// At the tuning the lossless box stops the cone.
	if at, off := lossless.At(42, 1).Excursion, lossless.At(60, 1).Excursion; at > 1e-9*off {
		t.Errorf("excursion at fb = %g m", at)
	}
}

func TestIncompleteSetupsAreRefused(t *testing.T) {
	d := small(t, 40, 0.4, 6, 0.1)
	for name, s := range map[string]Setup{
		"no driver":        {Enclosure: closedBox(0.05)},
		"negative count":   {Driver: d, Count: -1, Enclosure: closedBox(0.05)},
		"zero volume":      {Driver: d, Enclosure: closedBox(0)},
		"drivers too near": {Driver: d, Count: 2, Spacing: 0.1, Enclosure: closedBox(0.05), Loading: FullRadiation},
	} {
		if _, err := NewCircuit(s); err == nil {
			t.Errorf("%s accepted", name)
		}
	}
}

func TestEvaluationDoesNotAllocate(t *testing.T) {
	d := small(t, 45, 0.35, 6, 0.08)
	c := circuit(t, Setup{Driver: d, Count: 2, Enclosure: ventedBox(0.1, 50, 7), Loading: FullRadiation})
	if n := testing.AllocsPerRun(10, func() { c.At(100, 1) }); n != 0 {
		t.Errorf("At allocates %g times", n)
	}
}

func TestSuggestedBoxGivesItsAlignment(t *testing.T) {
	d := small(t, 40, 0.36, 7, 0.12)
	list, err := Suggest(d, 2, 7)
	if err != nil || len(list) != 2 {
		t.Fatalf("suggestions %v, err %v", list, err)
	}
	for _, s := range list {
		e := closedBox(s.Volume)
		e.Kind, e.Tuning = s.Kind, optional.Of(s.Tuning)
		if s.Kind == Vented {
			e.LeakQ = optional.Of(7)
		}
		c := circuit(t, Setup{Driver: d, Count: 2, Enclosure: e})
		got := c.Summary()
		if got.Alignment.Name != s.Alignment.Name {
			t.Errorf("%s: built box is named %q", s.Alignment.Name, got.Alignment.Name)
		}
		reftable.Near(t, s.Alignment.Name+" f3", got.F3, s.F3, 1e-7)
	}
	if _, err := Suggest(small(t, 40, 5, 7, 0.12), 1, 7); err == nil {
		t.Error("a driver of Qts 2.9 got a suggestion")
	}
}

func BenchmarkSweep(b *testing.B) {
	d := small(b, 45, 0.35, 6, 0.08)
	c := circuit(b, Setup{Driver: d, Enclosure: ventedBox(0.1, 50, 7), Loading: FullRadiation})
	f := Frequencies(20, 2000, 200)
	dst := make([]Point, len(f))
	b.ReportAllocs()
	for b.Loop() {
		c.Sweep(dst, f, 2.83)
	}
}

// Small 1972: above Q = 1/√2 a closed box peaks by Q²/√(Q² − ¼) at
// fc/√(1 − 1/(2Q²)), which lies far out where the peak is shallow: 4.6e-5 dB at
// 11 fc for Q = 0.71.
func TestShallowPeakOfClosedBox(t *testing.T) {
	const fs, qms, vas, alpha = 30, 50, 0.1, 3.0
	for _, q := range []float64{0.7072, 0.7075, 0.708, 0.71, 0.711, 0.712, 0.715, 0.72, 0.75} {
		qt := q / math.Sqrt(1+alpha)
		s := circuit(t, Setup{Driver: small(t, fs, qt*qms/(qms-qt), qms, vas), Enclosure: closedBox(vas / alpha)}).Summary()
		want := numeric.DB(q * q / math.Sqrt(q*q-0.25))
		reftable.Within(t, "peak", s.Peak, want, 1e-11)
		// A maximum is found where the level differs by more than its rounding,
		// a few 1e-15 dB: the flatter the peak, the wider that is.
		reftable.Near(t, "frequency of the peak", s.PeakFrequency/s.Fc, 1/math.Sqrt(1-1/(2*q*q)), math.Sqrt(1e-13/want))
	}
	// At or below 1/√2 there is none.
	for _, q := range []float64{0.7, 0.7071} {
		qt := q / math.Sqrt(1+alpha)
		s := circuit(t, Setup{Driver: small(t, fs, qt*qms/(qms-qt), qms, vas), Enclosure: closedBox(vas / alpha)}).Summary()
		if s.Peak != 0 || numeric.Given(s.PeakFrequency) {
			t.Errorf("Q = %g: a peak of %g dB at %g Hz", q, s.Peak, s.PeakFrequency)
		}
	}
}
