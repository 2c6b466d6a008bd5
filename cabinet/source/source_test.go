package source

import (
	"context"
	"math"
	"math/cmplx"
	"slices"
	"strings"
	"testing"

	"gapline/cabinet/design"
	"gapline/cabinet/field"
	"gapline/cabinet/filter"
	"gapline/driver"
	"gapline/internal/air"
	"gapline/internal/numeric"
	"gapline/internal/optional"
	"gapline/internal/reftable"

	"pgregory.net/rapid"
)

// twoWay is an invented box with a woofer and a horn, four of them.
func twoWay() design.Design {
	d := design.New()
	d.Line.Boxes = 4
	d.Cabinet.Height, d.Cabinet.Width, d.Cabinet.Depth = optional.Of(0.25), optional.Of(0.6), optional.Of(0.4)
	d.Woofer.Size = optional.Of(0.2)
	d.Horn.MouthWidth, d.Horn.MouthHeight, d.Horn.Coverage, d.Horn.PathLength = optional.Of(0.3), optional.Of(0.24), optional.Of(1.4), optional.Of(0.6)
	d.Crossover.Frequency = optional.Of(1000)
	return d
}

func mustMap(t testing.TB, d *design.Design, c Choice) *Model {
	t.Helper()
	m, problems := New(d, c)
	if problems != nil {
		t.Fatal(problems)
	}
	return m
}

// onAxis returns the far-field level of a model on its axis at 1 m.
func onAxis(t testing.TB, m *Model, hz ...float64) []float64 {
	t.Helper()
	e, err := field.New(m.Stack, field.Options{})
	if err != nil {
		t.Fatal(err)
	}
	p, err := e.Polar(context.Background(), field.PolarSpec{Angle: []float64{0}, Frequency: hz, Distance: math.Inf(1), Axis: 0})
	if err != nil {
		t.Fatal(err)
	}
	return p.OnAxis
}

// axisTolerance is that of the field's sums, dB.
const axisTolerance = 0.05

// A sensitivity is the level of one box at 1 m and 2.83 V; volts and boxes add
// 20 log10 each; 100 W into 8 Ω are 28.28 V.
func TestSensitivityIsTheLevelOnAxis(t *testing.T) {
	for name, c := range map[string]struct {
		drive design.Drive
		boxes int
		want  float64
	}{
		"one box":      {design.Drive{}, 1, 95},
		"ten times":    {design.Drive{Voltage: optional.Of(28.3)}, 1, 115},
		"100 W in 8 Ω": {design.Drive{Power: optional.Of(100)}, 1, 95 + 20*math.Log10(math.Sqrt(800)/2.83)},
		"four boxes":   {design.Drive{}, 4, 95 + 20*math.Log10(4)},
	} {
		d := twoWay()
		d.Line.Boxes, d.Drive, d.Bands.Woofer.Sensitivity = c.boxes, c.drive, optional.Of(95)
		m := mustMap(t, &d, Choice{Only: []string{Woofers}, Open: Woofers})
		if !m.Absolute || m.Reference() != "dB re 20 µPa" {
			t.Errorf("%s: levels are relative", name)
		}
		for _, l := range onAxis(t, m, 100, 1000, 4000) {
			reftable.Within(t, name, l, c.want, axisTolerance)
		}
	}
}

// The woofers' level is that of their circuit, insert or not.
func TestWoofersCarryTheCircuit(t *testing.T) {
	d := twoWay()
	w := &d.Woofer
	w.Fs, w.Qes, w.Qms, w.Vas, w.Re, w.Sd = optional.Of(50), optional.Of(0.4), optional.Of(5), optional.Of(0.03), optional.Of(5.5), optional.Of(0.02)
	d.Enclosure.Volume, d.Line.Boxes = optional.Of(0.02), 1
	p := driver.Parameters{}
	p.Fs, p.Qes, p.Qms, p.Vas, p.Re, p.Sd = w.Fs, w.Qes, w.Qms, w.Vas, w.Re, w.Sd
	a := air.Of(d.Air)
	complete, err := p.Derive(a)
	if err != nil {
		t.Fatal(err)
	}
	box := driver.Enclosure{Kind: driver.Closed}
	box.Volume = optional.Of(0.02)
	c, err := driver.NewCircuit(driver.Setup{Driver: complete, Enclosure: box})
	if err != nil {
		t.Fatal(err)
	}
	m := mustMap(t, &d, Choice{Only: []string{Woofers}, Open: Woofers})
	hz := []float64{30, 80, 300}
	for i, l := range onAxis(t, m, hz...) {
		reftable.Within(t, "level", l, c.At(hz[i], 2.83).Level(), axisTolerance)
	}
}

