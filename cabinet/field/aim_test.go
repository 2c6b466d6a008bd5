package field

import (
	"context"
	"math"
	"slices"
	"testing"
)

// sampleHall is an invented hall: flat floor, then a rake.
func sampleHall() AudienceSpec {
	return AudienceSpec{
		Seating: []Seating{
			{Start: 5, End: 25, Ear: 1.2},
			{Start: 26, End: 40, StartFloor: 0.5, EndFloor: 3, Ear: 1.2},
		},
		Step:  2,
		Tones: 2,
	}
}

// sampleStack is an invented stack for it: woofers above and below a horn mouth.
func sampleStack(n int) Stack {
	box := Box{Height: 0.3, Width: 0.8, Depth: 0.5, Mouths: []Mouth{
		{Kind: Rectangle, Width: 0.02, Height: 0.28, VerticalApex: 1.5},
	}}
	return Stack{Boxes: Repeat(box, n), Drives: []Drive{{}}, Gap: 0.01, TopHeight: 8}
}

func stepsOf(deg ...float64) []float64 {
	out := make([]float64, len(deg))
	for i, d := range deg {
		out[i] = rad(d)
	}
	return out
}

// exhaustive tries every stack.
func exhaustive(t *testing.T, s Stack, o Options, a AimSpec) Candidate {
	h, err := newAimer(context.Background(), s, o, a)
	if err != nil {
		t.Fatal(err)
	}
	c := make(choice, len(h.sizes))
	var all []choice
	for {
		all = append(all, slices.Clone(c))
		i := 0
		for ; i < len(c); i++ {
			c[i]++
			if int(c[i]) < h.sizes[i] {
				break
			}
			c[i] = 0
		}
		if i == len(c) {
			break
		}
	}
	i, err := h.best(nil, all)
	if err != nil {
		t.Fatal(err)
	}
	return h.describe(all[i])
}

// On stacks small enough to try everything the search finds the optimum.
func TestAimEqualsExhaustiveSearch(t *testing.T) {
	for _, c := range []struct {
		boxes int
		over  float64
		gains []float64
	}{{4, math.NaN(), nil}, {4, -6, nil}, {3, -3, []float64{0, -2}}} {
		a := AimSpec{Audience: sampleHall(), Steps: stepsOf(0, 1, 2, 3, 4, 6, 8), Tilts: stepsOf(-4, -2, 0, 2, 5), Floor: math.NaN(), Over: c.over, Gains: c.gains}
		a.Audience.Step = 5
		a.Audience.Bands, _ = Bands(1, 500, 4000)
		s := sampleStack(c.boxes)
		want := exhaustive(t, s, Options{}, a)
		got, err := Aim(context.Background(), s, Options{}, a)
		if err != nil {
			t.Fatal(err)
		}
		if got.Best.Cost > want.Cost+1e-9 {
			t.Errorf("%d boxes: cost %.4f dB with %v, exhaustive search %.4f dB with %v",
				c.boxes, got.Best.Cost, got.Best.Splay, want.Cost, want.Splay)
		}
		t.Logf("%d boxes: %d evaluations", c.boxes, got.Evaluations)
	}
}

// The aimed stack beats the best arc on the sample hall, keeps to the allowed
// angles and says what the curvature costs.
func TestAimBeatsTheBestArc(t *testing.T) {
	steps := stepsOf(0, 0.5, 1, 2, 3, 4, 6, 8)
	a := AimSpec{Audience: sampleHall(), Steps: steps, Tilts: stepsOf(-2, -1, 0, 1, 2, 3), Floor: math.NaN(), Over: -6, Kicks: 2}
	a.Audience.Step = 4
	a.Audience.Bands, _ = Bands(1, 250, 4000)
	s := sampleStack(8)
	got, err := Aim(context.Background(), s, Options{}, a)
	if err != nil {
		t.Fatal(err)
	}
	if !(got.Best.Cost < got.BestArc.Cost-0.5) {
		t.Errorf("cost %.2f dB, best arc %.2f dB", got.Best.Cost, got.BestArc.Cost)
	}
	for _, v := range got.Best.Splay {
		if !slices.Contains(steps, v) {
			t.Errorf("splay %g rad is not allowed", v)
		}
	}
	if !slices.Contains(a.Tilts, got.Best.Tilt) {
		t.Errorf("tilt %g rad is not allowed", got.Best.Tilt)
	}
	if !(got.CurvatureCost > 0) || math.Abs(got.CurvatureCost-(got.Straight.Back-got.Best.Back)) > 1e-12 {
		t.Errorf("curvature costs %g dB at the back", got.CurvatureCost)
	}
	// The scores are those of the stack itself, summed the usual way.
	if d := got.Audience.Spread - got.Best.Spread; math.Abs(d) > 1e-6 {
		t.Errorf("spread %g dB, the audience says %g", got.Best.Spread, got.Audience.Spread)
	}
	t.Logf("best %.2f dB (spread %.2f), arc %.2f dB, %d evaluations, curvature costs %.1f dB",
		got.Best.Cost, got.Best.Spread, got.BestArc.Cost, got.Evaluations, got.CurvatureCost)
}

