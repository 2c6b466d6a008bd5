package outside

import (
	"math"
	"math/cmplx"
	"testing"

	"gapline/cabinet/field"
	"gapline/internal/air"
)

// The sound that goes out all round is the power that the cones give off, Σ Re(U* Z U), within the 1 %
// to which surface and far field agree on elements of a third of a wavelength (0.8 % seen, 0.36 % on half as
// long ones); and in both planes it is what the planes hold.
func TestSphereHoldsThePower(t *testing.T) {
	for _, name := range []string{"hatch", "hatch-insert", "hatch-mids"} {
		d := starter(t, name)
		r := solve(t, d, Task{Frequencies: []float64{300, 600}, Sphere: true})
		p := r.Pattern()
		if p == nil {
			t.Fatal("no pattern")
		}
		if err := p.Validate(); err != nil {
			t.Fatal(err)
		}
		a := air.Of(d.Air)
		for i, f := range r.Frequency {
			if got, want := allRound(p.Pressure[i], p.Rings)/(a.Density*a.SoundSpeed), givenOff(r, i, d.WoofersPerBox()); math.Abs(got/want-1) > 0.01 {
				t.Errorf("%s at %g Hz: %g W go out, %g W are given off", name, f, got, want)
			}
			for k, angle := range r.Angle {
				sin, cos := math.Sincos(angle)
				for _, c := range []struct {
					u    field.Vec
					want complex128
				}{{field.Vec{X: cos, Z: sin}, r.Vertical[i][k]}, {field.Vec{X: cos, Y: sin}, r.Horizontal[i][k]}} {
					// The cubics leave 0.0015 in each of two directions.
					if got := p.At(c.u, f); cmplx.Abs(got-c.want) > 0.003*cmplx.Abs(r.Vertical[i][ahead]) {
						t.Fatalf("%s at %g Hz towards %v: %v, the plane has %v", name, f, c.u, got, c.want)
					}
				}
			}
		}
	}
	if r := solve(t, starter(t, "hatch"), Task{Frequencies: []float64{300}}); r.Pattern() != nil || r.Sphere != nil {
		t.Error("a pattern that was not asked for")
	}
}

// allRound is the integral of |p|² over the sphere: by the ring's exact zone where |p|² is straight over
// cos θ, which is good to the square of the step.
func allRound(p []complex128, rings int) float64 {
	sum, step := 0.0, math.Pi/float64(rings)
	for i := range rings + 1 {
		low, high := math.Max(0, (float64(i)-0.5)*step), math.Min(math.Pi, (float64(i)+0.5)*step)
		zone := 2 * math.Pi * (math.Cos(low) - math.Cos(high)) / float64(2*rings)
		for _, x := range p[i*2*rings : (i+1)*2*rings] {
			sum += zone * real(x*cmplx.Conj(x))
		}
	}
	return sum
}

// givenOff is the power of all cones, W.
func givenOff(r *Result, i, cones int) float64 {
	each := float64(cones) / float64(len(r.Flow[i]))
	sum := 0.0
	for k, row := range r.Load[i] {
		for m, z := range row {
			sum += each * real(cmplx.Conj(r.Flow[i][k])*z*r.Flow[i][m])
		}
	}
	return sum
}
