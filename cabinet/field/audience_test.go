package field

import (
	"context"
	"math"
	"strings"
	"testing"

	"gapline/internal/air"
	"gapline/internal/reftable"
)

// IEC 61672-1, table of A-weighting at nominal frequencies, printed to 0.1 dB
// (values from memory); exact frequencies are base-ten bands.
func TestAWeighting(t *testing.T) {
	for x, want := range map[float64]float64{
		-15: -39.4, -12: -26.2, -9: -16.1, -6: -8.6, -3: -3.2, 0: 0, 3: 1.2, 6: 1.0, 9: -1.1, 12: -6.6,
	} {
		f := 1000 * math.Pow(10, x/10)
		reftable.Within(t, "A-weighting", AWeighting(f), want, 0.051)
	}
}

// Base-ten middles of IEC 61260-1 and their nominal names of ISO 266.
func TestBands(t *testing.T) {
	octaves, err := Bands(1, 63, 8000)
	if err != nil || len(octaves) != 8 {
		t.Fatalf("octaves from 63 Hz to 8 kHz: %d, %v", len(octaves), err)
	}
	reftable.Near(t, "125 Hz octave", octaves[1].Mid, 125.8925, 1e-6)
	thirds, _ := Bands(3, 20, 20000)
	if len(thirds) != 31 {
		t.Errorf("thirds from 20 Hz to 20 kHz: %d, want 31", len(thirds))
	}
	twelfths, _ := Bands(12, 100, 200)
	for i, b := range twelfths {
		if i > 0 {
			reftable.Near(t, "edges meet", b.Low, twelfths[i-1].High, 1e-12)
		}
	}
	// 1 kHz is an edge of even fractions.
	sixths, _ := Bands(6, 900, 1100)
	reftable.Near(t, "edge at 1 kHz", sixths[0].High, 1000, 1e-12)
	for _, m := range []int{1, 6} {
		for _, f := range thirds[0].Tones(m) {
			if f <= thirds[0].Low || f >= thirds[0].High {
				t.Errorf("tone %g lies outside the band", f)
			}
		}
	}
	if _, err := Bands(3, 100, 50); err == nil {
		t.Error("descending bands are accepted")
	}
}

func TestBandAverageIsOfEnergy(t *testing.T) {
	got := BandAverage([][]float64{{0}, {10 * math.Log10(3)}}, 2)
	reftable.Near(t, "mean of 1 and 3", got[0][0], 10*math.Log10(2), 1e-12)
}

// NIOSH 98-126, table 1-1: 85 dBA 8 h, 88 dBA 4 h, 94 dBA 1 h, 100 dBA 15 min.
func TestExposureTime(t *testing.T) {
	for level, want := range map[float64]float64{85: 28800, 88: 14400, 94: 3600, 100: 900} {
		reftable.Near(t, "time", ExposureTime(level), want, 1e-12)
	}
	if !ExposureAt(101).OverVenue || ExposureAt(100).OverVenue {
		t.Error("100 dB is the limit of the venue, and allowed")
	}
}

// onePoint is an invented single source that makes 1 Pa at 1 m.
func onePoint(height float64) Stack {
	box := Box{Height: 0.3, Width: 0.3, Depth: 0.3, Mouths: []Mouth{{}}}
	return Stack{Boxes: []Box{box}, Drives: []Drive{{Pressure: 1}}, TopHeight: height + 0.15}
}

