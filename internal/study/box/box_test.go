package box

import (
	"context"
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"gapline/cabinet/sizing"
	"gapline/internal/check"
	"gapline/internal/designfile"
	"gapline/internal/numeric"
	"gapline/internal/reftable"
	"gapline/internal/wordset"
)

const invented = `[cabinet]
height = "300 mm"
width = "400 mm"
depth = "400 mm"
[woofer]
fs = "50 Hz"
qes = 0.4
qms = 5
vas = "40 L"
re = "5.5 ohm"
sd = "330 cm2"
xmax = "6 mm"
power = "300 W"
[enclosure]
volume = "30 L"
tuning = "48 Hz"
vent_area = "60 cm2"
`

func parse(t *testing.T, text string, settings ...string) *designfile.File {
	t.Helper()
	f, err := designfile.Parse("box.toml", []byte(text), settings)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

func study(t *testing.T, text string, o Options, settings ...string) *Study {
	t.Helper()
	s, err := Run(context.Background(), &parse(t, text, settings...).Design, o)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func TestFrequencies(t *testing.T) {
	f, err := Options{From: 20, To: 160, PerOctave: 2}.frequencies()
	if err != nil {
		t.Fatal(err)
	}
	// Three octaves in halves: both ends, and a factor √2 from one to the next.
	if len(f) != 7 || f[0] != 20 || f[6] != 160 {
		t.Fatalf("frequencies %v", f)
	}
	reftable.Near(t, "step", f[3]/f[2], math.Sqrt2, 1e-12)
	for _, o := range []Options{{From: 0.5, To: 10, PerOctave: 1}, {From: 100, To: 50, PerOctave: 1}, {From: 10, To: 30e3, PerOctave: 1},
		{From: 10, To: 20, PerOctave: -1}, {From: 1, To: 20e3, PerOctave: 1e6}} {
		if _, err := o.frequencies(); err == nil {
			t.Errorf("%+v accepted", o)
		}
	}
}

// Two boxes with the same voltage: +6 dB on axis at every frequency up to the
// air load that each adds to the other, and 6 dB of power where they couple.
func TestStackGains(t *testing.T) {
	s := study(t, invented, Options{From: 20, To: 2000, PerOctave: 3, Boxes: []int{1, 2}})
	for j, f := range s.Frequency {
		axis, power := s.Stack.Gain(1, j)
		reftable.Within(t, "axis gain", axis, 6.02, 0.7)
		if f < 40 { // λ over 25 times the pitch
			reftable.Within(t, "power gain", power, 6.02, 0.2)
		}
		if f > 1500 {
			reftable.Within(t, "power gain", power, 3.01, 1)
		}
	}
	if s := study(t, strings.Replace(invented, `height = "300 mm"`, "", 1), Options{PerOctave: 3}); s.Stack != nil || !strings.Contains(s.StackWhy, "cabinet.height") {
		t.Errorf("stack without a pitch: %v, %q", s.Stack, s.StackWhy)
	}
	if s := study(t, invented, Options{PerOctave: 3}, "cabinet.height=210mm", "cabinet.pitch=204mm"); s.Stack != nil {
		t.Error("pistons that overlap made a stack")
	}
}

func TestRunStopsAndNamesTheKeys(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := Run(ctx, &parse(t, invented).Design, Options{}); !errors.Is(err, context.Canceled) {
		t.Errorf("cancelled run: %v", err)
	}
	_, err := Run(context.Background(), &parse(t, "[woofer]\nfs = \"50 Hz\"\n[enclosure]\nvolume = \"30 L\"").Design, Options{})
	var b *check.BoxError
	if !errors.As(err, &b) || !slices.Contains(b.Problems[0].Keys, "woofer.fs") {
		t.Errorf("too few parameters: %v", err)
	}
}

// What does not exist comes last, whatever the order.
func TestCompareOrders(t *testing.T) {
	make := func(file string, level, f3, cost float64) Candidate {
		c := Candidate{File: file}
		c.Sizing.Box.MaxLevel, c.Sizing.Box.F3, c.Sizing.Box.Cost = level, f3, cost
		c.Sizing.Gap.Low, c.Sizing.Gap.High = 500, 1000
		return c
	}
	all := []Candidate{
		make("a", numeric.Absent, 40, 5), make("b", 110, 60, numeric.Absent), make("c", 115, 50, 9), make("d", 115, 45, 7),
	}
	for by, want := range map[Order]string{ByLevel: "dcba", ByF3: "adcb", ByCost: "adcb", ByGap: "dcba"} {
		c := slices.Clone(all)
		slices.SortStableFunc(c, func(x, y Candidate) int { return compare(&x, &y, by) })
		got := ""
		for i := range c {
			got += c[i].File
		}
		if got != want {
			t.Errorf("by %s: %s, want %s", by.Name(), got, want)
		}
	}
}

func TestRankTakesOneFrequency(t *testing.T) {
	base := parse(t, invented).Design
	other := parse(t, invented, "woofer.fs=45Hz", "woofer.vas=50L").Design
	r, err := Rank(context.Background(), &base, []Contender{{File: "one", Design: other}, {File: "two", Reasons: []string{"is a brick"}}}, ByLevel)
	if err != nil {
		t.Fatal(err)
	}
	// Without a target it is the design's own f3.
	own := sizing.Size(&base)
	if len(r.Ranked) != 1 || r.At != own.Box.F3 || r.Ranked[0].Sizing.Box.LevelAt != r.At {
		t.Errorf("ranked at %g Hz, own f3 %g Hz: %+v", r.At, own.Box.F3, r.Refused)
	}
	if len(r.Refused) != 1 || r.Refused[0].File != "two" || r.Refused[0].Reasons[0] != "is a brick" {
		t.Errorf("refused: %+v", r.Refused)
	}
}

// Every order and every model of the inductance has a name and what it does.
func TestEveryWordHasItsBehaviour(t *testing.T) {
	if err := errors.Join(wordset.Check(orderCount), wordset.Check(inductorCount)); err != nil {
		t.Error(err)
	}
	for _, o := range wordset.All[Order]() {
		if orders[o].of == nil {
			t.Errorf("%s sorts by nothing", o.Name())
		}
	}
	for _, i := range wordset.All[Inductor]() {
		if i.Called() == "" || i != AutoInductor && taken(i.model()) != i {
			t.Errorf("%s: called %q, its model is %s's", i.Name(), i.Called(), taken(i.model()).Name())
		}
	}
}

// The curve and the figure are two routes to the same number.
func TestMaxLevelsMeetTheFigure(t *testing.T) {
	f := parse(t, invented, "targets.level_at=63Hz")
	level, err := MaxLevels(&f.Design, []float64{63})
	if err != nil {
		t.Fatal(err)
	}
	s := sizing.Size(&f.Design)
	reftable.Within(t, "level", level[0], s.Box.MaxLevel, 1e-9)
	reftable.Within(t, "level of the study", study(t, invented, Options{PerOctave: 1}, "targets.level_at=63Hz").MaxAt.Level, s.Box.MaxLevel, 1e-9)
}
