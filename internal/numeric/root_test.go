package numeric

import (
	"errors"
	"math"
	"testing"
)

// counted counts the evaluations of a function.
func counted(f func(float64) float64, n *int) func(float64) float64 {
	return func(x float64) float64 { *n++; return f(x) }
}

// side is −1 below x0 and 1 from there on: of it no search can know more than the sign.
func side(x0 float64) func(float64) float64 {
	return func(x float64) float64 {
		if x < x0 {
			return -1
		}
		return 1
	}
}

func TestRootAtTheEndsAndOfSmallValues(t *testing.T) {
	for _, x := range []float64{-3, 5} {
		var n int
		got, err := Root(counted(func(u float64) float64 { return u - x }, &n), -3, 5, 1e-12)
		if got != x || err != nil || n != 2 {
			t.Errorf("root at the end %g: %g, %v after %d evaluations", x, got, err, n)
		}
	}
	// The product of the values at the ends is below the smallest float64.
	got, err := Root(func(x float64) float64 { return 1e-200 * (x - 0.25) }, 0, 1, 1e-12)
	if math.Abs(got-0.25) > 1e-12 || err != nil {
		t.Errorf("root of small values at %g, %v", got, err)
	}
	for _, f := range []func(float64) float64{
		func(x float64) float64 { return math.Log(x) - 10 },                   // NaN at the lower end
		func(x float64) float64 { return math.Sqrt(-x) + 1 },                  // NaN at the upper end
		func(float64) float64 { return math.Inf(1) },                          // one sign
		func(x float64) float64 { return -math.Abs(math.Float64frombits(1)) }, // one sign, small
	} {
		if got, err := Root(f, -1, 1, 1e-12); !errors.Is(err, ErrNoBracket) || Given(got) {
			t.Errorf("no bracket: %g, %v", got, err)
		}
	}
}

// Where only the sign helps, the search halves the interval until it is as narrow as Brent's
// bound, 4ε|b| + xtol (Brent 1973, ch. 4.2): the number of halvings is the logarithm to base 2
// of what the interval was to that.
func TestRootHalvesWhereOnlyTheSignHelps(t *testing.T) {
	for _, c := range []struct {
		what         string
		x0, low, top float64
		xtol         float64
		halvings     int
	}{
		{"2⁻²⁰ of 1", 0.7, 0, 1, 0x1p-20, 20},
		{"just over 2⁻²⁰ of 1", 0.7, 0, 1, 0x1.01p-20, 20},
		{"just under 2⁻²⁰ of 1", 0.7, 0, 1, 0x0.ffp-20, 21},
		// 4ε|b| lies between 1.98 and 2 times 2⁻³⁰: a width of 2⁻³⁰.
		{"as the spacing allows", 1.995 * 0x1p20, 0x1p20, 0x1p21, 0, 50},
		// 4ε|b| is 1.4 times 2⁻³⁰: a width of 2⁻³⁰ too.
		{"as the spacing allows, nearer", 1.4 * 0x1p20, 0x1p20, 0x1p21, 0, 50},
		// 2⁻³⁰ + 1.4·2⁻³⁰: a width of 2⁻²⁹.
		{"both bounds together", 1.4 * 0x1p20, 0x1p20, 0x1p21, 0x1p-30, 49},
	} {
		var n int
		got, err := Root(counted(side(c.x0), &n), c.low, c.top, c.xtol)
		if width := c.xtol + 4*epsilon*math.Abs(c.x0); math.Abs(got-c.x0) > width || err != nil {
			t.Errorf("%s: %v, %v, want %v within %g", c.what, got, err, c.x0, width)
		}
		if n != c.halvings+2 {
			t.Errorf("%s: %d halvings, want %d", c.what, n-2, c.halvings)
		}
	}
}

