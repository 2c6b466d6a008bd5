package driver

import (
	"math"
	"testing"

	"gapline/internal/numeric"
	"gapline/internal/optional"
	"gapline/internal/reftable"
)

// ratedDriver is an invented driver with limits.
func ratedDriver(t testing.TB) Complete {
	d := small(t, 45, 0.35, 6, 0.08)
	d.Xmax, d.Power = optional.Of(0.006), optional.Of(400)
	return d
}

func TestExcursionLimitAgainstTable(t *testing.T) {
	for _, r := range reftable.Read(t, "box_displacement_spl") {
		p := Parameters{}
		p.Fs, p.Qes, p.Qms, p.Vas, p.Sd, p.Re, p.Xmax = optional.Of(45), optional.Of(0.35), optional.Of(6), optional.Of(0.08), optional.Of(r.Get("Sd_m2")), optional.Of(5.5), optional.Of(r.Get("X_peak_m"))
		d, err := p.Derive(tableAir(r))
		if err != nil {
			t.Fatal(err)
		}
		c := circuit(t, Setup{Driver: d, Enclosure: closedBox(0.06)})
		m := c.MaxLevel([]float64{r.Get("f_Hz")})[0]
		reftable.Within(t, r.Name, m.Excursion-numeric.DB(r.Get("r_m")), r.Get("spl_half_dB"), 1e-9)
		reftable.Near(t, r.Name+" Vd", c.SweptVolume(), r.Get("Vd_m3"), closedForm)
		if m.Limit != ExcursionLimit || m.Level != m.Excursion || numeric.Given(m.Power) {
			t.Errorf("%s: %+v, want the excursion alone to limit", r.Name, m)
		}
	}
}

// Small 1972: a closed box that may use its displacement down to its f3 radiates
// k_P·f3⁴·Vd² in half space; the table gives k_P with its own ρ and c.
func TestDisplacementRatingAgainstTable(t *testing.T) {
	for _, r := range reftable.Read(t, "box_kp") {
		if r.Text("type") != "closed" {
			continue
		}
		const qms = 50
		qt := r.Get("par") / 2
		p := Parameters{}
		p.Fs, p.Qes, p.Qms, p.Vas, p.Sd, p.Re, p.Xmax = optional.Of(30), optional.Of(qt*qms/(qms-qt)), optional.Of(qms), optional.Of(0.09), optional.Of(0.05), optional.Of(5), optional.Of(0.005)
		d, err := p.Derive(tableAir(r))
		if err != nil {
			t.Fatal(err)
		}
		c := circuit(t, Setup{Driver: d, Enclosure: closedBox(0.03)})
		// The voltage at which the largest excursion over all frequencies is
		// Xmax; then the flat level of the passband, as power in half space.
		largest := 0.0
		for _, pt := range c.Sweep(nil, Frequencies(0.3, 300, 4000), 1) {
			largest = math.Max(largest, pt.Excursion)
		}
		pressure := c.PassbandPressure(d.Xmax.Value() / largest)
		power := 2 * math.Pi * pressure * pressure / d.Air.Impedance()
		f3 := c.Cutoff(HalfPower)
		reftable.Near(t, r.Name, power/(math.Pow(f3, 4)*math.Pow(c.SweptVolume(), 2)), r.Get("k_P"), 1e-3)
	}
}

// The vented rows of the same table: largest cone excursion in the passband
// f ≥ f3, relative to the static one in free air.
func TestVentedExcursionAgainstTable(t *testing.T) {
	for _, r := range reftable.Read(t, "box_kp") {
		kind := r.Text("type")
		if kind == "closed" {
			continue
		}
		ql, par := r.Get("QL"), r.Get("par")
		q := chebyshev(1)
		switch kind {
		case "C4":
			q = chebyshev(par)
		case "QB3":
			x, err := familyMember(quasiButterworth, butterworthA1, mostA1, par, ql)
			if err != nil {
				t.Fatal(err)
			}
			q = quasiButterworth(x)
		}
		h, qt, alpha, err := q.box(ql)
		if err != nil {
			t.Fatal(err)
		}
		const fs, qms = 40, 9
		d := small(t, fs, qt*qms/(qms-qt), qms, 0.1)
		c := circuit(t, Setup{Driver: d, Enclosure: ventedBox(0.1/alpha, fs*h, ql)})
		static := math.Sqrt2 * d.Bl.Value() / d.Re.Value() * d.Cms.Value()
		f3 := c.Cutoff(HalfPower)
		largest := 0.0
		for _, p := range c.Sweep(nil, Frequencies(f3, 10*f3, 4000), 1) {
			largest = math.Max(largest, p.Excursion/static)
		}
		// The table's excursion is on the polynomial with f3 from the same.
		reftable.Near(t, r.Name+" ("+kind+")", largest, r.Get("xmax"), 1e-5)
	}
}

