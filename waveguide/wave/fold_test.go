package wave

import (
	"context"
	"math"
	"math/cmplx"
	"strings"
	"testing"

	"gapline/internal/bem"
)

// parabola is an invented guide: focus at the origin, a the distance from
// there to the wall, mouth of height h in the plane of x = front.
func parabola(a, h, front float64, n int) Fold {
	g := Fold{ThroatRadius: 0.0125, Thickness: 0.02, Drive: 1, Mouth: [2]bem.Point{{X: front, Y: -h / 2}, {X: front, Y: h / 2}}}
	for i := range n {
		// x = y²/(4a) − a: the parabola with its focus at the origin.
		y := h * (float64(i)/float64(n-1) - 0.5)
		g.Wall = append(g.Wall, bem.Point{X: y*y/(4*a) - a, Y: y})
	}
	return g
}

func mustFold(t *testing.T, g Fold, f []float64, run bem.Run) *FoldResult {
	t.Helper()
	r, err := SolveFold(context.Background(), g, testAir, f, run)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func TestParabolaMakesAFlatFront(t *testing.T) {
	// Rays from the focus leave a parabola parallel and in step, with intensity
	// in proportion to 1 + cos φ, φ the angle at the focus from the axis (level
	// of trust: geometrical acoustics, good when the wave is short). At
	// 16 kHz the mouth is 12 wavelengths high.
	const (
		a, h = 0.11, 0.25
		flat = 10 * math.Pi / 180 // λ/36
	)
	r := mustFold(t, parabola(a, h, 0.04, 41), []float64{4000, 16000}, bem.Run{Options: bem.Options{NodesPerWave: 10}})
	for i, f := range r.Frequency {
		if s := r.PhaseSpread(i); s > flat {
			t.Errorf("%g Hz: phase spread %.1f°, want below %.0f°", f, s*180/math.Pi, flat*180/math.Pi)
		}
		if b := r.Imbalance[i]; math.Abs(b) > 2e-3 {
			t.Errorf("%g Hz: power out differs from power in by %.2g", f, b)
		}
	}
	level := r.Level(1)
	middle := level[len(level)/2]
	sum, n := 0.0, 0
	for j, at := range r.Mouth {
		phi := 2 * math.Atan(at.Y/(2*a))
		want := 10 * math.Log10((1+math.Cos(phi))/2)
		d := level[j] - middle - want
		sum += d * d
		n++
	}
	if rms := math.Sqrt(sum / float64(n)); rms > 1 {
		t.Errorf("level along the mouth is %.2f dB rms off the ray intensity", rms)
	}
	if !math.IsNaN(r.FlatTo()) {
		t.Errorf("flat only to %g Hz", r.FlatTo())
	}
}

// mirrorFold has a straight wall at x = −0.1; its sides run on along the
// mirrored rays, so that unfolded it is one straight-sided fan from the throat
// to the mouth. unfolded returns that fan as one domain.
func mirrorFold() (g Fold, unfolded *bem.Problem) {
	const wall, mouth, slope = 0.1, 0.05, 0.8 // slope: height per length of the sides
	half := slope * wall
	end := slope * (2*wall + mouth)
	wallAt := func(y float64) bem.Point { return bem.Point{X: -wall, Y: y} }
	g = Fold{ThroatRadius: 0.015, Drive: 1, Wall: []bem.Point{wallAt(-half), wallAt(half)},
		Mouth: [2]bem.Point{{X: mouth, Y: -end}, {X: mouth, Y: end}}}
	angle := math.Atan(slope)
	arc := bem.Arc{Radius: g.ThroatRadius, Start: math.Pi - angle, Sweep: 2 * angle}
	a, _ := arc.At(0)
	b, _ := arc.At(1)
	far := -(2*wall + mouth)
	low, high := bem.Point{X: far, Y: -end}, bem.Point{X: far, Y: end}
	exit := line(Mouth, low, high)
	exit.Wall = bem.Matched()
	throat := bem.Edge{Name: Throat, Curve: arc, Wall: bem.Uniform(1)}
	unfolded = &bem.Problem{SoundSpeed: testAir.SoundSpeed, Density: testAir.Density,
		Domains: []bem.Domain{{Name: "fan", Outlines: [][]bem.Edge{{throat, line(Side, b, low), exit, line(Side, high, a)}}}}}
	return g, unfolded
}

func TestStraightWallEqualsUnfoldedFan(t *testing.T) {
	g, fan := mirrorFold()
	f := []float64{700, 3000, 9000}
	r := mustFold(t, g, f, bem.Run{})
	for i, hz := range f {
		sol, err := fan.Solve(context.Background(), hz, bem.Options{})
		if err != nil {
			t.Fatal(err)
		}
		_, want, err := sol.Along("fan", Mouth, mouthPoints)
		if err != nil {
			t.Fatal(err)
		}
		for j := range want {
			if e := cmplx.Abs(r.Pressure[i][j]-want[j]) / cmplx.Abs(want[mouthPoints/2]); e > 5e-3 {
				t.Fatalf("%g Hz, mouth point %d: folded %v, unfolded %v", hz, j, r.Pressure[i][j], want[j])
			}
		}
		tr, err := sol.Trace("fan", Throat)
		if err != nil {
			t.Fatal(err)
		}
		zeta := tr.MeanPressure() / complex(testAir.Density*testAir.SoundSpeed, 0)
		if e := cmplx.Abs(r.Throat[i]-zeta) / cmplx.Abs(zeta); e > 5e-3 {
			t.Errorf("%g Hz: throat impedance folded %v, unfolded %v", hz, r.Throat[i], zeta)
		}
	}
}

func TestStraightWallBulges(t *testing.T) {
	// With an even source behind a plain mirror the front at the mouth is a
	// circle round the mirrored throat, L = 0.25 m away: phase k(√(L²+y²) − L).
	g, _ := mirrorFold()
	r := mustFold(t, g, []float64{12000}, bem.Run{Options: bem.Options{NodesPerWave: 10}})
	k := 2 * math.Pi * 12000 / testAir.SoundSpeed
	for j, phase := range r.Phase(0) {
		y := r.Mouth[j].Y
		want := -k * (math.Hypot(0.25, y) - 0.25)
		if math.Abs(y) < 0.1 && math.Abs(phase-want) > 0.15 {
			t.Errorf("y = %.3f m: phase %.3f rad, want %.3f", y, phase, want)
		}
	}
	want := testAir.SoundSpeed / 4 / (math.Hypot(0.25, 0.2) - 0.25) // rule c/(4s)
	sweep := mustFold(t, g, bem.LogFrequencies(600, 3000, 12), bem.Run{})
	if got := sweep.FlatTo(); math.Abs(got-want) > 0.25*want {
		t.Errorf("flat to %g Hz, rule c/(4s) gives %g Hz", got, want)
	}
}

func TestSlotImpedance(t *testing.T) {
	// Leading terms for small x.
	for _, x := range []float64{1e-4, 1e-3, 1e-2} {
		want := complex(x/2, x/math.Pi*(1.5-0.5772156649015329-math.Log(x/2)))
		if got := SlotImpedance(x); cmplx.Abs(got-want) > x*cmplx.Abs(want) {
			t.Errorf("x = %g: ζ = %v, want %v", x, got, want)
		}
	}
	// A wide slot radiates plane waves.
	if got := SlotImpedance(400); cmplx.Abs(got-1) > 0.01 {
		t.Errorf("x = 400: ζ = %v, want about 1", got)
	}
	// Resistance from the far field: ζ' = (x/2π) ∫ sinc²((x/2) sin θ) dθ over
	// the half circle.
	for _, x := range []float64{0.5, 3, 12} {
		const n = 2000
		sum := 0.0
		for i := range n {
			s := x / 2 * math.Sin((float64(i)+0.5)/n*math.Pi-math.Pi/2)
			d := math.Sin(s) / s
			sum += d * d * math.Pi / n
		}
		if want, got := x/(2*math.Pi)*sum, real(SlotImpedance(x)); math.Abs(got-want) > 1e-6*want {
			t.Errorf("x = %g: resistance %.9g, want %.9g", x, got, want)
		}
	}
	if SlotImpedance(0) != 0 {
		t.Error("ζ(0) is not 0")
	}
}

func TestSlotExitThrowsBack(t *testing.T) {
	g := parabola(0.11, 0.25, 0.04, 41)
	g.Exit = Slot
	r := mustFold(t, g, []float64{1500}, bem.Run{})
	if b := r.Imbalance[0]; math.Abs(b) > 2e-3 {
		t.Errorf("power out differs from power in by %.2g", b)
	}
	matched := parabola(0.11, 0.25, 0.04, 41)
	m := mustFold(t, matched, []float64{1500}, bem.Run{})
	if cmplx.Abs(r.Throat[0]-m.Throat[0]) < 0.05*cmplx.Abs(m.Throat[0]) {
		t.Errorf("throat impedance %v with slot, %v matched: the exit does nothing", r.Throat[0], m.Throat[0])
	}
}

func TestFoldCheckedChange(t *testing.T) {
	r, err := SolveFoldChecked(context.Background(), parabola(0.11, 0.25, 0.04, 41), testAir, []float64{1000, 9000}, bem.Run{})
	if err != nil {
		t.Fatal(err)
	}
	for i, c := range r.Change {
		if !(c > 0 && c < 0.01) {
			t.Errorf("%g Hz: change on halving %.2g, want below 1 %%", r.Frequency[i], c)
		}
	}
}

func TestFoldErrors(t *testing.T) {
	base := parabola(0.11, 0.25, 0.04, 11)
	wall := base
	wall.Wall = wall.Wall[:1]
	radius := base
	radius.ThroatRadius = 0.2
	mouth := base
	mouth.Mouth[1] = mouth.Mouth[0]
	still := base
	still.Drive = 0
	slot := base
	slot.Exit, slot.Thickness = Slot, 0
	cases := []struct {
		g    Fold
		want string
	}{
		{wall, "at least two points"}, {radius, "throat radius 0.2 m"}, {mouth, "no height"}, {slot, "layer thickness 0 m"}, {still, "drive is 0"},
	}
	for _, c := range cases {
		if _, err := SolveFold(context.Background(), c.g, testAir, []float64{1000}, bem.Run{}); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("err = %v, want %q", err, c.want)
		}
	}
}

func BenchmarkFold48(b *testing.B) {
	f := bem.LogFrequencies(500, 16000, 48)
	g := parabola(0.11, 0.25, 0.04, 41)
	for b.Loop() {
		if _, err := SolveFold(context.Background(), g, testAir, f, bem.Run{}); err != nil {
			b.Fatal(err)
		}
	}
}