// Where the function is straight, the first line through the ends finds the root; where its
// inverse is a parabola, the first parabola through three points does; elsewhere the digits
// grow by 1.6 times a step (Brent 1973, ch. 4.3). Halving would take 50 evaluations and more.
func TestRootIsFastWhereTheFunctionIsSmooth(t *testing.T) {
	for _, c := range []struct {
		what     string
		f        func(float64) float64
		low, top float64
		want     float64
		most     int
	}{
		{"a line", func(x float64) float64 { return 2*x - 0.5 }, -1, 1, 0.25, 4},
		{"a line, falling", func(x float64) float64 { return 0.5 - 2*x }, -1, 1, 0.25, 4},
		{"a line, ends exchanged", func(x float64) float64 { return 2*x - 0.5 }, 1, -1, 0.25, 4},
		{"a line whose root is exact", func(x float64) float64 { return x - 1 }, -1, 2, 1, 3},
		// The inverse is x = y² + 2y + ½.
		{"a parabola on its side", func(x float64) float64 { return math.Sqrt(x+0.5) - 1 }, 0, 4, 0.5, 6},
		{"a cube root, shifted", func(x float64) float64 { return x*x*x - 2 }, 0, 3, math.Cbrt(2), 11},
		{"a cube root, ends exchanged", func(x float64) float64 { return x*x*x - 2 }, 3, 0, math.Cbrt(2), 11},
		{"a logarithm", func(x float64) float64 { return math.Exp(x) - 5 }, -4, 4, math.Log(5), 14},
		{"a logarithm, falling", func(x float64) float64 { return 5 - math.Exp(x) }, -4, 4, math.Log(5), 14},
		{"a quarter turn", math.Cos, 0, 3, math.Pi / 2, 9},
		{"a line far off", func(x float64) float64 { return x - 1e6 - 1.0/3 }, 0, 3e6, 1e6 + 1.0/3, 5},
	} {
		for _, xtol := range []float64{1e-15, 1e-6} {
			var n int
			got, err := Root(counted(c.f, &n), c.low, c.top, xtol)
			if !(math.Abs(got-c.want) <= xtol+4*epsilon*math.Abs(c.want)) || err != nil {
				t.Errorf("%s: %.17g, %v, want %.17g", c.what, got, err, c.want)
			}
			if n > c.most {
				t.Errorf("%s to %g: %d evaluations, want at most %d", c.what, xtol, n, c.most)
			}
		}
	}
}

// The parabola x = t + y/2 + (½ − t)y² passes through b = 0 at y = −1, through c = 1 at y = 1
// and through y = 0 at t; at y = −2 it is at a = 1 − 3t. The step to t is taken where Brent's
// rules allow (1973, ch. 4.2): it ends before three quarters of the way to c, less half the
// tolerance, is less than half of the one before the last, and that is no less than the
// tolerance. Otherwise the interval is halved.
func TestBrentStep(t *testing.T) {
	const half = 0.5
	for _, c := range []struct{ t, e, tol, want float64 }{
		{0.3, 2, 0, 0.3},
		{0.74, 2, 0, 0.74}, {0.76, 2, 0, half},
		{0.72, 2, 0.04, 0.72}, {0.74, 2, 0.04, half},
		{0.72, 1.45, 0, 0.72}, {0.72, 1.43, 0, half}, {0.72, -1.45, 0, 0.72},
		{0.004, 0.01, 0.009, 0.004}, {0.004, 0.01, 0.011, half},
	} {
		const before = 0.125 // the last step
		for _, sign := range []float64{1, -1} {
			for _, scale := range []float64{1, 0.01} {
				step, previous := brentStep(sign*scale*(1-3*c.t), 0, sign*scale, -2, -1, 1, sign*scale*before, scale*c.e, sign*scale*half, scale*c.tol)
				wantPrevious := sign * scale * before
				if c.want == half {
					wantPrevious = sign * scale * half
				}
				if math.Abs(step-sign*scale*c.want) > 1e-14 || math.Abs(previous-wantPrevious) > 1e-14 {
					t.Errorf("t = %g, e = %g, tol = %g: step %g after %g, want %g after %g", c.t, c.e, c.tol, step, previous, sign*scale*c.want, wantPrevious)
				}
			}
		}
	}
	// Through two points it is a line: −b(y)/slope. With y = 3 at a = 2 and −1 at b = 0 the root
	// is a quarter of the way; the value at a must be the greater.
	if step, _ := brentStep(2, 0, 2, 3, -1, 3, 2, 2, 1, 0); math.Abs(step-0.5) > 1e-15 {
		t.Errorf("line: step %g, want 0.5", step)
	}
	if step, _ := brentStep(2, 0, 2, 0.9, -1, 0.9, 2, 2, 1, 0); step != 1 {
		t.Errorf("the nearer value at a: step %g, want the half, 1", step)
	}
}

// Three points of y = ±(x − x0)² fix the way from the first to the vertex, x0.
func TestParabola(t *testing.T) {
	for _, sign := range []float64{1, -1} {
		for _, x0 := range []float64{-0.7, 0.1, 2} {
			f := func(x float64) float64 { return sign*0.3*(x-x0)*(x-x0) + 7 }
			for _, x := range [][3]float64{{0, 1, 3}, {3, 1, 0}, {1, 3, 0}, {-2, 0.5, 0.25}} {
				p, q := parabola(x[0], x[1], x[2], f(x[0]), f(x[1]), f(x[2]))
				if want := x0 - x[0]; !(q >= 0) || math.Abs(p/q-want) > 1e-13 {
					t.Errorf("vertex at %g from %v: step %g/%g, want %g", x0, x, p, q, want)
				}
			}
		}
	}
}

