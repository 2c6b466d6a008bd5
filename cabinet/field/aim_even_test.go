package field

import (
	"context"
	"math"
	"testing"

	"gapline/internal/reftable"
)

// With evenness by octave, a slope and a quiet zone the search still finds the optimum
// of every stack of 4 boxes and 6 angles.
func TestAimByBandEqualsExhaustiveSearch(t *testing.T) {
	zone := []Vec{{X: 60, Z: 1.5}, {X: 80, Z: 1.5}}
	for name, even := range map[string]Even{
		"octaves":       {Octaves: 1, From: 700},
		"slope":         {Fall: 4},
		"octaves, zone": {Octaves: 1, From: 700, Zone: zone, ZoneMost: -15},
		"all":           {Octaves: 0.5, From: 1500, Fall: 3, Zone: zone, ZoneMost: -15, ZoneWeight: 2},
	} {
		a := AimSpec{Audience: sampleHall(), Steps: stepsOf(0, 1, 2, 3, 5, 8), Tilts: stepsOf(-4, -2, 0, 2), Floor: math.NaN(), Over: math.NaN(), Even: even}
		a.Audience.Step = 5
		a.Audience.Bands, _ = Bands(1, 500, 4000)
		s := sampleStack(4)
		want := exhaustive(t, s, Options{}, a)
		got, err := Aim(context.Background(), s, Options{}, a)
		if err != nil {
			t.Fatal(err)
		}
		if got.Best.Cost > want.Cost+1e-9 {
			t.Errorf("%s: cost %.4f dB with %v, exhaustive search %.4f dB with %v", name, got.Best.Cost, got.Best.Splay, want.Cost, want.Splay)
		}
		t.Logf("%s: %d of %d stacks tried, cost %.3f dB, exhaustive %.3f dB", name, got.Evaluations, 6*6*6*4, got.Best.Cost, want.Cost)
	}
}

// The cost is what its parts say, summed here from the levels at the seats the usual
// way, with the tones of the search.
func TestCostOfAnAim(t *testing.T) {
	even := Even{Octaves: 0.7, From: 900, Fall: 5, Zone: []Vec{{X: 55, Z: 2}}, ZoneMost: -30, ZoneWeight: 0.3}
	a := AimSpec{Audience: sampleHall(), Steps: stepsOf(0, 2, 4), Floor: math.NaN(), Over: math.NaN(), Even: even, Kicks: 1}
	a.Audience.Bands, _ = Bands(1, 500, 4000)
	s := sampleStack(4)
	got, err := Aim(context.Background(), s, Options{}, a)
	if err != nil {
		t.Fatal(err)
	}
	s.Splay, s.Tilt = got.Best.Splay, got.Best.Tilt
	e, err := New(s, Options{})
	if err != nil {
		t.Fatal(err)
	}
	h, err := e.Audience(context.Background(), a.Audience)
	if err != nil {
		t.Fatal(err)
	}
	near, far := math.Inf(1), 0.0
	for _, p := range h.Seat {
		r := p.Sub(e.Centre()).Norm()
		near, far = math.Min(near, r), math.Max(far, r)
	}
	spread := func(levels []float64) float64 {
		low, high := math.Inf(1), math.Inf(-1)
		for i, l := range levels {
			l += even.Fall * math.Log(h.Seat[i].Sub(e.Centre()).Norm()/near) / math.Log(far/near)
			low, high = math.Min(low, l), math.Max(high, l)
		}
		return high - low
	}
	want, n := 0.0, 0.0
	for b, band := range h.Bands {
		if band.Mid > even.From {
			want, n = want+spread(h.Level[b]), n+1
		}
	}
	want = spread(h.AWeighted) + even.Octaves*want/n
	zone, err := e.ZoneLevel(context.Background(), even, a.Audience, h.AWeighted)
	if err != nil {
		t.Fatal(err)
	}
	want += even.ZoneWeight * math.Max(0, zone-even.ZoneMost)
	reftable.Within(t, "cost", got.Best.Cost, want, 1e-6)
}

