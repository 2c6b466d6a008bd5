package driver

import (
	"context"
	"errors"
	"math"
	"math/cmplx"
	"testing"

	"gapline/internal/optional"
	"gapline/internal/reftable"

	"pgregory.net/rapid"
)

func sweepStack(t testing.TB, s Setup, boxes int, pitch float64, f []float64) []StackPoint {
	t.Helper()
	k, err := NewStack(s, boxes, pitch)
	if err != nil {
		t.Fatal(err)
	}
	p, err := k.Sweep(context.Background(), f, 2.83)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// A stack of one is the single circuit, for every kind of box and front.
func TestStackOfOneIsTheCircuit(t *testing.T) {
	d := ratedDriver(t)
	vented := ventedBox(0.06, 50, 7)
	vented.Vent.Distance = optional.Of(0.3)
	f := []float64{30, 50, 120, 700}
	for name, s := range map[string]Setup{
		"closed":      {Driver: d, Enclosure: closedBox(0.05)},
		"vented, two": {Driver: d, Count: 2, Enclosure: vented},
		"insert":      {Driver: d, Enclosure: closedBox(0.05), Insert: testInsert()},
		// The single circuit leaves out the mutual radiation of vent and mouths.
		"insert, vents": {Driver: d, Enclosure: ventedBox(0.06, 50, 7), Insert: testInsert(), Wiring: Series},
	} {
		s.Loading = FullRadiation
		c := circuit(t, s)
		for i, p := range sweepStack(t, s, 1, 0.5, f) {
			one, b := c.At(f[i], 2.83), c.Power(f[i], 2.83)
			reftable.Within(t, name+" level", p.Axis, one.Level(), 1e-9)
			reftable.Near(t, name+" excursion", p.Largest, one.Excursion, 1e-9)
			reftable.Near(t, name+" electrical power", p.Electrical, b.Electrical, 1e-9)
			reftable.Near(t, name+" radiated power", p.Radiated, b.Front+b.Rear, 1e-6)
		}
	}
}

// By symmetry two boxes are one box of twice the volume with both drivers.
func TestStackOfTwoIsOneDoubleBox(t *testing.T) {
	d := ratedDriver(t)
	f := []float64{30, 90, 250, 900}
	double := circuit(t, Setup{Driver: d, Count: 2, Spacing: 0.32, Enclosure: closedBox(0.1), Loading: FullRadiation})
	for i, p := range sweepStack(t, Setup{Driver: d, Enclosure: closedBox(0.05)}, 2, 0.32, f) {
		reftable.Within(t, "level", p.Axis, double.At(f[i], 2.83).Level(), 1e-9)
		reftable.Near(t, "power", p.Radiated, double.Power(f[i], 2.83).Front, 1e-9)
	}
}

// Cones too heavy to feel each other keep equal velocities; the power radiated
// per box is then that of the mean resistance of a line (table mutual_line,
// Pritchard 1960).
func TestHeavyStackAgainstMeanResistance(t *testing.T) {
	p := Parameters{}
	const radius = 0.1
	p.Sd, p.Mms, p.Cms, p.Bl, p.Re, p.Rms = optional.Of(math.Pi*radius*radius), optional.Of(1e6), optional.Of(1e-4), optional.Of(1), optional.Of(5), optional.Of(1)
	d, err := p.Derive(testAir)
	if err != nil {
		t.Fatal(err)
	}
	s := Setup{Driver: d, Enclosure: closedBox(0.05)}
	for _, r := range reftable.Read(t, "mutual_line") {
		f := []float64{r.Get("ka") / radius * testAir.SoundSpeed / (2 * math.Pi)}
		n := int(r.Get("N"))
		pitch := r.Get("d_over_a") * radius
		gain := sweepStack(t, s, n, pitch, f)[0].Radiated / sweepStack(t, s, 1, pitch, f)[0].Radiated / float64(n)
		reftable.Near(t, r.Name, gain, r.Get("coupling"), 1e-5)
	}
}

func TestStackConservesPower(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := genComplete(t)
		s := Setup{Driver: d, Count: rapid.IntRange(1, 2).Draw(t, "count"), Enclosure: genEnclosure(t, d)}
		pitch := 2.6 * 2 * math.Sqrt(d.Sd.Value()/math.Pi)
		if rapid.Bool().Draw(t, "insert") {
			s.Insert = &Insert{Mouths: 2, Width: 0.2, Height: pitch / 8, Spacing: pitch / 2, Depth: 0.015, ChamberVolume: 0.05 * math.Pow(d.Sd.Value(), 1.5)}
		}
		k, err := NewStack(s, rapid.IntRange(1, 5).Draw(t, "boxes"), pitch)
		if err != nil {
			t.Fatal(err)
		}
		points, err := k.Sweep(context.Background(), []float64{rapid.Float64Range(20, 1200).Draw(t, "f")}, 5)
		if err != nil {
			t.Fatal(err)
		}
		p := points[0]
		if math.Abs(p.Radiated+p.Lost-p.Electrical) > 1e-9*p.Electrical {
			t.Fatalf("in %g W, radiated %g W, lost %g W", p.Electrical, p.Radiated, p.Lost)
		}
	})
}