// Brent's rules for the step (1973, ch. 5.4): to the vertex when it lies inside the interval, is
// nearer than half the step before the last, and that is over the tolerance; a golden section of
// the wider side otherwise. Within twice the tolerance of an end it is the tolerance, to the wider
// side.
func TestMinimumStep(t *testing.T) {
	golden := (3 - math.Sqrt(5)) / 2
	const last = 0.0625
	for _, c := range []struct {
		what                      string
		low, high, vertex, e, tol float64
		want, previous            float64
	}{
		{"to the vertex", -1, 2, 0.5, 3, 0.01, 0.5, last},
		{"below", -1, 2, -0.5, 3, 0.01, -0.5, last},
		{"past the lower end", -1, 2, -1.2, 5, 0.01, golden * 2, 2},
		{"past the upper end", -2, 1, 1.2, 5, 0.01, golden * -2, -2},
		{"just under half of e", -1, 2, 0.49, 1, 0.01, 0.49, last},
		{"just over half of e", -1, 2, 0.51, 1, 0.01, golden * 2, 2},
		{"just under half of a step back", -1, 2, 0.49, -1, 0.01, 0.49, last},
		{"down, just over half of e", -2, 1, -0.51, 1, 0.01, golden * -2, -2},
		{"e over the tolerance", -1, 2, 0.005, 0.02, 0.019, 0.005, last},
		{"e under the tolerance", -1, 2, 0.005, 0.02, 0.021, golden * 2, 2},
		{"just over 2 tol from the upper end", -1, 2, 1.79, 5, 0.1, 1.79, last},
		{"just under 2 tol from the upper end", -3, 2, 1.81, 5, 0.1, -0.1, last},
		{"just over 2 tol from the lower end", -2, 3, -1.79, 5, 0.1, -1.79, last},
		{"just under 2 tol from the lower end", -2, 3, -1.81, 5, 0.1, 0.1, last},
		{"no parabola", -1, 2, math.NaN(), 3, 0.01, golden * 2, 2},
	} {
		for _, q := range []float64{1, 0.3, 4} {
			step, previous := minimumStep(c.low, c.high, c.vertex*q, q, last, c.e, c.tol)
			if !(math.Abs(step-c.want) < 1e-12 && math.Abs(previous-c.previous) < 1e-12) {
				t.Errorf("%s: step %g after %g, want %g after %g", c.what, step, previous, c.want, c.previous)
			}
		}
	}
}

// Where the function only falls, the points are those of golden sections: each divides the part
// that is left in the ratio (3 − √5)/2.
func TestMinimumAtAnEnd(t *testing.T) {
	golden := (3 - math.Sqrt(5)) / 2
	for _, c := range []struct {
		slope, low, top float64
	}{{1, 2, 5}, {-1, 2, 5}, {1, -3, 1}, {-1, -3, 1}} {
		var xs []float64
		x := Minimum(func(x float64) float64 { xs = append(xs, x); return c.slope * x }, c.low, c.top, 1e-4)
		end, to := c.low, 1.0
		if c.slope < 0 {
			end, to = c.top, -1
		}
		if !(math.Abs(x-end) < 1e-4) {
			t.Errorf("slope %g in [%g, %g]: minimum at %g", c.slope, c.low, c.top, x)
		}
		// The first of all is the one nearer the lower end.
		from, width := 0, c.top-c.low
		if c.slope < 0 {
			from = 1
			if want := c.low + golden*width; math.Abs(xs[0]-want) > 1e-12 {
				t.Errorf("first point %g, want %g", xs[0], want)
			}
		}
		// Those that lead to the end lie 1 − golden nearer it each time. The second looks the other way.
		left := width * golden
		for i := from; i < 12; i++ {
			if i == 1 && from == 0 {
				if want := end + to*(width*(1-golden)); math.Abs(xs[1]-want) > 1e-12 {
					t.Errorf("slope %g: second point %g, want %g", c.slope, xs[1], want)
				}
				continue
			}
			if want := end + to*left; math.Abs(xs[i]-want) > 1e-12 {
				t.Errorf("slope %g: point %d at %.15g, want %.15g", c.slope, i, xs[i], want)
			}
			left *= 1 - golden
		}
	}
}

