package driver

import (
	"math"
	"math/cmplx"
	"strings"
	"testing"

	"gapline/internal/air"
	"gapline/internal/numeric"
	"gapline/internal/optional"
	"gapline/internal/reftable"

	"pgregory.net/rapid"
)

func rowInsert(r reftable.Row) Insert {
	return Insert{Mouths: int(r.Get("n")), Width: r.Get("w_m"), Height: r.Get("h_m"), Depth: r.Get("t_m"),
		Spacing: 1, ChamberVolume: r.Get("V_m3"), Independent: true}
}

func TestChamberAgainstTables(t *testing.T) {
	for _, r := range reftable.Read(t, "cavity_slots") {
		i := rowInsert(r)
		c, err := i.Chamber(air.Air{SoundSpeed: r.Get("c_m_s"), Density: 1.2})
		if err != nil {
			t.Fatal(err)
		}
		reftable.Near(t, r.Name+" length", i.EffectiveLength(), r.Get("l_eff_m"), closedForm)
		reftable.Near(t, r.Name+" corner", c.Corner, r.Get("f_H_Hz"), closedForm)
	}
	for _, r := range reftable.Read(t, "slot_lowpass") {
		c, err := rowInsert(r).Chamber(air.Air{SoundSpeed: r.Get("c_m_s"), Density: r.Get("rho")})
		if err != nil {
			t.Fatal(err)
		}
		for column, got := range map[string]float64{
			"Ma_kg_m4": c.Mass, "Ca_m5_N": c.Compliance, "f0_Hz": c.Corner, "Q0": c.Q, "f_R_Hz": c.Resistive,
		} {
			reftable.Near(t, r.Name+" "+column, got, r.Get(column), closedForm)
		}
	}
	for _, r := range reftable.Read(t, "slot_mass") {
		i := Insert{Mouths: 1, Width: r.Get("w_m"), Height: r.Get("h_m"), Depth: r.Get("t_m"), ChamberVolume: 1}
		c, err := i.Chamber(air.Air{SoundSpeed: 343, Density: r.Get("rho")})
		if err != nil {
			t.Fatal(err)
		}
		reftable.Near(t, r.Name, c.Mass, r.Get("M_ff"), closedForm)
	}
}

// Two mouths side by side add the table's mutual correction outside.
func TestMouthInteractionAgainstTable(t *testing.T) {
	for _, r := range reftable.Read(t, "slot_pair") {
		// The table's slots lie side by side along w; here they stand one above
		// the other along the height, so the sides swap.
		i := Insert{Mouths: 2, Width: r.Get("h_m"), Height: r.Get("w_m"), Spacing: r.Get("D_m")}
		want := 2*r.Get("dl_self_m") + r.Get("dl_mutual_m")
		reftable.Near(t, r.Name, i.EffectiveLength(), want, closedForm)
	}
}

// The exact network must follow the lumped low-pass of the table where the
// slots are small against the wavelength, kh < 0.5, to 2 % of the rise.
func TestTransferAgainstLumpedTable(t *testing.T) {
	checked := 0
	for _, r := range reftable.Read(t, "slot_lowpass") {
		a := air.Air{SoundSpeed: r.Get("c_m_s"), Density: r.Get("rho")}
		f := r.Get("f_Hz")
		if 2*math.Pi*f/a.SoundSpeed*r.Get("h_m") > 0.5 {
			continue
		}
		checked++
		d := small(t, 45, 0.35, 6, 0.08)
		d.Air = a
		i := rowInsert(r)
		c := circuit(t, Setup{Driver: d, Enclosure: closedBox(0.05), Insert: &i})
		got := numeric.DB(cmplx.Abs(c.front.at(2 * math.Pi * f).transfer))
		reftable.Near(t, r.Name, got, r.Get("H_dB"), 0.02)
	}
	if checked < 2 {
		t.Errorf("only %d rows are small against the wavelength", checked)
	}
}

