package field

import (
	"context"
	"math"
	"math/cmplx"
	"testing"

	"gapline/internal/reftable"
)

// noSeats is a beam straight ahead without seats.
func noSeats() BeamSpec { return BeamSpec{SeatsFrom: math.NaN(), SeatsTo: math.NaN()} }

// rowOf samples a level over ±90°, a tenth of a degree apart.
func rowOf(level func(deg float64) float64) (angle, out []float64) {
	angle = Angles(1801, math.Pi)
	for _, a := range angle {
		out = append(out, level(a*180/math.Pi))
	}
	return angle, out
}

// tent is a level that falls by slope dB a degree on both sides of a direction.
func tent(top, at, slope float64) func(float64) float64 {
	return func(deg float64) float64 { return top - slope*math.Abs(deg-at) }
}

// loudestOf is the loudest of several.
func loudestOf(parts ...func(float64) float64) func(float64) float64 {
	return func(deg float64) float64 {
		out := -60.0
		for _, p := range parts {
			out = math.Max(out, p(deg))
		}
		return out
	}
}

// Straight flanks have their edges where 6 dB over the slope says.
func TestBeamOfStraightFlanks(t *testing.T) {
	const tol = 1e-9 // the edges lie on straight lines
	angle, level := rowOf(loudestOf(tent(3, -10, 0.5), tent(-1, 40, 2)))
	b := BeamOf(angle, level, noSeats())
	reftable.Within(t, "aim", b.Aim, rad(-10), tol)
	reftable.Within(t, "level", b.Level, 3, tol)
	reftable.Within(t, "lower", b.Lower, rad(-22), tol)
	reftable.Within(t, "upper", b.Upper, rad(2), tol)
	reftable.Within(t, "lobe", b.Lobe, -4, tol)
	reftable.Within(t, "its place", b.LobeAt, rad(40), tol)
}

// What a curved stack fills from boxes in several directions is one beam, however deep
// the dips; the same peaks outside the boxes' directions are lobes, and at seats they
// are none.
func TestBeamBridgesDipsBetweenBoxes(t *testing.T) {
	const tol = 1e-9
	row := loudestOf(tent(0, 1, 4), tent(-1, 9, 4), tent(-2, 17, 4))
	for _, c := range []struct {
		name                string
		to                  float64 // highest box
		seats               [2]float64
		upper, lobe, lobeAt float64
	}{
		{"all boxes", 17, [2]float64{math.NaN(), math.NaN()}, 18, math.NaN(), math.NaN()},
		{"two of three", 10, [2]float64{math.NaN(), math.NaN()}, 10.25, -2, 17},
		{"one", 1, [2]float64{math.NaN(), math.NaN()}, 2.5, -1, 9},
		{"one, seats over the second", 1, [2]float64{-30, 12}, 2.5, -2, 17},
	} {
		angle, level := rowOf(row)
		b := BeamOf(angle, level, BeamSpec{From: rad(0), To: rad(c.to), SeatsFrom: rad(c.seats[0]), SeatsTo: rad(c.seats[1])})
		reftable.Within(t, c.name+": upper", b.Upper, rad(c.upper), tol)
		reftable.Within(t, c.name+": lower", b.Lower, rad(-0.5), tol)
		for _, v := range []struct{ got, want float64 }{{b.Lobe, c.lobe}, {b.LobeAt, rad(c.lobeAt)}} {
			if math.IsNaN(v.want) != math.IsNaN(v.got) || math.Abs(v.got-v.want) > tol {
				t.Errorf("%s: lobe %g dB at %g°, want %g dB at %g°", c.name, b.Lobe, b.LobeAt*180/math.Pi, c.lobe, c.lobeAt)
			}
		}
	}
}

// An edge that does not exist is infinite, and so is the width; equal peaks on both
// sides of a symmetrical pattern are one beam.
func TestBeamWithoutEdges(t *testing.T) {
	angle, level := rowOf(func(deg float64) float64 { return -math.Max(deg, 0) / 10 })
	if b := BeamOf(angle, level, noSeats()); !math.IsInf(b.Lower, -1) || math.Abs(b.Upper-rad(60)) > 1e-9 || !math.IsInf(b.Width(), 1) {
		t.Errorf("beam %+v", b)
	}
	angle, level = rowOf(loudestOf(tent(0, 30, 1), tent(0, -30, 1)))
	s := noSeats()
	s.Whole = true
	reftable.Within(t, "both", BeamOf(angle, level, s).Width(), rad(72), 1e-9)
	if b := BeamOf([]float64{0, 1}, []float64{math.NaN(), math.NaN()}, noSeats()); !math.IsNaN(b.Aim) || !math.IsNaN(b.Width()) {
		t.Errorf("beam of nothing %+v", b)
	}
}