// Near a minimum the function is a parabola, and the points close in on it at the order 1.3
// (Brent 1973, ch. 5.4); golden sections alone would take 44 evaluations for nine digits. The
// points that end the search lie the tolerance to either side.
func TestMinimumIsFastWhereTheFunctionIsSmooth(t *testing.T) {
	for _, c := range []struct {
		what     string
		f        func(float64) float64
		low, top float64
		want     float64
		most     int
	}{
		{"a parabola", func(x float64) float64 { return (x - 0.3) * (x - 0.3) }, -1, 2, 0.3, 7},
		{"a parabola mirrored", func(x float64) float64 { return (x + 0.3) * (x + 0.3) }, -2, 1, -0.3, 7},
		{"a cosine", func(x float64) float64 { return -math.Cos(x - 1) }, 0, 3, 1, 11},
		{"x − ln x", func(x float64) float64 { return x - math.Log(x) }, 0.1, 4, 1, 14},
		{"x − ln x mirrored", func(x float64) float64 { return -x - math.Log(-x) }, -4, -0.1, -1, 14},
		// x⁴ is flat: the parabola is of little help.
		{"a fourth power", func(x float64) float64 { return math.Pow(x-1, 4) }, -1, 2, 1, 40},
	} {
		for _, xtol := range []float64{1e-7, 1e-4} {
			var n int
			got := Minimum(counted(c.f, &n), c.low, c.top, xtol)
			if !(math.Abs(got-c.want) <= max(xtol, 3e-8)) && c.what != "a fourth power" {
				t.Errorf("%s: %.17g, want %.17g", c.what, got, c.want)
			}
			if n > c.most {
				t.Errorf("%s to %g: %d evaluations, want at most %d", c.what, xtol, n, c.most)
			}
		}
	}
}

// How narrow the search makes the interval: it ends with both ends within xtol/2 of the point. A
// function that only rises leaves after k golden sections an interval of (1 − golden)^k of the
// first, up to the point before the last.
func TestMinimumEndsAtItsTolerance(t *testing.T) {
	for _, xtol := range []float64{1e-2, 5e-3, 2e-3, 1e-3, 1e-5} {
		var n int
		Minimum(counted(func(x float64) float64 { return x }, &n), 0, 1, xtol)
		if k := math.Log(xtol/2) / math.Log((math.Sqrt(5)-1)/2); !(float64(n) >= k && float64(n) < k+1) {
			t.Errorf("to %g: %d evaluations, want %.2f made whole", xtol, n, k)
		}
	}
}

func TestFirstCrossing(t *testing.T) {
	for _, c := range []struct {
		what      string
		a, b, h   float64
		want      float64
		evaluated float64 // the highest abscissa
	}{
		{"the first of several", 0.5, 20, 0.7, math.Pi, 3.3},
		{"rising", 4, 20, 0.7, 2 * math.Pi, 6.8},
		{"in the first step", 3, 20, 0.5, math.Pi, 3.5},
		{"in the last, short step", 1, 3.2, 0.75, math.Pi, 3.2},
		{"past the end", 1, 3.1, 0.7, Absent, 3.1},
		{"at the end of a step", math.Pi - 0.5, 20, 0.5, math.Pi, math.Pi + 0.5},
		{"begun at the crossing", 0, 3, 0.7, Absent, 3},
		{"one step", 3, 3.5, 0.5, math.Pi, 3.5},
		{"below nought", -4, 1, 0.7, -math.Pi, -2.6},
	} {
		top := math.Inf(-1)
		got, ok := FirstCrossing(func(x float64) float64 { top = max(top, x); return math.Sin(x) }, c.a, c.b, c.h, 1e-12)
		if ok != Given(c.want) || Given(got) != ok || math.Abs(got-c.want) > 1e-11 || top > c.evaluated+1e-12 {
			t.Errorf("%s: %g, %v, looked up to %g; want %g, up to %g", c.what, got, ok, top, c.want, c.evaluated)
		}
	}
	// 0 counts as above: a function that touches it from below crosses, one from above does not.
	touch := func(x float64) float64 { return -math.Abs(x - 1) }
	if got, ok := FirstCrossing(touch, 0, 2, 1, 1e-12); !ok || got != 1 {
		t.Errorf("touched from below: %g, %v", got, ok)
	}
	if got, ok := FirstCrossing(func(x float64) float64 { return -touch(x) }, 0, 2, 1, 1e-12); ok {
		t.Errorf("touched from above: %g", got)
	}
}