// 1 Pa at 1 m is 93.98 dB SPL; 20 dB less at 10 m; 6.02 dB more on a rigid floor;
// less by the absorption of the path.
func TestAbsoluteLevelsOfOnePoint(t *testing.T) {
	one := 20 * math.Log10(1/20e-6)
	at := []Vec{{X: 10, Z: 0.0}}
	hz := []float64{8000, 125}
	source := onePoint(2)
	r := math.Hypot(10, 2)
	e := mustNew(t, source, Options{})
	reftable.Within(t, "free", e.Level(mustSum(t, e, at, hz)[0][0]), one-20*math.Log10(r), 1e-6)
	e = mustNew(t, source, Options{Ground: 1})
	reftable.Within(t, "on the floor", e.Level(mustSum(t, e, at, hz)[1][0]), one-20*math.Log10(r)+20*math.Log10(2), 1e-6)
	e = mustNew(t, source, Options{Absorption: true})
	want := one - 20*math.Log10(r) - r*air.Absorption(air.Standard, 8000)
	reftable.Within(t, "with absorption", e.Level(mustSum(t, e, at, hz)[0][0]), want, 1e-6)
	if !e.Absolute() {
		t.Error("a mouth of known level is not absolute")
	}
	// Q = 1e-3 m³/s in free field: |p| = ωρQ/(4πr).
	source.Drives[0] = Drive{VolumeVelocity: 1e-3}
	e = mustNew(t, source, Options{})
	p := 2 * math.Pi * 125 * air.Density(air.Standard) * 1e-3 / (4 * math.Pi * r)
	reftable.Within(t, "volume velocity", e.Level(mustSum(t, e, at, hz)[1][0]), 20*math.Log10(p/20e-6), 1e-6)
}

// A large stack with absorption and a floor against a plain double loop.
func TestSumWithFloorAndAbsorption(t *testing.T) {
	s := Stack{Boxes: Repeat(Box{Height: 0.3, Width: 0.6, Depth: 0.4, Mouths: []Mouth{
		{Position: Vec{X: -0.05, Y: 0.1, Z: 0.05}, Gain: -3}, {Position: Vec{Y: -0.1}, Delay: 3e-4, Invert: true, Drive: 1}}}, 6),
		Drives: []Drive{{}, {Filter: func(f float64) complex128 { return complex(0.5, f/1e4) }}},
		Splay:  Arc(6, 0.3), TopHeight: 5, Shading: []float64{0, -1, -2, -3, -4, -5}}
	o := Options{Ground: 0.7, Absorption: true}
	e := mustNew(t, s, o)
	hz := []float64{12500, 100, 1000}
	at := []Vec{{X: 3, Y: 1, Z: 1}, {X: 25, Z: 1.2}}
	got := mustSum(t, e, at, hz)
	for i, f := range hz {
		for j, p := range at {
			want := plainSum(e, s, o, p, f)
			if d := e.Level(got[i][j]) - e.Level(want); math.Abs(d) > 1e-3 {
				t.Errorf("%g Hz at %v: off by %g dB", f, p, d)
			}
		}
	}
}

// plainSum is the obvious sum of point mouths.
func plainSum(e *Engine, s Stack, o Options, at Vec, f float64) complex128 {
	var sum complex128
	alpha := air.Absorption(air.Standard, f)
	for i, q := range s.poses() {
		for _, m := range s.Boxes[i].Mouths {
			level := m.Gain + s.Shading[i]
			strength := complex(math.Pow(10, level/20), 0)
			if m.Invert {
				strength = -strength
			}
			if s.Drives[m.Drive].Filter != nil {
				strength *= s.Drives[m.Drive].Filter(f)
			}
			place := q.origin.Add(q.frame.at(m.Position))
			for _, image := range []float64{1, -1} {
				r := at.Sub(Vec{place.X, place.Y, image * place.Z}).Norm()
				a := math.Pow(10, -alpha*r/20) / r
				if image < 0 {
					a *= o.Ground
				}
				sin, cos := math.Sincos(2 * math.Pi * f * (r/e.SoundSpeed() + m.Delay))
				sum += strength * complex(a*cos, -a*sin)
			}
		}
	}
	return sum
}

func TestAudienceOfOnePoint(t *testing.T) {
	e := mustNew(t, onePoint(1.2), Options{})
	a, err := e.Audience(context.Background(), AudienceSpec{Seating: []Seating{{Start: 2, End: 20, Ear: 1.2}}})
	if err != nil {
		t.Fatal(err)
	}
	reftable.Within(t, "spread", a.Spread, 20, 1e-6)
	reftable.Within(t, "first octave at the front", a.Level[0][0], 20*math.Log10(1/20e-6)-20*math.Log10(2), 1e-6)
	if a.Nearest != 0 || len(a.Seat) != 19 {
		t.Errorf("nearest seat %d of %d", a.Nearest, len(a.Seat))
	}
	// Pink noise over 8 octaves of equal level: the mean of the A-weights.
	sum := 0.0
	for i, b := range a.Bands {
		for _, f := range b.Tones(a.Tones[i]) {
			sum += math.Pow(10, AWeighting(f)/10) / float64(8*a.Tones[i])
		}
	}
	reftable.Within(t, "A-weighted", a.AWeighted[0], a.Level[0][0]+10*math.Log10(sum), 1e-6)
	if a.Exposure == nil || a.Exposure.Level != a.AWeighted[0] {
		t.Error("no exposure at the nearest seat")
	}
}