// A horn's curved front takes from the axis; the equaliser gives it back.
func TestHornIsFlatOnTheAxisOfOneBox(t *testing.T) {
	d := twoWay()
	d.Line.Boxes, d.Bands.Horn.Sensitivity = 1, optional.Of(108)
	m := mustMap(t, &d, Choice{Only: []string{Horn}, Open: Woofers})
	for _, l := range onAxis(t, m, 500, 2000, 5000, 9000) {
		reftable.Within(t, "horn", l, 108, axisTolerance)
	}
}

// Both ways of a fourth-order Linkwitz-Riley crossover lie 6.02 dB below what they
// would give alone, and meet; gain moves the upper one.
func TestBandsMeetAtTheCrossover(t *testing.T) {
	for _, gain := range []float64{numeric.Absent, -3} {
		d := twoWay()
		d.Bands.Woofer.Sensitivity, d.Bands.Horn.Sensitivity, d.Bands.Horn.Gain = optional.Of(94), optional.Of(110), optional.Of(gain)
		low := onAxis(t, mustMap(t, &d, Choice{Only: []string{Woofers}, Straight: true}), 1000)[0]
		alone := onAxis(t, mustMap(t, &d, Choice{Only: []string{Woofers}, Straight: true, Open: Woofers}), 1000)[0]
		high := onAxis(t, mustMap(t, &d, Choice{Only: []string{Horn}, Straight: true}), 1000)[0]
		reftable.Within(t, "low way at the corner", low-alone, 20*math.Log10(0.5), 1e-6)
		reftable.Within(t, "high against low", high-low, numeric.Or(gain, 0), axisTolerance)
		m := mustMap(t, &d, Choice{})
		// 94 dB from 110 dB: turned down by 16 dB and the gain.
		reftable.Within(t, "turned", m.Bands[1].Turned, -16+numeric.Or(gain, 0), axisTolerance)
	}
}

// The band whose level is known carries the others, below or above it.
func TestAnyKnownLevelMakesAllAbsolute(t *testing.T) {
	d := twoWay()
	if m := mustMap(t, &d, Choice{}); m.Absolute || !assumes(m, NoLevel) {
		t.Error("absolute without any level, or no word of it")
	}
	d.Bands.Horn.Sensitivity = optional.Of(108)
	m := mustMap(t, &d, Choice{Straight: true})
	if !m.Absolute {
		t.Fatal("relative with the horn's level")
	}
	reftable.Within(t, "woofers", driver.Level(cmplx.Abs(m.Bands[0].Response(200))), 108, 1e-6)
}

func TestDelaysAndPolarities(t *testing.T) {
	d := twoWay()
	d.Bands.Woofer.Delay, d.Bands.Horn.Polarity = optional.Of(1e-3), filter.Inverted
	m := mustMap(t, &d, Choice{})
	if m.Bands[0].Path.Delay != 1e-3 || m.Bands[0].Path.Invert || !m.Bands[1].Path.Invert {
		t.Errorf("paths %+v, %+v", m.Bands[0].Path, m.Bands[1].Path)
	}
	// Second-order ways are half a turn apart, so that normal means inverted.
	d.Crossover.Order, d.Bands.Horn.Polarity = 2, 0
	if m = mustMap(t, &d, Choice{}); !m.Bands[1].Path.Invert {
		t.Error("second order: not inverted")
	}
	d.Bands.Horn.Polarity = filter.Inverted
	if m = mustMap(t, &d, Choice{}); m.Bands[1].Path.Invert {
		t.Error("second order, inverted: inverted twice")
	}
	m = mustMap(t, &d, Choice{Open: Woofers})
	if w := m.Bands[0].Path; len(w.Sections) != 0 || w.Delay != 0 {
		t.Errorf("open crossover has %+v", w)
	}
	if x := m.Crossing[0]; x.LowPath.Delay != 1e-3 || len(x.HighPath.Sections) != 1 {
		t.Errorf("the crossing itself: %+v", x)
	}
}