// An invented insert: two wide mouths before a cone of 252 mm.
func testInsert() *Insert {
	return &Insert{Mouths: 2, Width: 0.22, Height: 0.04, Spacing: 0.13, Depth: 0.018, ChamberVolume: 0.0015}
}

// With a mouth of the cone's area, no depth and a chamber without volume, the
// insert is only the inner end correction more than the open cone.
func TestOpenInsertIsNearlyNothing(t *testing.T) {
	d := small(t, 45, 0.35, 6, 0.08)
	side := math.Sqrt(d.Sd.Value())
	open := &Insert{Mouths: 1, Width: side, Height: side, ChamberVolume: 1e-9}
	c := circuit(t, Setup{Driver: d, Enclosure: closedBox(0.05), Insert: open, Loading: FullRadiation})
	square := Rectangle{Width: side, Height: side}
	load := c.front.at(2 * math.Pi * 100)
	k := 2 * math.Pi * 100 / testAir.SoundSpeed
	scale := complex(testAir.Impedance()/d.Sd.Value(), 0)
	want := scale * (square.Impedance(k) + complex(0, k*(square.EndCorrection()-PistonOfArea(d.Sd.Value()).EndCorrection())))
	if cmplx.Abs(load.impedance-want) > 1e-5*cmplx.Abs(want) || cmplx.Abs(load.transfer-1) > 1e-5 {
		t.Errorf("load %v, want %v; transfer %v", load.impedance, want, load.transfer)
	}
}

func TestInsertEffect(t *testing.T) {
	d := ratedDriver(t)
	c := circuit(t, Setup{Driver: d, Enclosure: closedBox(0.05), Insert: testInsert()})
	e, err := c.InsertEffect()
	if err != nil {
		t.Fatal(err)
	}
	// Adding the mass to the driver and taking the insert away must give the
	// same low-frequency response, to the order of (f/corner)².
	heavy := Parameters{}
	heavy.Sd, heavy.Re, heavy.Bl, heavy.Cms, heavy.Rms = d.Sd, d.Re, d.Bl, d.Cms, d.Rms
	heavy.Mms = optional.Of(d.Mms.Value() + e.AddedMass)
	loaded, err := heavy.Derive(testAir)
	if err != nil {
		t.Fatal(err)
	}
	reftable.Near(t, "fs with the mass", e.Resonance, loaded.Fs.Value(), 1e-12)
	bare := circuit(t, Setup{Driver: loaded, Enclosure: closedBox(0.05)})
	f := e.Chamber.Corner / 25
	reftable.Within(t, "level far below the corner", c.At(f, 1).Level(), bare.At(f, 1).Level(), 0.03)
	reftable.Within(t, "sensitivity change", e.Sensitivity, Level(bare.PassbandPressure(1))-Level(c.PassbandPressure(1)), 1e-9)
	reftable.Near(t, "area ratio", e.AreaRatio, 0.05/(2*0.22*0.04), 1e-12)
	// At the displacement limit the mouth moves the cone's volume velocity
	// times the transfer.
	transfer := cmplx.Abs(c.front.at(2 * math.Pi * e.LimitAt).transfer)
	reftable.Near(t, "mouth speed", e.LimitSpeed, 2*math.Pi*e.LimitAt*d.Xmax.Value()*e.AreaRatio*transfer, 1e-9)
}

// For mouths that are small against the wavelength the peak is that of a
// resonance with quality factor Q: 20 log₁₀ Q at the corner.
func TestPeakOfSmallMouths(t *testing.T) {
	i := &Insert{Mouths: 1, Width: 0.05, Height: 0.04, Depth: 0.02, ChamberVolume: 0.02}
	c := circuit(t, Setup{Driver: small(t, 45, 0.35, 6, 0.08), Enclosure: closedBox(0.05), Insert: i})
	e, err := c.InsertEffect()
	if err != nil {
		t.Fatal(err)
	}
	reftable.Near(t, "frequency", e.PeakFrequency, e.Chamber.Corner, 2e-3)
	reftable.Within(t, "height", e.Peak, numeric.DB(e.Chamber.Q), 0.1)
}