func TestCrossingBetweenLimits(t *testing.T) {
	c := circuit(t, Setup{Driver: ratedDriver(t), Enclosure: ventedBox(0.06, 50, 7)})
	list := c.Crossings(15, 1000)
	if len(list) == 0 {
		t.Fatal("no crossing")
	}
	for _, x := range list {
		m := c.maxAt(x.Frequency)
		reftable.Within(t, "levels at the crossing", m.Excursion, m.Power, 1e-6)
		below, above := c.maxAt(x.Frequency*0.9999), c.maxAt(x.Frequency*1.0001)
		if below.Limit != x.Below || above.Limit != x.Above {
			t.Errorf("at %g Hz: %v to %v, want %v to %v", x.Frequency, below.Limit, above.Limit, x.Below, x.Above)
		}
	}
	last := list[len(list)-1]
	if last.Above != PowerLimit {
		t.Errorf("above the last crossing the limit is %v, want power", last.Above)
	}
}

func TestMaxLevelOfManyDrivers(t *testing.T) {
	d := ratedDriver(t)
	one := circuit(t, Setup{Driver: d, Enclosure: closedBox(0.05)}).MaxLevel([]float64{40, 200})
	for _, w := range []Wiring{Parallel, Series} {
		two := circuit(t, Setup{Driver: d, Count: 2, Wiring: w, Enclosure: closedBox(0.1)}).MaxLevel([]float64{40, 200})
		for i := range one {
			// Twice the volume displaced, twice the power: 6.02 dB either way.
			reftable.Within(t, "two drivers", two[i].Level-one[i].Level, 20*math.Log10(2), 1e-9)
		}
	}
}

func TestRadiatorLimits(t *testing.T) {
	e := ventedBox(0.05, 40, 10)
	e.Kind = PassiveRadiator
	e.Radiator = Radiator{Sd: optional.Of(0.05), Cms: optional.Of(5e-4), Qms: optional.Of(8), Xmax: optional.Of(0.004)}
	c := circuit(t, Setup{Driver: ratedDriver(t), Enclosure: e})
	m := c.maxAt(38)
	if m.Limit != RadiatorExcursion {
		t.Errorf("limit near the tuning is %v, want the passive radiator", m.Limit)
	}
	reftable.Near(t, "radiator's excursion at the limit", c.At(38, m.Volts).Radiator, 0.004, 1e-12)
	// Each limit by itself: at the voltage that its level asks for, its own part moves
	// as far as it may.
	for _, f := range []float64{20, 38, 90} {
		m, unit := c.maxAt(f), c.At(f, 1)
		reftable.Near(t, "radiator", c.At(f, math.Pow(10, (m.Radiator-unit.Level())/20)).Radiator, 0.004, 1e-9)
		reftable.Near(t, "cone", c.At(f, math.Pow(10, (m.Cone-unit.Level())/20)).Excursion, 0.006, 1e-9)
		reftable.Within(t, "the lower", m.Excursion, math.Min(m.Cone, m.Radiator), 1e-12)
	}
}

func TestNothingLimits(t *testing.T) {
	m := circuit(t, Setup{Driver: small(t, 45, 0.35, 6, 0.08), Enclosure: closedBox(0.05)}).maxAt(100)
	if m.Limit != NoLimit || numeric.Given(m.Level) {
		t.Errorf("without Xmax and power: %+v", m)
	}
}