// A rising curve costs some spread but never turns back.
func TestAimOfARisingCurve(t *testing.T) {
	a := AimSpec{Audience: sampleHall(), Steps: stepsOf(0, 1, 2, 4, 7), Tilts: stepsOf(-1, 0, 1, 2), Floor: math.NaN(), Over: math.NaN(), Kicks: 2}
	a.Audience.Step = 4
	s := sampleStack(6)
	free, err := Aim(context.Background(), s, Options{}, a)
	if err != nil {
		t.Fatal(err)
	}
	a.Rising = true
	got, err := Aim(context.Background(), s, Options{}, a)
	if err != nil {
		t.Fatal(err)
	}
	if !slices.IsSorted(got.Best.Splay) {
		t.Errorf("splay %v turns back", got.Best.Splay)
	}
	if got.Best.Cost < free.Best.Cost-1e-9 {
		t.Errorf("a rising curve costs %g dB, a free one %g dB: the free search missed it", got.Best.Cost, free.Best.Cost)
	}
}

// The floor at the back is kept when it can be: a stack asked for more level
// there gives it.
func TestAimKeepsTheFloorLevel(t *testing.T) {
	a := AimSpec{Audience: sampleHall(), Steps: stepsOf(0, 1, 2, 4, 7), Tilts: stepsOf(-2, -1, 0, 1, 2), Floor: math.NaN(), Over: math.NaN(), Kicks: 2}
	a.Audience.Step = 4
	s := sampleStack(6)
	free, err := Aim(context.Background(), s, Options{}, a)
	if err != nil {
		t.Fatal(err)
	}
	a.Floor, a.FloorWeight = free.Best.Back+1, 20
	got, err := Aim(context.Background(), s, Options{}, a)
	if err != nil {
		t.Fatal(err)
	}
	if got.Best.Back < a.Floor-0.05 {
		t.Errorf("%.2f dB at the back, %.2f dB asked for", got.Best.Back, a.Floor)
	}
	if got.Best.Spread < free.Best.Spread-1e-9 {
		t.Errorf("the floor made the spread smaller: %g dB, free %g dB", got.Best.Spread, free.Best.Spread)
	}
}

func TestAimRefusals(t *testing.T) {
	good := AimSpec{Audience: sampleHall(), Steps: stepsOf(0, 5), Floor: math.NaN(), Over: math.NaN()}
	for name, change := range map[string]func(*AimSpec, *Stack){
		"no step":         func(a *AimSpec, _ *Stack) { a.Steps = nil },
		"NaN step":        func(a *AimSpec, _ *Stack) { a.Steps = []float64{math.NaN()} },
		"no seats":        func(a *AimSpec, _ *Stack) { a.Audience.Seating = nil },
		"no height":       func(_ *AimSpec, s *Stack) { s.TopHeight = math.NaN() },
		"always curls up": func(a *AimSpec, _ *Stack) { a.Steps = stepsOf(80) },
		"negative weight": func(a *AimSpec, _ *Stack) { a.OverWeight = -1 },
	} {
		a, s := good, sampleStack(3)
		change(&a, &s)
		if _, err := Aim(context.Background(), s, Options{}, a); err == nil {
			t.Errorf("%s is accepted", name)
		}
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := Aim(ctx, sampleStack(3), Options{}, good); err != context.Canceled {
		t.Errorf("cancelled: error %v", err)
	}
}