// Far above the corner the output falls 12 dB per octave against the open cone
// as long as the mouths are small: mass against compliance.
func TestInsertFallsTwelveDecibelsPerOctave(t *testing.T) {
	i := &Insert{Mouths: 1, Width: 0.01, Height: 0.01, Depth: 0.05, ChamberVolume: 0.01}
	c := circuit(t, Setup{Driver: small(t, 45, 0.35, 6, 0.08), Enclosure: closedBox(0.05), Insert: i})
	at := func(f float64) float64 { return numeric.DB(cmplx.Abs(c.front.at(2 * math.Pi * f).transfer)) }
	reftable.Within(t, "slope per octave", at(1000)-at(500), -40*math.Log10(2), 0.05)
}

func TestPowerIsConservedWithInsert(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := genComplete(t)
		draw := func(name string, lo, hi float64) float64 { return rapid.Float64Range(lo, hi).Draw(t, name) }
		i := &Insert{Mouths: rapid.IntRange(1, 3).Draw(t, "mouths"), Width: draw("w", 0.05, 0.3), Height: draw("h", 0.01, 0.05),
			Depth: draw("depth", 0, 0.03), ChamberVolume: draw("v", 2e-4, 5e-3)}
		i.Spacing = i.Height * draw("spacing", 1, 4)
		c, err := NewCircuit(Setup{Driver: d, Enclosure: genEnclosure(t, d), Insert: i})
		if err != nil {
			t.Fatal(err)
		}
		f := draw("f", 20, 1500)
		b := c.Power(f, 10)
		if math.Abs(b.Sum()-b.Electrical) > 1e-11*b.Electrical {
			t.Fatalf("in %g W, out %g W", b.Electrical, b.Sum())
		}
		// All front power leaves through the mouths.
		s := c.solve(2 * math.Pi * f)
		mouths := real(s.load.mouth) * math.Pow(10*cmplx.Abs(s.front), 2)
		if math.Abs(mouths-b.Front) > 1e-8*b.Front {
			t.Fatalf("front %g W, mouths %g W", b.Front, mouths)
		}
	})
}

func TestPathSpread(t *testing.T) {
	d := small(t, 45, 0.35, 6, 0.08)
	radius := math.Sqrt(d.Sd.Value() / math.Pi)
	c := circuit(t, Setup{Driver: d, Enclosure: closedBox(0.05), Insert: testInsert()})
	e, err := c.InsertEffect()
	if err != nil {
		t.Fatal(err)
	}
	p := e.Path
	// The centre lies d/2 − h/2 from both mouths; the top of the edge beyond
	// the upper mouth; a part of the cone under a mouth has no way at all.
	reftable.Near(t, "centre", p.Centre, 0.065-0.02, 1e-12)
	if !(p.Edge < p.Centre) || p.Spread < p.Centre-1e-12 {
		t.Errorf("edge %g, spread %g, centre %g", p.Edge, p.Spread, p.Centre)
	}
	reftable.Near(t, "quarter wave", p.Fraction(p.Quarter, testAir.SoundSpeed), 0.25, 1e-12)
	// Longest way: from the edge at the side, level with the centre, which lies
	// beyond the ends of both mouths.
	reftable.Near(t, "spread", p.Spread, math.Hypot(radius-0.11, p.Centre), 1e-9)
}

