package numeric

import (
	"math"
	"slices"
	"testing"
)

// grid is frequencies a step of 1/48 octave apart.
func grid(low, high float64) (f []float64) {
	for i := 0.0; low*math.Exp2(i/48) <= high; i++ {
		f = append(f, low*math.Exp2(i/48))
	}
	return f
}

// A straight line over log f passes a level where it must; a narrow dip is not what stays, and
// data that end count as staying.
func TestCurveSettles(t *testing.T) {
	f := grid(100, 10000)
	line := func(at, slope float64) Curve { // dB an octave, −6 dB at at
		c := Curve{X: f}
		for _, x := range f {
			c.Y = append(c.Y, -6-slope*math.Log2(x/at))
		}
		return c
	}
	changed := func(c Curve, low, high, y float64) Curve {
		for i, x := range f {
			if x > low && x < high {
				c.Y[i] = y
			}
		}
		return c
	}
	for what, c := range map[string]struct {
		curve Curve
		want  float64
	}{
		"a line":                             {line(1234, 5), 1234},
		"a line that ends soon after":        {line(9800, 5), 9800},
		"below from the first value on":      {line(50, 5), Absent},
		"never below":                        {line(20000, 5), Absent},
		"a dip of 0.38 octaves before":       {changed(line(3000, 5), 500, 650, -20), 3000},
		"a dip of 0.6 octaves before":        {changed(line(3000, 5), 500, 758, -20), f[slices.IndexFunc(f, func(x float64) bool { return x > 500 })]},
		"a gap in what stays":                {changed(line(3000, 5), 3500, 3800, Absent), Absent},
		"a gap where it crosses":             {changed(line(3000, 5), 2900, 3000, Absent), Absent},
		"the data end in gaps":               {changed(line(8000, 5), 9000, 1e6, Absent), 8000},
		"no width up to where one is narrow": {changed(line(1000, 5), 0, 3000, math.Inf(1)), f[slices.IndexFunc(f, func(x float64) bool { return x >= 3000 })]},
	} {
		// The dip's flank is a step of the grid.
		if got := c.curve.Settles(-6, 0.5); !(math.Abs(got/c.want-1) < 1e-9 || math.IsNaN(got) && math.IsNaN(c.want) || what == "a dip of 0.6 octaves before" && got <= c.want && got > c.want/math.Exp2(1.0/48)) {
			t.Errorf("%s: %g, want %g", what, got, c.want)
		}
	}
}

// A line over log f rises past a level where it must, whichever of its points are left out.
func TestCurveRises(t *testing.T) {
	c := Curve{X: grid(100, 2000)}
	for _, x := range c.X {
		c.Y = append(c.Y, 3*math.Log2(x/700))
	}
	for what, curve := range map[string]Curve{"all": c, "even": c.Second(0), "odd": c.Second(1)} {
		if got := curve.Rises(0); !(math.Abs(got/700-1) <= 1e-9) {
			t.Errorf("%s points: %g, want 700", what, got)
		}
	}
	if got := c.Rises(100); Given(got) {
		t.Errorf("past 100 at %g", got)
	}
	if got := c.Rises(-100); Given(got) {
		t.Errorf("above from the first on: past it at %g", got)
	}
}

func TestSecond(t *testing.T) {
	c := Curve{X: []float64{1, 2, 3, 4, 5, 6}, Y: []float64{1, 2, 3, 4, 5, 6}}
	for from, want := range [][]float64{{1, 3, 5, 6}, {2, 4, 6}} {
		if got := c.Second(from); !slices.Equal(got.X, want) || !slices.Equal(got.Y, want) {
			t.Errorf("from %d: %v, want %v", from, got, want)
		}
	}
	if got := c.Halved(func(c Curve) float64 { return float64(len(c.X)) }); !slices.Equal(got, []float64{4, 3}) {
		t.Errorf("halves of %v points", got)
	}
	if got := c.Halved(func(c Curve) float64 { return c.X[0] }); !slices.Equal(got, []float64{1, 2}) {
		t.Errorf("halves begin at %v", got)
	}
}

func TestBetween(t *testing.T) {
	c := Curve{X: []float64{800, 1000, 1250}}
	for _, x := range []struct {
		readings []float64
		from, to float64
	}{
		{nil, 1100, 1100},
		{[]float64{1100, 1210}, 1000, 1210},
		{[]float64{1000}, 1000, 1210},
		{[]float64{Absent, 1100}, 1000, 1210}, // the step below is 1000
	} {
		from, to := c.Between(1100, x.readings)
		if !(math.Abs(from-x.from) <= 1e-9 && math.Abs(to-x.to) <= 1e-9) {
			t.Errorf("%v: %g to %g, want %g to %g", x.readings, from, to, x.from, x.to)
		}
	}
	if from, to := c.Between(800, []float64{Absent}); from != 800 || to != 800 {
		t.Errorf("the lowest point lies between %g and %g: there is no step below it", from, to)
	}
	if from, to := c.Between(Absent, nil); Given(from) || Given(to) {
		t.Errorf("nothing found lies between %g and %g", from, to)
	}
	if got := Lacking([]float64{1, Absent}); got[0] != 1 || !math.IsInf(got[1], 1) {
		t.Errorf("lacking %v", got)
	}
}

// Few points, of which the rule in the comments of Rises and Settles decides each case.
func TestCurveOfFewPoints(t *testing.T) {
	inf := math.Inf(1)
	x := []float64{1, 2, 4, 8}
	for _, c := range []struct {
		what string
		y    []float64
		got  func(Curve) float64
		want float64
	}{
		{"rises in the first step", []float64{-1, 1}, func(c Curve) float64 { return c.Rises(0) }, math.Sqrt2},
		{"starts at the level", []float64{0, 1, 2}, func(c Curve) float64 { return c.Rises(0) }, Absent},
		{"rises to the level and no further", []float64{-1, 0, -1}, func(c Curve) float64 { return c.Rises(0) }, 2},
		{"rises from nothing", []float64{-inf, 1}, func(c Curve) float64 { return c.Rises(0) }, 2},
		{"settles in the first step", []float64{1, -1, -1}, func(c Curve) float64 { return c.Settles(0, 3) }, math.Sqrt2},
		{"at the level from the first on", []float64{0, -1, -1}, func(c Curve) float64 { return c.Settles(0, 3) }, Absent},
		{"settles at the level", []float64{1, 0, 0}, func(c Curve) float64 { return c.Settles(0, 3) }, 2},
		{"over at the last value", []float64{1, -1, -1, 1}, func(c Curve) float64 { return c.Settles(0, 3) }, Absent},
		{"over where the octaves end", []float64{1, -1, 1}, func(c Curve) float64 { return c.Settles(0, 1) }, Absent},
		{"over after the octaves end", []float64{1, -1, 1}, func(c Curve) float64 { return c.Settles(0, 0.9) }, math.Sqrt2},
	} {
		got := c.got(Curve{x[:len(c.y)], c.y})
		if Given(got) != Given(c.want) || math.Abs(got-c.want) > 1e-12 {
			t.Errorf("%s: %g, want %g", c.what, got, c.want)
		}
	}
}
