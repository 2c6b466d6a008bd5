package sizing_test

import (
	"math"
	"testing"

	"gapline/cabinet/sizing"
	"gapline/internal/quantity"
	"gapline/internal/reftable"

	"pgregory.net/rapid"
)

// minusSix is a pressure ratio of −6.000 dB.
var minusSix = math.Pow(10, -6.0/20)

// points are two columns of points s apart.
func points(s float64) sizing.Columns {
	return sizing.Columns{{Y: s / 2}, {Y: -s / 2}}
}

// unflat sets one column back by nothing that counts, so that the searches over angle
// and frequency run in place of the closed forms of columns in one plane.
func unflat(cs sizing.Columns) sizing.Columns {
	out := append(sizing.Columns(nil), cs...)
	out[0].X = 1e-13
	return out
}

// Two points s apart radiate |cos(ks/2·sin θ)|: −6 dB at sin θ = acos(10^(−6/20))/(ks/2),
// nothing at s·sin θ = λ/2.
func TestTwoPoints(t *testing.T) {
	for _, s := range []float64{0.1, 0.35, 0.6} {
		for _, waves := range []float64{0.55, 0.8, 1.3, 2.6} { // s/λ
			k := 2 * math.Pi * waves / s
			edge, null := math.Asin(math.Acos(minusSix)/(k*s/2)), math.Asin(1/(2*waves))
			for name, cs := range map[string]sizing.Columns{"flat": points(s), "searched": unflat(points(s))} {
				reftable.Near(t, name+": width", cs.Width(k), 2*edge, 1e-9)
				reftable.Near(t, name+": reach", cs.Reach(edge), k, 1e-9)
				ratio, at := cs.Deepest(k, math.Min(null*1.2, math.Pi/2))
				if reftable.Near(t, name+": null", at, null, 1e-6); ratio != 1e-3 { // 60 dB stand for a null
					t.Errorf("%s: level at the null %g", name, ratio)
				}
				ratio, at = cs.Deepest(k, null/2)
				reftable.Near(t, name+": level at the edge", ratio, math.Cos(k*s/2*math.Sin(null/2)), 1e-10) // what the 1e-13 m of unflat leave
				reftable.Near(t, name+": edge", at, null/2, 1e-12)
			}
		}
	}
	if w := points(0.2).Width(2 * math.Pi); !math.IsNaN(w) { // s/λ = 0.2: −1.8 dB at 90°
		t.Errorf("columns a fifth of a wave apart are %g wide", w)
	}
}

// The arithmetic of the request for these figures: cones 470 mm apart null 24° off the
// axis at 891 Hz.
func TestConesOfTheRequest(t *testing.T) {
	cones := points(0.47)
	for i := range cones {
		cones[i].Width, cones[i].Shape = 0.2, sizing.Circle
	}
	ratio, at := cones.Deepest(2*math.Pi*891/343.99, 45*math.Pi/180) // 20 °C
	if ratio != 1e-3 {
		t.Errorf("level of the null: %g", ratio)
	}
	reftable.Within(t, "null in degrees", at*180/math.Pi, 24, 0.5) // the request gives whole degrees
}

// One column is as wide as its mouth: the −6 dB angles of the reference tables, and the
// published half-pressure point of a piston, ka·sin θ = 2.215, within the digits given.
func TestOneColumnIsItsMouth(t *testing.T) {
	const a = 0.1
	disc := sizing.Columns{{Width: 2 * a, Shape: sizing.Circle}}
	for _, r := range reftable.Read(t, "piston_angles") {
		want := r.Get("theta_m6dB_deg")
		got := disc.Width(r.Get("ka")/a) / 2 * 180 / math.Pi
		if math.IsNaN(want) != math.IsNaN(got) {
			t.Errorf("%s: half width %g, want %g", r.Name, got, want)
		}
		reftable.Near(t, r.Name, got, want, 1e-9)
		reftable.Near(t, r.Name+": searched", unflat(disc).Width(r.Get("ka")/a)/2*180/math.Pi, want, 1e-9)
		if want > 1 {
			reftable.Near(t, r.Name+": reach", disc.Reach(want*math.Pi/180), r.Get("ka")/a, 1e-9)
		}
	}
	reftable.Within(t, "half pressure", disc.Pressure(2.215/a, math.Pi/2), 0.5, 1e-4)
	const w = 0.25
	slot := sizing.Columns{{Width: w, Shape: sizing.Strip}}
	for _, r := range reftable.Read(t, "rect_angles") {
		got, want := slot.Width(2*math.Pi*r.Get("h_over_lambda")/w)*180/math.Pi, r.Get("beamwidth6_deg")
		if math.IsNaN(want) != math.IsNaN(got) {
			t.Errorf("%s: width %g, want %g", r.Name, got, want)
		}
		reftable.Near(t, r.Name, got, want, 1e-9)
	}
}