// The rows of PathSpread against a fine grid over the whole cones.
func TestPathSpreadAgainstGrid(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		i := Insert{Mouths: rapid.IntRange(1, 4).Draw(t, "mouths"), Width: rapid.Float64Range(0.01, 0.3).Draw(t, "width"),
			Height: rapid.Float64Range(0.01, 0.05).Draw(t, "height"), Spacing: rapid.Float64Range(0.05, 0.15).Draw(t, "spacing")}
		radius := rapid.Float64Range(0.04, 0.15).Draw(t, "radius")
		cones := ConePositions(rapid.IntRange(1, 2).Draw(t, "rows"), rapid.IntRange(1, 2).Draw(t, "columns"), 2*radius, 2*radius)
		shortest, longest := math.Inf(1), 0.0
		const steps = 120
		for _, at := range cones {
			for a := range steps + 1 {
				for b := range 2 * steps {
					sin, cos := math.Sincos(math.Pi * float64(b) / steps)
					r := radius * float64(a) / steps
					d := i.path(at.X+r*cos, at.Y+r*sin)
					shortest, longest = math.Min(shortest, d), math.Max(longest, d)
				}
			}
		}
		// Ways change no faster than places do, and either grid is within
		// 2 % of the radius of any place.
		if got := i.PathSpread(cones, radius, 343).Spread; math.Abs(got-(longest-shortest)) > 0.04*radius {
			t.Fatalf("spread %g, grid %g", got, longest-shortest)
		}
	})
}

func TestCompareInsert(t *testing.T) {
	c := circuit(t, Setup{Driver: ratedDriver(t), Enclosure: closedBox(0.05), Insert: testInsert()})
	list, err := c.CompareInsert([]float64{50, 5000}, 2.83)
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(list[0].Change) > 1.5 || list[1].Change > -12 {
		t.Errorf("changes %+v: want little at 50 Hz and a loss at 5 kHz", list)
	}
	bare, _ := c.Without()
	if _, err := bare.CompareInsert([]float64{50}, 1); err == nil {
		t.Error("comparison without an insert accepted")
	}
	if _, err := bare.InsertEffect(); err == nil {
		t.Error("effect without an insert accepted")
	}
}

// The largest change, refined, against the difference at 4000 frequencies an
// octave; a sampled list of 48 an octave misses it.
func TestLargestChangeAgainstDenseList(t *testing.T) {
	c := circuit(t, Setup{Driver: ratedDriver(t), Enclosure: closedBox(0.05), Insert: testInsert(), Loading: FullRadiation})
	e, err := c.InsertEffect()
	if err != nil {
		t.Fatal(err)
	}
	corner := e.Chamber.Corner
	got, err := c.LargestChange(corner, 2.83)
	if err != nil {
		t.Fatal(err)
	}
	list, err := c.CompareInsert(Frequencies(corner/2, 2*corner, 8001), 2.83)
	if err != nil {
		t.Fatal(err)
	}
	most := list[0]
	for _, d := range list {
		if d.Change > most.Change {
			most = d
		}
	}
	reftable.Near(t, "frequency", got.Frequency, most.Frequency, 2e-4) // a step of the list
	reftable.Within(t, "change", got.Change, most.Change, 1e-5)
	if got.Change < most.Change {
		t.Errorf("%.9f dB, the list has %.9f dB", got.Change, most.Change)
	}
	bare, _ := c.Without()
	if _, err := bare.LargestChange(corner, 1); err == nil {
		t.Error("change without an insert accepted")
	}
}

func TestImpossibleInsertsAreRefused(t *testing.T) {
	for want, change := range map[string]func(*Insert){
		"mouths = 0":         func(i *Insert) { i.Mouths = 0 },
		"mouth_width = 0":    func(i *Insert) { i.Width = 0 },
		"chamber_volume":     func(i *Insert) { i.ChamberVolume = numeric.Absent },
		"slot_depth = -0.01": func(i *Insert) { i.Depth = -0.01 },
		"overlap":            func(i *Insert) { i.Spacing = 0.03 },
	} {
		i := testInsert()
		change(i)
		_, err := NewCircuit(Setup{Driver: small(t, 45, 0.35, 6, 0.08), Enclosure: closedBox(0.05), Insert: i})
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("err = %v, want %q in it", err, want)
		}
	}
}
