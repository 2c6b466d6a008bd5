package line

import (
	"math"
	"reflect"
	"runtime"
	"testing"

	"gapline/cabinet/design"
	"gapline/cabinet/filter"
	"gapline/internal/designfile"
	"gapline/internal/numeric"
	"gapline/internal/optional"
	"gapline/internal/parallel"
)

// crossed are designs whose crossovers differ in what makes a search hard: how far apart
// the bands stand, slopes, coverage, air, a window wide or narrow, closed or open.
var crossed = []struct {
	starter  string
	settings []string
}{
	{"hatch", nil},
	{"hatch-insert", nil},
	{"hatch-mids", nil},
	{"hatch", []string{"horn.lowest=500 Hz"}},
	{"hatch", []string{"horn.lowest=500 Hz", "crossover.order=2"}},
	{"hatch", []string{"horn.lowest=450 Hz", "crossover.alignment=butterworth", "crossover.order=3"}},
	{"hatch", []string{"crossover.order=8", "air.temperature=5 degC"}},
	{"hatch", []string{"woofer.setback=60 mm", "horn.lowest=600 Hz"}},
	{"hatch", []string{"horn.coverage=60 deg"}},
	{"hatch", []string{"line.boxes=4", "line.splay=[\"1 deg\",\"1 deg\",\"2 deg\"]", "horn.gain=3 dB", "horn.lowest=500 Hz"}},
	{"hatch-insert", []string{"crossover.order=2"}},
	{"hatch-insert", []string{"crossover.alignment=butterworth", "crossover.order=1"}},
	{"hatch-insert", []string{"horn.coverage=100 deg", "crossover.order=8"}},
	{"hatch-insert", []string{"woofer.lateral_spacing=430 mm", "air.temperature=35 degC"}},
	{"hatch-insert", []string{"line.boxes=12", "line.splay=[\"1 deg\",\"1 deg\",\"1 deg\",\"1 deg\",\"2 deg\",\"2 deg\",\"2 deg\",\"2 deg\",\"2 deg\",\"2 deg\",\"2 deg\"]"}},
	{"hatch-mids", []string{"crossover.order=2"}},
	{"hatch-mids", []string{"horn.coverage=70 deg"}},
	{"hatch-mids", []string{"horn.lowest=1500 Hz", "crossover.order=8"}},
	{"hatch-mids", []string{"line.boxes=3", "line.splay=[\"5 deg\",\"5 deg\"]"}},
	{"hatch-mids", []string{"horn.delay=0.3 ms", "mid.gain=-2 dB"}},
}

// everyDesign is how many of the designs share one that is looked at: all of them take a
// minute, with the tag long.
var everyDesign = 4

// anywhere asks for the search with nothing given.
func anywhere() CrossoverRequest {
	a := numeric.Absent
	return CrossoverRequest{Vertical: a, Horizontal: a, Distance: math.Inf(1), From: a, To: a}
}

// A plain grid over everything that can be set, of other steps than the search's own, is
// nowhere better than what the search finds; and a file that is set to what was found has
// the figures that were promised.
func TestCrossoverAgainstAnExhaustiveGrid(t *testing.T) {
	for i, x := range crossed {
		if i%everyDesign != 0 {
			continue
		}
		file, err := designfile.LoadStarter(x.starter, x.settings)
		if err != nil {
			t.Fatalf("%v: %v", x, err)
		}
		c, s, err := Crossovers(ctx, &file.Design, Conditions{}, anywhere())
		if err != nil {
			t.Fatalf("%v: %v", x, err)
		}
		if c.Best.Frequency < c.Crossing.Handover.Lowest {
			t.Errorf("%v: %g Hz is advised under %g Hz", x, c.Best.Frequency, c.Crossing.Handover.Lowest)
		}
		cost, at := exhaustive(t, c, s)
		t.Logf("%v: search %.3f dB at %.0f Hz, %.3f ms, inverted %t; grid %.3f dB at %v", x, c.Best.Sum.Cost(), c.Best.Frequency, c.Best.Delay*1e3, c.Best.Invert, cost, at)
		if cost < c.Best.Sum.Cost()-0.05 {
			t.Errorf("%v: a grid finds %.3f dB at %v, the search %.3f dB", x, cost, at, c.Best.Sum.Cost())
		}
		pasted(t, file.Design, c, i < 3)
	}
}

