package maximum

import (
	"context"
	"math"
	"math/cmplx"
	"testing"

	"gapline/cabinet/design"
	"gapline/cabinet/field"
	"gapline/cabinet/source"
	"gapline/internal/air"
	"gapline/internal/numeric"
	"gapline/internal/optional"
	"gapline/internal/programme"
	"gapline/internal/reftable"
	"gapline/waveguide"
)

var ctx = context.Background()

// The invented closed box of these tests: 8-inch driver, 20 L, no losses.
const (
	fs, qes, qms, vas, re, sd = 48.0, 0.42, 6.0, 0.045, 5.8, 0.022
	xmax, rated, volume       = 0.006, 180.0, 0.020
)

func closedBox() design.Design {
	d := design.New()
	d.Cabinet.Height, d.Cabinet.Width, d.Cabinet.Depth = optional.Of(0.3), optional.Of(0.5), optional.Of(0.4)
	d.Line.Boxes = 1
	w := &d.Woofer
	w.Size, w.Fs, w.Qes, w.Qms, w.Vas, w.Re, w.Sd = optional.Of(0.2), optional.Of(fs), optional.Of(qes), optional.Of(qms), optional.Of(vas), optional.Of(re), optional.Of(sd)
	w.Xmax, w.Power = optional.Of(xmax), optional.Of(rated)
	d.Enclosure.Volume = optional.Of(volume)
	d.Bands.Woofer.Offset, d.Bands.Horn.Offset = optional.Of(0), optional.Of(0)
	return d
}

func mustNew(t *testing.T, d *design.Design) *Box {
	t.Helper()
	o, problems, err := New(ctx, d, source.Choice{})
	if err != nil || problems != nil {
		t.Fatal(err, problems)
	}
	return o
}