func TestThreeBands(t *testing.T) {
	d := twoWay()
	d.Mid.Size, d.Mid.PerBox, d.Mid.Spacing, d.Mid.Lowest = optional.Of(0.05), 4, optional.Of(0.06), optional.Of(400)
	d.Crossover.Frequency, d.Low.Frequency, d.Cabinet.Width = optional.Of(2000), optional.Of(500), optional.Of(0.7)
	m := mustMap(t, &d, Choice{})
	if len(m.Bands) != 3 || len(m.Crossing) != 2 || len(m.Bands[1].Path.Sections) != 2 {
		t.Fatalf("bands %d, crossings %d, mids %+v", len(m.Bands), len(m.Crossing), m.Bands[1].Path)
	}
	if x := m.Crossing[0]; x.Low != Woofers || x.High != Mids || x.Frequency != 500 || x.Order != 4 {
		t.Errorf("lower crossing %+v", x)
	}
	if got := len(m.Stack.Boxes[0].Mouths); got != 1+4+1 {
		t.Errorf("%d mouths in a box, want 6", got)
	}
	// The mids' high-pass stays where only the upper crossover is open.
	if w := mustMap(t, &d, Choice{Open: Mids}).Bands[1].Path; len(w.Sections) != 1 || w.Sections[0].Corner != 500 {
		t.Errorf("mids under an open crossover: %+v", w)
	}
}

func TestInsertTakesTheConesPlace(t *testing.T) {
	d := twoWay()
	d.Insert.Mouths, d.Insert.MouthHeight, d.Insert.MouthWidth = 2, optional.Of(0.09), optional.Of(0.08)
	with, without := mustMap(t, &d, Choice{}), mustMap(t, &d, Choice{WithoutInsert: true})
	a, b := with.Bands[0].Mouths, without.Bands[0].Mouths
	if len(a) != 2 || a[0].Kind != field.Rectangle || len(b) != 1 || b[0].Kind != field.Circle {
		t.Fatalf("%d and %d mouths", len(a), len(b))
	}
	reftable.Near(t, "spacing, pitch over mouths", a[1].Position.Z-a[0].Position.Z, 0.125, 1e-12)
	if a[0].Position.Y != b[0].Position.Y || with.Bands[1].Mouths[0].Position != without.Bands[1].Mouths[0].Position {
		t.Error("the insert moves the bands on the front")
	}
}

// Bands stand beside each other with even gaps: (0.6 − 0.2 − 0.3)/3 = 33.3 mm.
func TestPlacesOnTheFront(t *testing.T) {
	d := twoWay()
	m := mustMap(t, &d, Choice{})
	const gap = 0.1 / 3
	reftable.Near(t, "woofers, left", m.Bands[0].Mouths[0].Position.Y, 0.3-gap-0.1, 1e-9)
	reftable.Near(t, "horn, right", m.Bands[1].Mouths[0].Position.Y, -(0.3 - gap - 0.15), 1e-9)
	// Two cones that leave room for the horn stand at both sides of it.
	d.Woofer.Size, d.Woofer.PerBox, d.Bands.Woofer.Lateral = optional.Of(0.13), 2, optional.Of(0.45)
	m = mustMap(t, &d, Choice{})
	for i, want := range []float64{0.225, -0.225} {
		reftable.Near(t, "column", m.Bands[0].Mouths[i].Position.Y, want, 1e-9)
	}
	if y := m.Bands[1].Mouths[0].Position.Y; y != 0 {
		t.Errorf("horn at %g, want the middle", y)
	}
	d.Bands.Horn.Offset = optional.Of(0.1)
	if y := mustMap(t, &d, Choice{}).Bands[1].Mouths[0].Position.Y; y != 0.1 {
		t.Errorf("horn at %g, want where the file says", y)
	}
}