// drawColumns draws columns that stand beside each other, none far behind the other.
func drawColumns(t *rapid.T) sizing.Columns {
	cs := make(sizing.Columns, rapid.IntRange(1, 4).Draw(t, "columns"))
	shape := rapid.SampledFrom([]sizing.Shape{sizing.Circle, sizing.Strip}).Draw(t, "shape")
	width := rapid.Float64Range(0.1, 0.4).Draw(t, "width")
	y := rapid.Float64Range(-0.5, 0.5).Draw(t, "middle")
	for i := range cs {
		y += width + rapid.Float64Range(0, 0.4).Draw(t, "between")
		cs[i] = sizing.Column{Width: width, Shape: shape, Y: y,
			X:    rapid.Float64Range(-0.1, 0).Draw(t, "x"),
			Turn: rapid.Float64Range(-0.8, 0.8).Draw(t, "turn")}
	}
	return cs
}

// sumOfPoints radiates from n points on the line across each mouth, each weighted with
// the mouth's height there.
func sumOfPoints(cs sizing.Columns, k, angle float64, n int) float64 {
	sum := complex128(0)
	for _, c := range cs {
		total := 0.0
		mouth := complex128(0)
		for i := range n {
			u := (float64(i)+0.5)/float64(n)*2 - 1 // from edge to edge
			height := 1.0
			if c.Shape == sizing.Circle {
				height = math.Sqrt(1 - u*u)
			}
			x, y := c.X-u*c.Width/2*math.Sin(c.Turn), c.Y+u*c.Width/2*math.Cos(c.Turn)
			phase := k * (y*math.Sin(angle) + x*math.Cos(angle))
			mouth += complex(height*math.Cos(phase), height*math.Sin(phase))
			total += height
		}
		sum += mouth / complex(total, 0)
	}
	return math.Hypot(real(sum), imag(sum))
}

// The product of patterns is the sum over the points of all mouths.
func TestColumnsAreASumOfPoints(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		cs := drawColumns(t)
		k := rapid.Float64Range(0.5, 60).Draw(t, "k")
		angle := rapid.Float64Range(-0.75, 0.75).Draw(t, "angle") // in front of every mouth
		got, want := cs.Pressure(k, angle), sumOfPoints(cs, k, angle, 4000)
		if math.Abs(got-want) > 2e-5*float64(len(cs)) { // the edge of a disc: error of order n^(−3/2)
			t.Fatalf("%g, the sum gives %g", got, want)
		}
	})
}

// Width, dip and reach are those of a slow walk over angles and frequencies.
func TestColumnsAgainstAWalk(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		cs := drawColumns(t)
		k := rapid.Float64Range(1, 40).Draw(t, "k")
		half := rapid.Float64Range(0.2, 1.4).Draw(t, "half")
		axis := cs.Pressure(k, 0)
		if axis < 0.05 {
			t.Skip("the columns cancel on the axis")
		}
		const step = 5e-4
		lowest, width := 1.0, 0.0
		for _, side := range []float64{1, -1} {
			edge := math.NaN()
			for a := 0.0; a < math.Pi/2; a += step {
				r := cs.Pressure(k, side*a) / axis
				if a <= half {
					lowest = math.Min(lowest, r)
				}
				if math.IsNaN(edge) && r < minusSix {
					edge = a
				}
			}
			width += edge
		}
		lowest = math.Max(lowest, 1e-3)
		ratio, at := cs.Deepest(k, half)
		// Two levels within 1e-6 are one dip. The walk misses the lowest point by less than a
		// step's change, k·extent·step.
		if ratio > lowest*(1+2e-6) || ratio < lowest-60*step/axis || math.Abs(at) > half+1e-12 {
			t.Fatalf("worst level %g at %g, the walk finds %g", ratio, at, lowest)
		}
		if got := math.Max(cs.Pressure(k, at)/axis, 1e-3); math.Abs(got-ratio) > 1e-6 {
			t.Fatalf("level %g at the angle of the dip, want %g", got, ratio)
		}
		// A level that only touches −6 dB may count as a fall or not.
		if got := cs.Width(k); math.IsNaN(got) != math.IsNaN(width) || math.Abs(got-width) > 3*step {
			if !touches(cs, k, axis) {
				t.Fatalf("width %g, the walk finds %g", got, width)
			}
		}
	})
}