// A uniform line of length L falls by 6 dB where πL·sin θ/λ = 1.8955 (sinc² = 1/4 to
// −6.021 dB; −6.000 dB: 1.8927, table rect_angles).
func TestBeamOfAUniformLine(t *testing.T) {
	angle := Angles(7201, math.Pi)
	for _, lengths := range []float64{4, 20} { // in wavelengths
		level := make([]float64, len(angle))
		for i, a := range angle {
			x := math.Pi * lengths * math.Sin(a)
			level[i] = 0
			if x != 0 {
				level[i] = 20 * math.Log10(math.Abs(math.Sin(x)/x))
			}
		}
		b := BeamOf(angle, level, noSeats())
		reftable.Near(t, "width", b.Width(), 2*math.Asin(1.8927/(math.Pi*lengths)), 1e-3)
		reftable.Within(t, "first side lobe", b.Lobe, -13.26, 0.01)
	}
}

// curvedPoints is an invented curved stack of small mouths.
func curvedPoints(n int, turn float64) Stack {
	s := Stack{Boxes: Repeat(Box{Height: 0.3, Width: 0.5, Depth: 0.4, Mouths: []Mouth{{Kind: Point}}}, n), Drives: []Drive{{}}, TopHeight: math.NaN()}
	s.Splay = Arc(n, turn)
	return s
}

// Across is the plain mean of |Σ e^{jk·x}|² over cones about the stack's upright,
// summed here point by point.
func TestLevelAcrossAgainstDirectSum(t *testing.T) {
	const tol = 0.01 // dB: that of the field's phasor tables, well inside
	e, err := New(curvedPoints(6, rad(20)), Options{Tolerance: 1e-5})
	if err != nil {
		t.Fatal(err)
	}
	up := []float64{rad(-8), 0, rad(3), rad(9)}
	angles := []float64{0, rad(25), rad(-60), rad(90)}
	hz := []float64{400, 3000}
	got, err := e.LevelAcross(context.Background(), PolarSpec{Angle: angles, Frequency: hz, Distance: math.Inf(1), Axis: math.NaN()}, up)
	if err != nil {
		t.Fatal(err)
	}
	down := e.AxisAngle()
	forward, upright := Vec{math.Cos(down), 0, -math.Sin(down)}, Vec{math.Sin(down), 0, math.Cos(down)}
	for i, f := range hz {
		k := 2 * math.Pi * f / e.SoundSpeed()
		for j, a := range angles {
			mean := 0.0
			for _, el := range up {
				d := forward.Scale(math.Cos(el) * math.Cos(a)).Add(Vec{Y: 1}.Scale(math.Cos(el) * math.Sin(a))).Add(upright.Scale(math.Sin(el)))
				var p complex128
				for _, m := range e.sources {
					x := m.middle.Sub(e.centre)
					p += cmplx.Exp(complex(0, k*(x.X*d.X+x.Y*d.Y+x.Z*d.Z)))
				}
				mean += real(p*cmplx.Conj(p)) / float64(len(up))
			}
			reftable.Within(t, "level", got.Level[i][j], 10*math.Log10(mean), tol)
		}
		reftable.Within(t, "ahead", got.OnAxis[i], got.Level[i][0], 1e-9)
	}
}

// With one elevation, that of the axis, it is the polar in the plane.
func TestLevelAcrossInThePlaneIsThePolar(t *testing.T) {
	e, err := New(sampleStack(4), Options{})
	if err != nil {
		t.Fatal(err)
	}
	s := PolarSpec{Plane: Horizontal, Angle: Angles(19, math.Pi), Frequency: []float64{500, 4000}, Distance: 12, Axis: math.NaN()}
	want, err := e.Polar(context.Background(), s)
	if err != nil {
		t.Fatal(err)
	}
	got, err := e.LevelAcross(context.Background(), s, []float64{0})
	if err != nil {
		t.Fatal(err)
	}
	for i := range want.Level {
		for j, l := range want.Level[i] {
			reftable.Within(t, "level", got.Level[i][j], l, 1e-9)
		}
	}
}