// Counting the octaves makes them more even; asking for a slope gives one; a quiet zone
// grows quieter. Each against the search that asks for nothing of it, which cannot be
// better at it.
func TestAimByBandServesWhatIsAsked(t *testing.T) {
	base := AimSpec{Audience: sampleHall(), Steps: stepsOf(0, 0.5, 1, 2, 3, 5), Tilts: stepsOf(-2, -1, 0, 1, 2), Floor: math.NaN(), Over: math.NaN(), Kicks: 2}
	base.Audience.Step = 4
	base.Audience.Bands, _ = Bands(1, 500, 8000)
	s := sampleStack(8)
	aim := func(even Even) *Aimed {
		a := base
		a.Even = even
		a.Audience.Tones = 6
		got, err := Aim(context.Background(), s, Options{}, a)
		if err != nil {
			t.Fatal(err)
		}
		return got
	}
	const from = 1500
	plain, octaves := aim(Even{From: from}), aim(Even{Octaves: 1, From: from})
	if !(octaves.Best.Octaves <= plain.Best.Octaves) {
		t.Errorf("octaves are spread by %.2f dB where they count, %.2f dB where they do not", octaves.Best.Octaves, plain.Best.Octaves)
	}
	zone := []Vec{{X: 70, Z: 1.5}, {X: 90, Z: 1.5}}
	loud, quiet := aim(Even{Zone: zone, ZoneMost: 100}), aim(Even{Zone: zone, ZoneMost: -40, ZoneWeight: 2})
	if !(quiet.Best.Zone < loud.Best.Zone-0.5) {
		t.Errorf("the zone hears %.2f dB where it counts, %.2f dB where it does not", quiet.Best.Zone, loud.Best.Zone)
	}
	level, falling := aim(Even{}), aim(Even{Fall: 6})
	drop := func(a *Aimed) float64 { return a.Audience.Front - a.Audience.Back }
	if !(drop(falling) > drop(level)+2) {
		t.Errorf("the level falls by %.1f dB where 6 dB are asked for, %.1f dB else", drop(falling), drop(level))
	}
	t.Logf("octaves %.2f → %.2f dB, zone %.1f → %.1f dB, fall %.1f → %.1f dB", plain.Best.Octaves, octaves.Best.Octaves,
		loud.Best.Zone, quiet.Best.Zone, drop(level), drop(falling))
}

// With gains and delays as well the search still equals trying everything.
func TestAimWithGainsAndDelaysEqualsExhaustiveSearch(t *testing.T) {
	a := AimSpec{Audience: sampleHall(), Steps: stepsOf(0, 2, 5), Tilts: stepsOf(-2, 1), Gains: []float64{0, -3}, Delays: []float64{0, 0.2e-3, 0.5e-3},
		Floor: math.NaN(), Over: math.NaN(), Even: Even{Octaves: 1, From: 700}, Kicks: 24}
	a.Audience.Step = 6
	a.Audience.Bands, _ = Bands(1, 500, 2000)
	s := sampleStack(3)
	want := exhaustive(t, s, Options{}, a)
	got, err := Aim(context.Background(), s, Options{}, a)
	if err != nil {
		t.Fatal(err)
	}
	if got.Best.Cost > want.Cost+1e-9 {
		t.Errorf("cost %.4f dB with %v, exhaustive search %.4f dB with %v", got.Best.Cost, got.Best, want.Cost, want)
	}
	if len(got.Best.Delays) != 3 || len(got.Best.Shading) != 3 {
		t.Errorf("delays %v, gains %v", got.Best.Delays, got.Best.Shading)
	}
	t.Logf("%d of %d stacks tried", got.Evaluations, 3*3*2*8*27)
}

// A line whose lower boxes sound earlier by d·sin θ/c is steered up by θ: its beam
// aims there.
func TestDelaysSteer(t *testing.T) {
	s := sampleStack(8)
	e, err := New(s, Options{})
	if err != nil {
		t.Fatal(err)
	}
	for i := range s.Boxes {
		s.Delays = append(s.Delays, 0.31*float64(i)*math.Sin(-rad(10))/e.SoundSpeed())
	}
	if e, err = New(s, Options{}); err != nil {
		t.Fatal(err)
	}
	p, err := e.Polar(context.Background(), PolarSpec{Angle: Angles(3601, math.Pi), Frequency: []float64{500}, Distance: math.Inf(1), Axis: 0})
	if err != nil {
		t.Fatal(err)
	}
	reftable.Within(t, "aim", BeamOf(p.Angle, p.Normalised[0], noSeats()).Aim, rad(10), rad(0.5)) // the mouths' own pattern pulls a little
}