// touches reports whether the level has a minimum or maximum within rounding of −6 dB,
// or passes it near 90°.
func touches(cs sizing.Columns, k, axis float64) bool {
	const step = 1e-4
	for a := -math.Pi / 2; a < math.Pi/2; a += step {
		r0, r1, r2 := cs.Pressure(k, a-step)/axis, cs.Pressure(k, a)/axis, cs.Pressure(k, a+step)/axis
		turns := (r1-r0)*(r2-r1) <= 0
		if math.Abs(r1-minusSix) < 0.02 && (turns || math.Pi/2-math.Abs(a) < 2*step) {
			return true
		}
	}
	return false
}

// Below the reach every level within the angle is above −6 dB, and right above it one is
// there or below: columns one behind the other may null the axis, and then jump.
func TestReach(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		cs := drawColumns(t)
		half := rapid.Float64Range(0.2, 1.4).Draw(t, "half")
		reach := cs.Reach(half)
		if math.IsInf(reach, 1) {
			t.Skip("no limit")
		}
		lowest := func(k float64) float64 {
			axis, least := cs.Pressure(k, 0), 1.0
			for i := -400; i <= 400; i++ {
				least = math.Min(least, cs.Pressure(k, half*float64(i)/400)/axis)
			}
			return least
		}
		for i := 1; i < 100; i++ {
			// The scan may step over a level that touches −6 dB and rises again.
			if k := reach * float64(i) / 100; lowest(k) < minusSix-0.02 {
				t.Fatalf("level %g at k = %g, under the reach of %g", lowest(k), k, reach)
			}
		}
		above := reach * (1 + 1e-6)
		found, _ := cs.Deepest(above, half) // where the grid of angles misses a null
		if got := math.Min(lowest(above), found); got > minusSix {
			t.Fatalf("level right above the reach %g", got)
		}
	})
}

// Mirrored columns have mirrored patterns: equal widths and reaches, the dip on the other
// side, or on the left where both are alike.
func TestMirroredColumns(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		cs := drawColumns(t)
		mirrored := append(sizing.Columns(nil), cs...)
		for i := range mirrored {
			mirrored[i].Y, mirrored[i].Turn = -cs[i].Y, -cs[i].Turn
		}
		k, half := rapid.Float64Range(1, 40).Draw(t, "k"), rapid.Float64Range(0.2, 1.4).Draw(t, "half")
		same := func(what string, a, b float64) {
			if math.Abs(a-b) > 1e-6*math.Abs(a)+1e-9 || math.IsNaN(a) != math.IsNaN(b) {
				t.Fatalf("%s: %g, mirrored %g", what, a, b)
			}
		}
		same("width", cs.Width(k), mirrored.Width(k))
		same("reach", cs.Reach(half), mirrored.Reach(half))
		ratio, at := cs.Deepest(k, half)
		ratioMirrored, atMirrored := mirrored.Deepest(k, half)
		same("dip", ratio, ratioMirrored)
		if math.Abs(at+atMirrored) > 1e-6 {
			same("level on both sides", math.Max(cs.Pressure(k, at)/cs.Pressure(k, 0), 1e-3), math.Max(mirrored.Pressure(k, at)/cs.Pressure(k, 0), 1e-3))
		}
	})
}

// Of two dips alike on both sides the left one is told.
func TestSymmetricDipIsToldOnTheLeft(t *testing.T) {
	turned := sizing.Columns{
		{Y: 0.2, Turn: 20 * quantity.Degree, Width: 0.15, Shape: sizing.Circle},
		{Y: -0.2, Turn: -20 * quantity.Degree, Width: 0.15, Shape: sizing.Circle},
	}
	if ratio, at := turned.Deepest(2*math.Pi*1200/344, 0.8); ratio >= 1 || at <= 0 {
		t.Errorf("dip of %g at %g", ratio, at)
	}
}
