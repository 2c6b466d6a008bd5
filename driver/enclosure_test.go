package driver

import (
	"math"
	"strings"
	"testing"

	"gapline/internal/air"
	"gapline/internal/optional"
	"gapline/internal/reftable"
)

func TestVentLengthAgainstTable(t *testing.T) {
	for _, r := range reftable.Read(t, "port_length") {
		a := air.Air{SoundSpeed: r.Get("c_m_s"), Density: 1.2}
		for column, ends := range map[string][2]VentEnd{ // outer, inner
			"L_flanged_free_m": {}, "L_flanged2_m": {Flanged, Flanged}, "L_free2_m": {Free, Free},
		} {
			e := ventedBox(r.Get("Vb_m3"), r.Get("fb_Hz"), 7)
			e.Vent.Area = optional.Of(r.Get("S_m2"))
			e.Vent.Outer, e.Vent.Inner = ends[0], ends[1]
			got, err := e.Resolve(a)
			if err != nil {
				t.Errorf("%s %s: %v", r.Name, column, err)
				continue
			}
			// The table rounds 0.6133 and 0.8488 to four digits.
			reftable.Within(t, r.Name+" "+column, got.Vent.Length.Value(), r.Get(column), 5e-5*r.Get("d_m"))
		}
	}
}

func TestRectangularVent(t *testing.T) {
	v := Vent{}
	v.Count, v.Width, v.Height, v.Area, v.Length = 1, optional.Of(0.04), optional.Of(0.3), optional.Of(0.012), optional.Of(0.1)
	v.Inner = Flanged
	reftable.Near(t, "both ends flanged", v.EndCorrection(), 2*RectangleEndCorrection(0.04, 0.3), 1e-12)
	// Length from tuning and tuning from length undo each other.
	e := ventedBox(0.1, 60, 7)
	e.Vent = Vent{}
	e.Vent.Width, e.Vent.Height = optional.Of(0.05), optional.Of(0.2)
	first, err := e.Resolve(testAir)
	if err != nil {
		t.Fatal(err)
	}
	e.Tuning, e.Vent.Length = optional.Float{}, first.Vent.Length
	second, err := e.Resolve(testAir)
	if err != nil {
		t.Fatal(err)
	}
	reftable.Near(t, "tuning", second.Tuning.Value(), 60, 1e-12)
}

func TestImpossibleEnclosuresAreRefused(t *testing.T) {
	base := func() Enclosure { e := ventedBox(0.1, 50, 7); e.Vent.Area = optional.Of(0.01); return e }
	for name, c := range map[string]struct {
		change func(*Enclosure)
		want   string
	}{
		"zero volume":       {func(e *Enclosure) { e.Volume = optional.Of(0) }, "volume = 0"},
		"absent volume":     {func(e *Enclosure) { e.Volume = optional.Float{} }, "volume"},
		"negative tuning":   {func(e *Enclosure) { e.Tuning = optional.Of(-5) }, "tuning = -5"},
		"negative leak":     {func(e *Enclosure) { e.LeakQ = optional.Of(-7) }, "leak_q = -7"},
		"vent over panel":   {func(e *Enclosure) { e.PanelArea = optional.Of(0.009) }, "does not fit the panel"},
		"vent too small":    {func(e *Enclosure) { e.Vent.Area, e.Tuning = optional.Of(1e-4), optional.Of(90) }, "too small"},
		"no tuning":         {func(e *Enclosure) { e.Tuning = optional.Float{} }, "needs the tuning"},
		"contradicting":     {func(e *Enclosure) { e.Vent.Length = optional.Of(0.5) }, "tuning = 50 contradicts"},
		"negative length":   {func(e *Enclosure) { e.Vent.Length = optional.Of(-0.1) }, "vent_length = -0.1"},
		"radiator unknown":  {func(e *Enclosure) { e.Kind = PassiveRadiator }, "area and its compliance"},
		"sides contradict":  {func(e *Enclosure) { e.Vent.Width, e.Vent.Height = optional.Of(0.1), optional.Of(0.3) }, "vent_area"},
		"side not positive": {func(e *Enclosure) { e.Vent.Width, e.Vent.Height = optional.Of(0), optional.Of(0.3) }, "both sides"},
		"kind":              {func(e *Enclosure) { e.Kind = 9 }, "unknown kind"},
	} {
		e := base()
		c.change(&e)
		if _, err := e.Resolve(testAir); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: err = %v, want %q in it", name, err, c.want)
		}
	}
}

// The leak of a closed box holds at fc: Ral = QL/(ωc Cab), so at fc the box's
// admittance has the loss angle 1/QL.
func TestClosedBoxLeak(t *testing.T) {
	e := closedBox(0.05)
	e.LeakQ = optional.Of(8)
	c := circuit(t, Setup{Driver: small(t, 40, 0.4, 6, 0.1), Enclosure: e})
	w := 2 * math.Pi * c.Summary().Fc
	s := c.solve(w)
	admittance := -s.driver / s.box
	reftable.Near(t, "loss angle at fc", real(admittance)/imag(admittance), 1.0/8, 1e-9)
}