func TestAudienceRefusals(t *testing.T) {
	e := mustNew(t, plainStack(4), Options{})
	for _, c := range []struct {
		g    Seating
		want string
	}{
		{Seating{Start: -3, End: 10}, "behind the front"},
		{Seating{Start: 10, End: 5}, "ends at 5 m before"},
		{Seating{Start: 1, End: 10, Ear: math.NaN()}, "not a length"},
		{Seating{Start: 1, End: 10, Ear: -1}, "ears -1 m"},
	} {
		_, err := e.Audience(context.Background(), AudienceSpec{Seating: []Seating{c.g}})
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%+v: error %v, want %q", c.g, err, c.want)
		}
	}
	if _, err := e.Audience(context.Background(), AudienceSpec{}); err == nil {
		t.Error("no seating is accepted")
	}
	s := plainStack(4)
	s.Tilt = -0.5 // looking up: the top box leans back, lower ones come forward
	e = mustNew(t, s, Options{})
	_, err := e.Audience(context.Background(), AudienceSpec{Seating: []Seating{{Start: 0.2, End: 5, StartFloor: 7.3, EndFloor: 7.3}}})
	if err == nil || !strings.Contains(err.Error(), "inside box") {
		t.Errorf("a seat in a box: error %v", err)
	}
}

// The octave levels at every seat against 1000 tones an octave, far more than the
// sum's swings; six tones miss by more than a decibel.
func TestSeatBandsSettle(t *testing.T) {
	s := sampleStack(12)
	s.Boxes[0].Mouths = append([]Mouth(nil), s.Boxes[0].Mouths...)
	s.Boxes[0].Mouths[0].Gain = 6 // the seats in front hear the far box beside the near ones
	e := mustNew(t, s, Options{})
	hall := sampleHall()
	hall.Seating[0].Start, hall.Step = 2, 6
	list := func(tones int) *Audience {
		hall.Tones = tones
		a, err := e.Audience(context.Background(), hall)
		if err != nil {
			t.Fatal(err)
		}
		return a
	}
	got, few, dense := list(0), list(FewestTones), list(1000)
	if !got.Settled {
		t.Errorf("not settled with %v tones", got.Tones)
	}
	worst := 0.0
	for b := range got.Bands {
		for i := range got.Seat {
			reftable.Within(t, "octave level", got.Level[b][i], dense.Level[b][i], ToneTolerance)
			worst = math.Max(worst, math.Abs(few.Level[b][i]-dense.Level[b][i]))
		}
	}
	for i := range got.Seat {
		reftable.Within(t, "A-weighted level", got.AWeighted[i], dense.AWeighted[i], ToneTolerance)
	}
	if worst < 1 {
		t.Errorf("%d tones are within %.2f dB: this stack tests nothing", FewestTones, worst)
	}
	if n := got.Tones[len(got.Tones)-1]; n <= FewestTones {
		t.Errorf("%d tones in the highest octave", n)
	}
}

// Seats are heard in portions where there are many: the portions do not show.
func TestSeatsInPortions(t *testing.T) {
	e := mustNew(t, onePoint(1.2), Options{})
	spec := AudienceSpec{Seating: []Seating{{Start: 2, End: 302, Ear: 1.2}}, Step: 0.1, Tones: 200}
	a, err := e.Audience(context.Background(), spec) // 3001 seats of 1600 tones: more than two portions
	if err != nil {
		t.Fatal(err)
	}
	for _, i := range []int{0, 1300, 1311, 2700, 3000} {
		for b := range a.Bands {
			// A point source falls by 20 log r (AirAbsorption is off).
			reftable.Within(t, "level", a.Level[b][i], 20*math.Log10(1/20e-6)-20*math.Log10(a.Seat[i].X), 1e-6)
		}
	}
}