// While the stack is short against the wavelength each doubling adds 6 dB on
// axis and in power; far above, the power gains 3 dB.
func TestGainPerDoubling(t *testing.T) {
	s := Setup{Driver: ratedDriver(t), Enclosure: closedBox(0.05)}
	f := []float64{8, 40, 1500}
	l, err := NewStackLevels(context.Background(), s, []int{1, 2, 4, 8}, 0.32, f, 2.83)
	if err != nil {
		t.Fatal(err)
	}
	for i := 1; i < 4; i++ {
		axis, power := l.Gain(i, 0)
		reftable.Within(t, "axis gain at 8 Hz", axis, 6.02, 0.1)
		reftable.Within(t, "power gain at 8 Hz", power, 6.02, 0.1)
		_, power = l.Gain(i, 2)
		reftable.Within(t, "power gain at 1.5 kHz", power, 3.01, 0.4)
	}
	if axis, _ := l.Gain(0, 0); !math.IsNaN(axis) {
		t.Error("a first size has no gain")
	}
}

func TestStackStopsAndRefuses(t *testing.T) {
	s := Setup{Driver: ratedDriver(t), Enclosure: closedBox(0.05)}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := NewStackLevels(ctx, s, []int{1}, 0.3, []float64{100}, 1); !errors.Is(err, context.Canceled) {
		t.Errorf("err = %v, want cancelled", err)
	}
	for _, c := range []struct {
		boxes int
		pitch float64
	}{{0, 0.3}, {2, 0}, {2, 0.2}} {
		if _, err := NewStack(s, c.boxes, c.pitch); err == nil {
			t.Errorf("%d boxes at %g m accepted", c.boxes, c.pitch)
		}
	}
}

// A·x = b with a random matrix: multiply back.
func TestSystemSolves(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 8).Draw(t, "n")
		s, keep := newSystem(n), newSystem(n)
		number := func() complex128 {
			return complex(rapid.Float64Range(-1, 1).Draw(t, "re"), rapid.Float64Range(-1, 1).Draw(t, "im"))
		}
		for i := range n {
			for j := range n {
				s.add(i, j, number())
			}
			s.add(i, i, complex(float64(n)+1, 0)) // keeps it regular
			s.b[i] = number()
		}
		copy(keep.a, s.a)
		copy(keep.b, s.b)
		if err := s.solve(); err != nil {
			t.Fatal(err)
		}
		for i := range n {
			sum := -keep.b[i]
			for j := range n {
				sum += keep.a[i*n+j] * s.b[j]
			}
			if cmplx.Abs(sum) > 1e-12 {
				t.Fatalf("row %d leaves %v", i, sum)
			}
		}
	})
	if err := newSystem(2).solve(); err == nil {
		t.Error("a singular system was solved")
	}
}

func BenchmarkStackOfEight(b *testing.B) {
	k, err := NewStack(Setup{Driver: ratedDriver(b), Enclosure: ventedBox(0.06, 50, 7)}, 8, 0.32)
	if err != nil {
		b.Fatal(err)
	}
	work := newStackWork(k)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := work.at(200, 2.83); err != nil {
			b.Fatal(err)
		}
	}
}