func mustPlay(t *testing.T, o *Box, s *programme.Spectrum, crest programme.Crest) *Programme {
	t.Helper()
	p, err := o.Programme(ctx, Signal{s, crest})
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// closed is the closed box as a second-order system (Small 1972, 1973), worked out from
// its resonance and Q, not from a circuit: pressure at 1 m in half space and peak travel
// for one volt.
func closed(f float64, a air.Air) (pressure, travel float64) {
	alpha := vas / volume
	fc, qtc := fs*math.Sqrt(1+alpha), 1/(1/qes+1/qms)*math.Sqrt(1+alpha)
	s := complex(0, f/fc)
	h := 1 / (s*s + s/complex(qtc, 0) + 1) // of the travel
	// Static travel of a volt: force Bl/Re over the stiffness of suspension and air.
	cms := vas / (a.Density * a.SoundSpeed * a.SoundSpeed * sd * sd)
	mms := 1 / (cms * math.Pow(2*math.Pi*fs, 2))
	bl := math.Sqrt(2 * math.Pi * fs * mms * re / qes)
	x := cmplx.Abs(h) * bl / re * cms / (1 + alpha)
	w := 2 * math.Pi * f
	return a.Density * w * w * sd * x / (2 * math.Pi), math.Sqrt2 * x
}

// The largest level of a closed box against closed forms of travel and heat.
func TestClosedBoxAgainstClosedForms(t *testing.T) {
	d := closedBox()
	o := mustNew(t, &d)
	hz := []float64{25, 40, 63, 100, 160, 400, 1000}
	l, err := o.Levels(ctx, hz)
	if err != nil {
		t.Fatal(err)
	}
	seen := map[Cause]bool{}
	for k, f := range hz {
		pressure, travel := closed(f, o.air)
		byTravel, byHeat := xmax/travel, math.Sqrt(rated*re)
		want, cause := byTravel, Excursion
		if byHeat < byTravel {
			want, cause = byHeat, Power
		}
		seen[cause] = true
		// The same model from two ends: only rounding parts them.
		reftable.Within(t, "sum", l.Sum[k], 20*math.Log10(pressure*want/20e-6), 1e-6)
		// One of them went through the far-field kernel, which is good to 2e-8 of the sum, 1.7e-7 dB.
		reftable.Within(t, "alone", l.Bands[0].Level[k], l.Sum[k], 2e-7)
		reftable.Within(t, "by travel", l.Bands[0].By[Excursion][k], 20*math.Log10(pressure*byTravel/20e-6), 1e-6)
		reftable.Within(t, "by heat", l.Bands[0].By[Power][k], 20*math.Log10(pressure*byHeat/20e-6), 1e-6)
		reftable.Near(t, "raise", l.Scale[k], want/design.DefaultVoltage, 1e-9)
		if l.Limit[k] != (Limit{0, cause}) {
			t.Errorf("%g Hz: stopped by %v, want %v", f, l.Limit[k], cause)
		}
	}
	if len(seen) != 2 {
		t.Error("the frequencies meet one limit only")
	}
}

// Two-way: below the crossover frequency as the box alone, above it the horn by its
// sensitivity and power; at the crossover each way of a fourth-order Linkwitz-Riley pair
// gives half the sum (Linkwitz 1976), and the nearer limit stops both.
func TestThroughTheCrossover(t *testing.T) {
	d := closedBox()
	const sensitivity, hornPower, hornRe = 108.0, 40.0, 6.2
	d.Horn.MouthHeight, d.Horn.MouthWidth = optional.Of(0.001), optional.Of(0.001)
	d.Bands.Horn.Sensitivity = optional.Of(sensitivity)
	d.HornDrive.Power, d.HornDrive.Driver.Re = optional.Of(hornPower), optional.Of(hornRe)
	d.Crossover.Frequency = optional.Of(1000)
	o := mustNew(t, &d)
	hz := []float64{200, 1000, 8000}
	l, err := o.Levels(ctx, hz)
	if err != nil {
		t.Fatal(err)
	}
	p0, _ := closed(200, o.air)
	reftable.Within(t, "woofer alone", l.Sum[0], 20*math.Log10(p0*math.Sqrt(rated*re)/20e-6), 0.02) // the horn's way at 200 Hz is 56 dB down
	reftable.Within(t, "horn alone", l.Sum[2], sensitivity+20*math.Log10(math.Sqrt(hornPower*hornRe)/2.83), 0.02)
	// At 1 kHz the woofer's way is its level less 6.02 dB, and the sum twice that way.
	p1, _ := closed(1000, o.air)
	woofer := 20 * math.Log10(p1*math.Sqrt(rated*re)/20e-6) // half the voltage in the way, two equal ways
	reftable.Within(t, "at the crossover", l.Sum[1], woofer+20*math.Log10(2), 0.02)
	if l.Limit[1] != (Limit{0, Power}) || l.Limit[2] != (Limit{1, Power}) {
		t.Errorf("stopped by %v", l.Limit)
	}
}

// A compression driver in a tube gives p²S/(ρc) of power; through a mouth that is small
// against the wavelength that goes evenly into the half space in front: p² = W·ρc/(2πr²).
func TestHornFromATube(t *testing.T) {
	d := design.New()
	d.Cabinet.Height, d.Cabinet.Width, d.Cabinet.Depth, d.Line.Boxes = optional.Of(0.3), optional.Of(0.5), optional.Of(0.4), 1
	d.Horn.MouthHeight, d.Horn.MouthWidth, d.Horn.Throat = optional.Of(0.001), optional.Of(0.001), optional.Of(0.025)
	const tube, watts = 126.0, 50.0
	d.HornDrive.Sensitivity, d.HornDrive.Power, d.Bands.Horn.Sensitivity = optional.Of(tube), optional.Of(watts), optional.Float{}
	o := mustNew(t, &d)
	if !o.Bands[0].Known() || o.Absolute() {
		t.Fatalf("%+v, absolute %t", o.Bands[0], o.Absolute())
	}
	u := o.Bands[0].at([]float64{500, 2000})
	area := math.Pi / 4 * 0.025 * 0.025
	p := 20e-6 * math.Pow(10, tube/20) / 2.83
	want := math.Sqrt(p * p * area / (2 * math.Pi))
	for _, x := range u {
		reftable.Near(t, "pressure of a volt", x.pressure, want, 1e-4) // the mouth is not quite a point
	}
}

// Energy: a compression driver whose power on its horn is known puts all of it through
// the half sphere in front. The mean square of the pressure over that, by the pattern of
// the horn's mouth summed here point by point, gives it back.
func TestHornKeepsItsPower(t *testing.T) {
	d := hornBox()
	o := mustNew(t, &d)
	const f = 1500.0
	u := o.Bands[0].at([]float64{f})[0]
	profile, err := d.Horn.Flare()
	if err != nil {
		t.Fatal(err)
	}
	load, err := waveguide.Load(profile, d.Horn.MouthLoad(), o.air.SoundSpeed, []float64{f}, 1e-6)
	if err != nil {
		t.Fatal(err)
	}
	drive, err := d.HornDrive.Driver.On([]float64{f}, load.Impedance, d.Horn.ThroatArea(), 1, o.air)
	if err != nil {
		t.Fatal(err)
	}
	// A flat piston of 0.2 m by 0.15 m, uncurved: sin(x)/x in both planes.
	k := 2 * math.Pi * f / o.air.SoundSpeed
	sum := 0.0
	const n = 400
	for i := range n {
		theta := (float64(i) + 0.5) / n * math.Pi / 2
		for j := range n {
			phi := (float64(j) + 0.5) / n * 2 * math.Pi
			x := k * 0.1 * math.Sin(theta) * math.Cos(phi)
			y := k * 0.075 * math.Sin(theta) * math.Sin(phi)
			q := numeric.Sinc(x) * numeric.Sinc(y)
			sum += q * q * math.Sin(theta) * (math.Pi / 2 / n) * (2 * math.Pi / n)
		}
	}
	power := u.pressure * u.pressure * sum / o.air.Impedance()
	reftable.Near(t, "power through the half sphere", power, drive[0].Power, 3e-3) // between twelfths of an octave Q lies on a straight line
	reftable.Near(t, "travel", u.does[Excursion], drive[0].Excursion, 2e-3)
}

func hornBox() design.Design {
	d := design.New()
	d.Cabinet.Height, d.Cabinet.Width, d.Cabinet.Depth, d.Line.Boxes = optional.Of(0.3), optional.Of(0.5), optional.Of(0.4), 1
	h := &d.Horn
	h.MouthHeight, h.MouthWidth, h.Throat, h.Length, h.Profile = optional.Of(0.15), optional.Of(0.2), optional.Of(0.03), optional.Of(0.25), waveguide.ExponentialProfile
	h.PathLength = optional.Of(1e4) // a flat front
	x := &d.HornDrive.Driver
	x.Re, x.Le, x.Bl, x.Mms, x.Fs, x.Sd = optional.Of(6), optional.Of(0.1e-3), optional.Of(10), optional.Of(1.8e-3), optional.Of(600), optional.Of(40e-4)
	d.HornDrive.Power, d.HornDrive.Xmax = optional.Of(60), optional.Of(0.3e-3)
	return d
}

// Programme into a closed box, by sums over the spectrum of the closed forms above.
func TestProgrammeAgainstDirectSums(t *testing.T) {
	for _, crest := range []programme.Crest{2, 8} {
		d := closedBox()
		o := mustNew(t, &d)
		p := mustPlay(t, o, &programme.IEC, crest)
		heat, travel, sound, weighted := 0.0, 0.0, 0.0, 0.0
		for _, b := range programme.IEC.Thirds() {
			const steps = 200
			for k := range steps {
				f := b.Low * math.Pow(b.High/b.Low, (float64(k)+0.5)/steps)
				pressure, x := closed(f, o.air)
				power := b.Share / steps * math.Pow(pressure*design.DefaultVoltage/20e-6, 2)
				sound += power
				weighted += power * math.Pow(10, programme.AWeighting(f)/10)
				x *= design.DefaultVoltage / math.Sqrt2 // r.m.s.
				travel += b.Share / steps * x * x
				heat += b.Share / steps * design.DefaultVoltage * design.DefaultVoltage / re
			}
		}
		byHeat, byTravel := math.Sqrt(rated/heat), xmax/(float64(crest)*math.Sqrt(travel))
		reftable.Within(t, "level of the box", p.Level, 10*math.Log10(sound*p.Scale*p.Scale), 0.01)
		reftable.Within(t, "A-weighted", p.A, 10*math.Log10(weighted*p.Scale*p.Scale), 0.01)
		reftable.Near(t, "raise", p.Scale, math.Min(byHeat, byTravel), 1e-3) // 8 tones a third octave against 200
		reftable.Near(t, "harmless raise", p.Harmless, p.Scale, 1e-12)
		first, second := Power, Excursion
		if byTravel < byHeat {
			first, second = second, first
		}
		if p.First() != (Limit{0, first}) || p.Rooms[1].Limit != (Limit{0, second}) {
			t.Errorf("crest %g: limits %+v", crest, p.Rooms)
		}
		reftable.Within(t, "room", p.Rooms[1].DB, math.Abs(20*math.Log10(byHeat/byTravel)), 0.01)
		reftable.Near(t, "power at it", p.Drives[0].Watts, heat*p.Scale*p.Scale, 1e-9)
		reftable.Near(t, "peak voltage", p.Drives[0].Peak, float64(crest)*p.Scale*design.DefaultVoltage, 1e-9)
	}
}

// Seats of three boxes of points against a direct sum over very many tones: pressures by
// distances alone, octaves and weightings added up here.
func TestSeatsAgainstADirectSum(t *testing.T) {
	d := closedBox()
	d.Woofer.Size = optional.Of(0.2)
	d.Line.Boxes, d.Line.TopHeight = 3, optional.Of(4)
	d.Audience.Start, d.Audience.End = []float64{5}, []float64{12}
	o := mustNew(t, &d)
	m, problems := source.New(&d, source.Choice{})
	if problems != nil {
		t.Fatal(problems)
	}
	// Points in place of the cones, whose pattern the sum here leaves out.
	for i := range m.Stack.Boxes {
		for j := range m.Stack.Boxes[i].Mouths {
			m.Stack.Boxes[i].Mouths[j].Kind = field.Point
		}
	}
	e, err := field.New(m.Stack, field.Options{Air: d.Air, Tolerance: 1e-3})
	if err != nil {
		t.Fatal(err)
	}
	p := mustPlay(t, o, &programme.IEC, programme.DefaultCrest)
	s, err := o.Seats(ctx, e, field.AudienceSpec{Seating: []field.Seating{{Start: 5, End: 12, Ear: 1.2}}, Step: 3.5}, p)
	if err != nil {
		t.Fatal(err)
	}
	const tol = 0.05
	for j, seat := range s.Seat {
		octaves, a, c := map[int]float64{}, 0.0, 0.0
		for _, b := range programme.IEC.Thirds() {
			const steps = 1500
			power := 0.0
			for i := range steps {
				f := b.Low * math.Pow(b.High/b.Low, (float64(i)+0.5)/steps)
				unit, _ := closed(f, o.air)
				sum := complex(0, 0)
				for box := range 3 {
					r := math.Hypot(seat.X, seat.Z-(4-0.15-0.3*float64(box)))
					sum += cmplx.Rect(1/r, -2*math.Pi*f/o.air.SoundSpeed*r)
				}
				x := cmplx.Abs(sum) * unit * design.DefaultVoltage * p.Scale
				power += b.Share / steps * x * x / (20e-6 * 20e-6)
			}
			octaves[b.Octave()] += power
			a += power * math.Pow(10, programme.AWeighting(b.Mid)/10)
			c += power * math.Pow(10, programme.CWeighting(b.Mid)/10)
		}
		for i := range s.Octave {
			reftable.Within(t, "octave", s.Level[i][j], 10*math.Log10(octaves[i-6]), tol)
		}
		reftable.Within(t, "A", s.A[j], 10*math.Log10(a), tol)
		reftable.Within(t, "C", s.C[j], 10*math.Log10(c), tol)
	}
	if !s.Settled {
		t.Error("the tones do not settle")
	}
	reftable.Within(t, "peak", s.Peak, s.C[s.Loudest]+20*math.Log10(2), 1e-9)
}

// n equal boxes straight on give 20 log n more than one, whatever the crossover; shading
// that turns one box up takes as much off the rest.
func TestStackOfEqualBoxes(t *testing.T) {
	d := closedBox()
	o := mustNew(t, &d)
	l, err := o.Levels(ctx, []float64{63, 200})
	if err != nil {
		t.Fatal(err)
	}
	d.Line.Boxes = 4
	for _, shading := range [][]float64{nil, {3, 0, 0, 0}} {
		d.Hanging.Shading = shading
		m, problems := source.New(&d, source.Choice{})
		if problems != nil {
			t.Fatal(problems)
		}
		e, err := field.New(m.Stack, field.Options{Air: d.Air})
		if err != nil {
			t.Fatal(err)
		}
		s, err := o.Stack(ctx, e, l)
		if err != nil {
			t.Fatal(err)
		}
		gain := 20 * math.Log10(4)
		if shading != nil {
			gain = 20*math.Log10(3+math.Pow(10, 0.15)) - 3
		}
		for k := range l.Hz {
			reftable.Within(t, "stack", s.Sum[k], l.Sum[k]+gain, 1e-5) // phasors good to 4e-7
			reftable.Within(t, "band", s.Bands[0][k], l.Sum[k]+gain, 1e-5)
		}
	}
}

// 8 kW into woofers of 180 W is 16.5 dB too much, whatever the frequency.
func TestOverdriven(t *testing.T) {
	d := closedBox()
	if got := mustNew(t, &d).Overdriven(63, 16000); got != nil {
		t.Errorf("at 2.83 V: %+v", got)
	}
	d.Drive.Power = optional.Of(8000)
	got := mustNew(t, &d).Overdriven(63, 16000)
	if len(got) != 2 || got[0].Limit != (Limit{0, Power}) || got[1].Limit != (Limit{0, Excursion}) {
		t.Fatalf("%+v", got)
	}
	reftable.Near(t, "power", got[0].Is, 8000, 1e-9)
	reftable.Near(t, "rated", got[0].May, rated, 1e-12)
	reftable.Within(t, "beyond", got[0].Over, 10*math.Log10(8000/rated), 1e-9)
}

// Woofers by their sensitivity: their rated power raises it, and driven with just that they
// are not overdriven, whatever their number and resistance. The travel is that of a piston
// in half space, x = √2·2π·p/(ρω²S).
func TestWoofersBySensitivity(t *testing.T) {
	for _, r := range []optional.Float{{}, optional.Of(5.6)} {
		d := design.New()
		d.Cabinet.Height, d.Cabinet.Width, d.Cabinet.Depth, d.Line.Boxes = optional.Of(0.3), optional.Of(0.5), optional.Of(0.4), 1
		w := &d.Woofer
		w.Size, w.EffectiveDiameter, w.PerBox, w.Spacing, w.Power, w.Re, w.Xmax = optional.Of(0.15), optional.Of(0.12), 2, optional.Of(0.15), optional.Of(100), r, optional.Of(0.004)
		d.Bands.Woofer.Sensitivity = optional.Of(94)
		d.Drive.Power = optional.Of(200)
		o := mustNew(t, &d)
		for _, x := range o.Overdriven(200, 16000) {
			t.Errorf("rated power is too much: %+v", x)
		}
		l, err := o.Levels(ctx, []float64{60, 1000})
		if err != nil {
			t.Fatal(err)
		}
		reftable.Within(t, "by power", l.Sum[1], 94+20*math.Log10(math.Sqrt(200*r.Or(8)/2)/2.83), 1e-6)
		area, omega := 2*math.Pi/4*0.12*0.12, 2*math.Pi*60.0
		p := 0.004 * o.air.Density * omega * omega * area / (math.Sqrt2 * 2 * math.Pi)
		reftable.Within(t, "by travel", l.Sum[0], 20*math.Log10(p/20e-6), 1e-6)
		if l.Limit[0].Cause != Excursion || l.Limit[1].Cause != Power {
			t.Errorf("stopped by %v", l.Limit)
		}
	}
}

// What is not known is not said: where a horn without power is heard there is no largest
// level of a tone, and none of programme.
func TestWithoutLimits(t *testing.T) {
	d := closedBox()
	d.Horn.MouthHeight, d.Horn.MouthWidth = optional.Of(0.1), optional.Of(0.1)
	d.Crossover.Frequency = optional.Of(1000)
	o := mustNew(t, &d)
	if m := o.Missing(); len(m) != 1 || m[0].Name != source.Horn || m[0].Why == "" {
		t.Errorf("missing: %+v", m)
	}
	l, err := o.Levels(ctx, []float64{100, 4000})
	if err != nil {
		t.Fatal(err)
	}
	if p := mustPlay(t, o, &programme.IEC, 2); p.First() != None || numeric.Given(p.Scale) {
		t.Errorf("programme %+v", p)
	}
	if !numeric.Given(l.Sum[0]) || numeric.Given(l.Sum[1]) || l.Limit[1] != None {
		t.Errorf("levels %v, limits %v", l.Sum, l.Limit)
	}
}

// An insert's mouths and a vent are heard before they harm: the harmless raise is higher.
func TestAirIsHeardBeforeItHarms(t *testing.T) {
	d := closedBox()
	d.Enclosure.Tuning, d.Enclosure.Vent.Area = optional.Of(50), optional.Of(12e-4)
	o := mustNew(t, &d)
	p := mustPlay(t, o, &programme.IEC, programme.DefaultCrest)
	if p.First().Cause != VentAir || !(p.Harmless > p.Scale) {
		t.Fatalf("first %v, raises %g and %g", p.First(), p.Scale, p.Harmless)
	}
	// At the first limit the crest of the air speed is just 17 m/s, by a direct sum.
	sum := 0.0
	for _, b := range programme.IEC.Thirds() {
		const steps = 50
		for k := range steps {
			f := b.Low * math.Pow(b.High/b.Low, (float64(k)+0.5)/steps)
			v := o.model.Bands[0].Circuit.At(f, design.DefaultVoltage*p.Scale).VentSpeed / math.Sqrt2
			sum += b.Share / steps * v * v
		}
	}
	reftable.Near(t, "air speed", 2*math.Sqrt(sum), 17, 2e-3)
}