// Whatever the sizes, a stack that is mapped is one that the field accepts, with
// every mouth on its front.
func TestMappedStacksAreValid(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := twoWay()
		draw := func(name string, lo, hi float64) float64 { return rapid.Float64Range(lo, hi).Draw(t, name) }
		d.Cabinet.Width = optional.Of(draw("width", 0.2, 1))
		d.Woofer.Size = optional.Of(draw("size", 0.05, 0.25))
		d.Woofer.PerBox = rapid.IntRange(1, 3).Draw(t, "per box")
		d.Horn.MouthWidth, d.Horn.MouthHeight = optional.Of(draw("mouth", 0.05, 0.5)), optional.Of(draw("height", 0.05, 0.25))
		d.Line.Tilt = optional.Of(draw("tilt", -0.5, 0.5))
		if rapid.Bool().Draw(t, "hung") {
			d.Line.TopHeight = optional.Of(draw("top", 0.5, 10))
		}
		m, problems := New(&d, Choice{})
		for _, p := range problems {
			if len(p.Keys) == 0 || p.Text == "" {
				t.Fatalf("a problem without keys or words: %+v", p)
			}
		}
		if problems != nil {
			return
		}
		if err := m.Stack.Validate(); err != nil {
			t.Fatal(err)
		}
	})
}

func TestProblemsNameKeys(t *testing.T) {
	for name, c := range map[string]struct {
		change func(*design.Design)
		want   string
	}{
		"no boxes":       {func(d *design.Design) { d.Line.Boxes = 0 }, "line.boxes"},
		"no height":      {func(d *design.Design) { d.Cabinet.Height = optional.Float{} }, "cabinet.height"},
		"nothing sounds": {func(d *design.Design) { *d = design.New(); d.Line.Boxes, d.Cabinet.Height = 2, optional.Of(0.3) }, "woofer.size"},
		"no crossover":   {func(d *design.Design) { d.Crossover.Frequency = optional.Float{}; d.Horn.Coverage = optional.Float{} }, "crossover.frequency"},
		"odd order":      {func(d *design.Design) { d.Crossover.Order = 3 }, "crossover.order"},
		"in the ground":  {func(d *design.Design) { d.Line.TopHeight = optional.Of(0.5) }, "line.top_height"},
		"upside down":    {func(d *design.Design) { d.Line.Tilt = optional.Of(-1.5); d.Line.Splay = []float64{0.2, 0.2, 0.2} }, "line.tilt"},
		"rear, no depth": {func(d *design.Design) { d.Hanging.Hinge = field.RearHinge; d.Cabinet.Depth = optional.Float{} }, "cabinet.depth"},
		"unknown band":   {func(d *design.Design) {}, "none of the bands"},
		"mids, no corner": {func(d *design.Design) {
			d.Mid.Size, d.Woofer.Size = optional.Of(0.05), optional.Float{}
			d.Woofer.PerBox = 1
		}, "crossover.low_frequency"},
	} {
		d := twoWay()
		c.change(&d)
		choice := Choice{}
		if name == "unknown band" {
			choice.Only = []string{"subwoofers"}
		}
		m, problems := New(&d, choice)
		if m != nil || len(problems) == 0 || !strings.Contains(problems[0].Text, c.want) {
			t.Errorf("%s: %+v, want a word of %s", name, problems, c.want)
		}
	}
}

func assumes(m *Model, what Assumed) bool {
	return slices.ContainsFunc(m.Assumed, func(a Assumption) bool { return a.What == what })
}
