package wave

import (
	"context"
	"errors"
	"math"
	"math/cmplx"
	"strings"
	"testing"

	"gapline/internal/bem"
	"gapline/internal/quantity"
)

var testAir = Air{SoundSpeed: 343, Density: 1.2}

// hornPlan is an invented box: 500 mm wide, 400 mm deep, a horn of 30 mm to
// 200 mm.
func hornPlan() Plan {
	return Plan{
		Width: 0.5, Depth: 0.4, Drive: 1,
		Horn: []WallPoint{{0.015, -0.15}, {0.02, -0.12}, {0.03, -0.085}, {0.05, -0.045}, {0.1, 0}},
	}
}

// both returns an opening and its mirror image.
func both(o Opening) []Opening { return []Opening{o, mirrored(o)} }

func mirrored(o Opening) Opening {
	return Opening{-o.Right, -o.Left, o.SetbackRight, o.SetbackLeft, o.Velocity}
}

func mustPlan(t *testing.T, p Plan, f []float64) *PlanResult {
	t.Helper()
	r, err := SolvePlan(context.Background(), p, testAir, f, bem.Run{})
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// radiated integrates |F|²/(2ρc) over all directions, W/m.
func radiated(r *PlanResult, i int) float64 {
	sum := 0.0
	for j, l := range r.Pattern[i] {
		w := 1.0
		if j == 0 || j == len(r.Angle)-1 {
			w = 0.5
		}
		sum += w * math.Pow(10, l/10)
	}
	a := cmplx.Abs(r.Axis[i])
	step := r.Angle[1] - r.Angle[0]
	return 2 * sum * step * a * a / (2 * testAir.Density * testAir.SoundSpeed)
}

func TestPlanPowerBalance(t *testing.T) {
	// What the throat puts in arrives far away: near field and far field are
	// computed by different routes.
	projecting := hornPlan()
	projecting.Horn = append(projecting.Horn, WallPoint{0.14, 0.05})
	projecting.Lip = 0.008
	rounded := hornPlan()
	rounded.EdgeRadius = 0.05
	rounded.Openings = both(Opening{Right: 0.12, Left: 0.18})
	for name, p := range map[string]Plan{"flush": hornPlan(), "projecting": projecting, "rounded": rounded} {
		r := mustPlan(t, p, []float64{500, 2000, 7000})
		for i, f := range r.Frequency {
			in := real(r.Throat[i]) * testAir.Density * testAir.SoundSpeed / 2 * 2 * p.Horn[0].Across
			if out := radiated(r, i); math.Abs(out-in) > 0.005*in {
				t.Errorf("%s, %g Hz: throat %g W/m, far field %g W/m", name, f, in, out)
			}
		}
	}
}

func TestPlanAgainstFlatStripInBaffle(t *testing.T) {
	// A flat piston in a wide front: f = 0.60248 c/(W sin(θ/2)) for the exact
	// -6.000 dB of sin(x)/x. The front is 2.4 m wide, so its ends add a ripple,
	// kept small by looking near the axis.
	const w = 0.3
	p := Plan{Width: 2.4, Depth: 0.2, Drive: 1, Horn: []WallPoint{{w / 2, -0.002}, {w / 2, 0}}}
	for _, f := range []float64{2500, 4000} {
		want := 2 * math.Asin(0.60248*testAir.SoundSpeed/(f*w))
		got := mustPlan(t, p, []float64{f}).Beamwidth[0]
		if math.Abs(got-want) > 0.03*want {
			t.Errorf("%g Hz: beamwidth %.2f°, want %.2f°", f, got*180/math.Pi, want*180/math.Pi)
		}
	}
}

func TestPlanCheckedChange(t *testing.T) {
	r, err := SolvePlanChecked(context.Background(), hornPlan(), testAir, []float64{700, 5000}, bem.Run{})
	if err != nil {
		t.Fatal(err)
	}
	for i, c := range r.Change {
		if !(c > 0 && c < 0.005) {
			t.Errorf("%g Hz: change on halving %.2g, want below 0.5 %%", r.Frequency[i], c)
		}
	}
}

func TestWooferDriveRadiates(t *testing.T) {
	const hz = 30.0
	p := hornPlan()
	p.Drive = 0
	p.Openings = both(Opening{Right: 0.12, Left: 0.22, Velocity: 1})
	r := mustPlan(t, p, []float64{hz})
	if !cmplx.IsNaN(r.Throat[0]) {
		t.Errorf("throat impedance without drive is %v, want NaN", r.Throat[0])
	}
	// At low frequency the strips are line sources of flow Q: F = ωρQ/4 √(2/πk)
	// in free space; the box, small against the wave, changes it little.
	k := 2 * math.Pi * hz / testAir.SoundSpeed
	want := 2 * math.Pi * hz * testAir.Density * 0.2 / 4 * math.Sqrt(2/(math.Pi*k))
	if got := cmplx.Abs(r.Axis[0]); math.Abs(got-want) > 0.1*want {
		t.Errorf("axis pressure %g, want about %g", got, want)
	}
}

// Widths that fall as 1/f cross the coverage at a frequency in closed form. Whatever the
// places of a sweep's frequencies, it lies in the range that the sweep claims; a sweep four times as fine claims a range at most a tenth as wide, since
// straight lines through a smooth curve err by the square of their length.
func TestControlRangeHoldsTheFrequency(t *testing.T) {
	const coverage = 1.2
	sweep := func(from float64, perOctave float64) *PlanResult {
		r := &PlanResult{}
		for f := from; f < 8000; f *= math.Exp2(1 / perOctave) {
			r.Frequency = append(r.Frequency, f)
			r.Beamwidth = append(r.Beamwidth, 1200/f)
		}
		return r
	}
	const want = 1000.0
	var wide, narrow float64
	for i := range 40 {
		from := 200 * math.Exp2(float64(i)/40/3)
		for per, sum := range map[float64]*float64{3: &wide, 12: &narrow} {
			r := sweep(from, per)
			low, high := r.ControlRange(coverage)
			if want < low || want > high {
				t.Errorf("from %g at %g an octave: %g to %g, want %g inside", from, per, low, high, want)
			}
			*sum += math.Log2(high / low)
		}
	}
	if narrow > wide/10 || wide/40 > 1.0/3 {
		t.Errorf("mean ranges %g and %g octaves", wide/40, narrow/40)
	}
	r := sweep(200, 12)
	r.Coarse = make([]float64, len(r.Beamwidth))
	for i, w := range r.Beamwidth {
		r.Coarse[i] = 1.03 * w // of larger elements, which cross at 1030 Hz
	}
	if _, high := r.ControlRange(coverage); math.Abs(high-1030) > 1 {
		t.Errorf("range to %g, want the larger elements' 1030", high)
	}
}

func TestControlFrequency(t *testing.T) {
	// Width c/f falling as 1/f crosses 90° where it says, on a log-log line up
	// to the interpolation's linear width.
	r := &PlanResult{}
	for _, f := range bem.LogFrequencies(500, 4000, 61) {
		r.Frequency = append(r.Frequency, f)
		width := 2.0 * 1000 / f
		if f < 700 {
			width = math.NaN()
		}
		r.Beamwidth = append(r.Beamwidth, width)
	}
	const want = 2000 / 1.2
	if got := r.ControlFrequency(1.2); math.Abs(got-want) > 1e-3*want {
		t.Errorf("control frequency %g Hz, want %g", got, want)
	}
	if got := r.ControlFrequency(0.1); !math.IsNaN(got) {
		t.Errorf("coverage never reached: %g Hz, want NaN", got)
	}
	if got := r.ControlFrequency(4); !(got >= 700 && got < 730) {
		t.Errorf("coverage wider than any width: %g Hz, want the first with a width", got)
	}
}

func TestPlanErrors(t *testing.T) {
	change := func(f func(*Plan)) Plan {
		p := hornPlan()
		f(&p)
		return p
	}
	cases := []struct {
		p    Plan
		want string
	}{
		{change(func(p *Plan) { p.Width = 0 }), "must be positive"},
		{change(func(p *Plan) { p.Horn = p.Horn[:1] }), "at least two points"},
		{change(func(p *Plan) { p.Depth = 0.1 }), "does not fit in a cabinet 0.1 m deep"},
		{change(func(p *Plan) { p.Width = 0.09 }), "outside the cabinet's half-width"},
		{change(func(p *Plan) { p.Horn = append(p.Horn, WallPoint{0.2, 0.05}) }), "lip is 0 m"},
		{change(func(p *Plan) { p.Horn = p.Horn[:3] }), "must reach the front"},
		{change(func(p *Plan) { p.EdgeRadius = 0.2 }), "does not fit beside the mouth"},
		{change(func(p *Plan) { p.Openings = []Opening{{Right: 0.05, Left: 0.2}} }), "woofer opening 1"},
		{change(func(p *Plan) { p.Openings = []Opening{{Right: -0.02, Left: 0.02}} }), "woofer opening 1"},
		{change(func(p *Plan) { p.Openings = []Opening{{Right: 0.12, Left: 0.2}, {Right: 0.19, Left: 0.24}} }), "woofer opening 2 from 0.19 m to 0.24 m: openings must lie side by side"},
		{change(func(p *Plan) { p.Openings = []Opening{{Right: 0.2, Left: 0.12}} }), "left edge must lie left"},
		{change(func(p *Plan) { p.Openings = []Opening{{Right: 0.12, Left: 0.2, SetbackLeft: 0.4}} }), "0.4 m behind the front"},
		{change(func(p *Plan) { p.Openings = []Opening{{Right: 0.12, Left: 0.2, SetbackRight: -0.1}} }), "-0.1 m behind the front"},
		{change(func(p *Plan) { p.HornAt = -0.3 }), "horn 0.3 m off the middle"},
		{change(func(p *Plan) { p.HornAt = 0.16 }), "does not fit beside the mouth"},
	}
	for _, c := range cases {
		if _, err := SolvePlan(context.Background(), c.p, testAir, []float64{1000}, bem.Run{}); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("err = %v, want %q", err, c.want)
		}
	}
	crossed := change(func(p *Plan) {
		p.Horn = []WallPoint{{0.015, -0.15}, {0.1, -0.1}, {0.1, -0.14}, {0.05, -0.05}, {0.02, -0.13}, {0.1, 0}}
	})
	if _, err := SolvePlan(context.Background(), crossed, testAir, []float64{1000}, bem.Run{}); !errors.Is(err, bem.ErrGeometry) {
		t.Errorf("crossed wall: err = %v", err)
	}
}

func BenchmarkPlan48(b *testing.B) {
	// The run of 48 frequencies from 500 Hz to 16 kHz that the speed target names.
	f := bem.LogFrequencies(500, 16000, 48)
	for b.Loop() {
		if _, err := SolvePlan(context.Background(), hornPlan(), testAir, f, bem.Run{}); err != nil {
			b.Fatal(err)
		}
	}
}

// A dip of a third of an octave is no control: the width of a mouth of 0.4 m falls as 1/f
// through 90° at 800 Hz for good, and dips to 60° at 400 Hz alone.
func TestControlOutlastsADip(t *testing.T) {
	r := &PlanResult{}
	for _, f := range []float64{315, 400, 500, 630, 800, 1000, 1250} {
		w := 90 * 800 / f
		if f == 400 {
			w = 60
		}
		r.Frequency, r.Beamwidth = append(r.Frequency, f), append(r.Beamwidth, w*quantity.Degree)
	}
	if got := r.ControlFrequency(90 * quantity.Degree); math.Abs(got-800) > 1e-6 {
		t.Errorf("control from %g Hz, want 800", got)
	}
}