// exhaustive returns the least cost on a grid of 1/8 octave and 1/16 of a period, and
// where it is: frequency, delay, 1 where inverted.
func exhaustive(t *testing.T, c *Crossover, s *Study) (float64, [3]float64) {
	t.Helper()
	system, err := s.system(ctx, c, false)
	if err != nil {
		t.Fatal(err)
	}
	x := &c.Crossing
	most := 1/c.From + s.between(*x)
	n := int(math.Log2(c.To/c.From)*8) + 1
	costs, where := make([]float64, n+1), make([][3]float64, n+1)
	err = parallel.Each(ctx, 0, n+1, func(int) func(int) {
		return func(i int) {
			f := c.From * math.Pow(c.To/c.From, float64(i)/float64(n))
			costs[i] = math.Inf(1)
			for delay := -most; delay <= most; delay += 1 / (16 * f) {
				for _, invert := range []bool{false, true} {
					low, high, _ := filter.Pair(x.Alignment, x.Order, f)
					low.Gain, high.Gain = s.Model.Match(x, f)
					high.Invert = high.Invert != invert
					high.Delay = delay
					lost, err := system.Lost(low, high)
					if err == nil && lost.Cost() < costs[i] {
						costs[i], where[i] = lost.Cost(), [3]float64{f, delay}
						if invert {
							where[i][2] = 1
						}
					}
				}
			}
		}
	})
	if err != nil {
		t.Fatal(err)
	}
	best := 0
	for i := range costs {
		if costs[i] < costs[best] {
			best = i
		}
	}
	return costs[best], where[best]
}

// pasted holds a design that is set to what was found against the promise and, where it is
// searched again, against finding the same.
func pasted(t *testing.T, d design.Design, c *Crossover, search bool) {
	t.Helper()
	low := &d.Bands.Woofer
	if c.Crossing.Low == "mids" {
		low = &d.Bands.Mid
	}
	d.Crossover.Frequency = optional.Of(c.Best.Frequency)
	low.Delay, d.Bands.Horn.Delay = optional.Of(math.Max(-c.Best.Delay, 0)), optional.Of(math.Max(c.Best.Delay, 0))
	d.Bands.Horn.Polarity = filter.PolarityOf(c.Best.Invert)
	request := anywhere()
	request.WithoutBest = !search
	again, _, err := Crossovers(ctx, &d, Conditions{}, request)
	if err != nil {
		t.Fatal(err)
	}
	want, got := c.Best.Sum.Loss, again.Given.Loss
	for _, v := range [][2]float64{{want.Deepest.Loss, got.Deepest.Loss}, {want.Deepest.Level, got.Deepest.Level}, {want.Deepest.Frequency, got.Deepest.Frequency},
		{want.Deepest.Angle, got.Deepest.Angle}, {want.Axis, got.Axis}, {want.Mean, got.Mean}} {
		if math.Abs(v[0]-v[1]) > 1e-6*math.Max(1, math.Abs(v[0])) {
			t.Errorf("%v promises %+v, and set so it has %+v", c.Crossing, want, got)
			break
		}
	}
	if search && (again.Best.Frequency != c.Best.Frequency || again.Best.Delay != c.Best.Delay || again.Best.Invert != c.Best.Invert) {
		t.Errorf("set to %g Hz, %g s, %t it finds %g Hz, %g s, %t", c.Best.Frequency, c.Best.Delay, c.Best.Invert,
			again.Best.Frequency, again.Best.Delay, again.Best.Invert)
	}
}

// One core finds what all find.
func TestCrossoverDoesNotHangOnTheCores(t *testing.T) {
	file, err := designfile.LoadStarter("hatch-insert", nil)
	if err != nil {
		t.Fatal(err)
	}
	all, _, err := Crossovers(ctx, &file.Design, Conditions{}, anywhere())
	if err != nil {
		t.Fatal(err)
	}
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	one, _, err := Crossovers(ctx, &file.Design, Conditions{}, anywhere())
	if err != nil {
		t.Fatal(err)
	}
	if !reflect.DeepEqual(all.Best, one.Best) {
		t.Errorf("all cores find %+v, one finds %+v", all.Best, one.Best)
	}
}
