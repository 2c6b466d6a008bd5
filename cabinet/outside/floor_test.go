package outside

import (
	"math"
	"math/cmplx"
	"testing"

	"gapline/cabinet/surface"
	"gapline/internal/air"
	"gapline/internal/bem3"
	"gapline/internal/optional"
)

// A rigid floor is the box's image below it (L. E. Kinsler et al., Fundamentals of Acoustics, 4th
// ed. 2000, sec. 7.4 B: method of images): load and far field are those of the whole surface of
// both, solved without a plane.
func TestFloorAgainstTheFullMesh(t *testing.T) {
	d := starter(t, "hatch")
	for _, height := range []float64{0, 0.15} {
		task := Task{Frequencies: []float64{300}, Straight: true, Floor: optional.Of(height)}
		w, faults, err := Prepare(t.Context(), d, task)
		if err != nil || faults != nil {
			t.Fatal(faults, err)
		}
		r, err := w.Solve(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		if stands := r.Surface.Stands; stands != (height == 0) {
			t.Errorf("%g m above the floor: stands %v", height, stands)
		}
		j := w.jobs[0]
		both := j.surface.Reflected()
		var cut []int
		if j.surface.Planes.Y {
			cut = append(cut, 1)
		}
		if err := both.Closed(cut...); err != nil {
			t.Fatal(err)
		}
		half := j.problem(300)
		full := &bem3.Problem{Mesh: &both.Mesh, SoundSpeed: j.air.SoundSpeed, Density: j.air.Density}
		for _, m := range half.Mirrors {
			if m.Axis != 2 {
				full.Mirrors = append(full.Mirrors, m)
			}
		}
		for _, v := range half.Velocities {
			full.Velocities = append(full.Velocities, append(v[:len(v):len(v)], turnedOver(v)...))
		}
		s, err := full.Solve(t.Context(), 300, bem3.Options{})
		if err != nil {
			t.Fatal(err)
		}
		far, err := s.Far(t.Context(), directions())
		if err != nil {
			t.Fatal(err)
		}
		weights := make([]complex128, len(j.sets))
		for i := range j.sets {
			weights[i] = r.Flow[0][i] / complex(j.sets[i].area, 0)
			own := append(j.sets[i].weights[:len(j.sets[i].weights):len(j.sets[i].weights)], make([]float64, len(j.sets[i].weights))...)
			for k := range j.sets {
				want := s.Mean(k, own) / complex(j.sets[k].area, 0)
				// Single precision, and the iteration's residual of 3e-5.
				if got := r.Load[0][i][k]; cmplx.Abs(got-want) > 1e-3*cmplx.Abs(want) {
					t.Errorf("%g m: load %d of %d is %v, of the full mesh %v", height, i, k, got, want)
				}
			}
		}
		want := combine(far, weights)
		axis := cmplx.Abs(want[ahead])
		for i := range angles {
			got := r.Vertical[0][i]
			if below := i > 0 && i < ahead; below != cmplx.IsNaN(got) || !below && cmplx.Abs(got-want[i]) > 1e-3*axis {
				t.Fatalf("%g m, %g°: %v, of the full mesh %v", height, angles[i]*180/math.Pi, got, want[i])
			}
			if got := r.Horizontal[0][i]; cmplx.Abs(got-want[len(angles)+i]) > 1e-3*axis {
				t.Fatalf("%g m, %g° across: %v, of the full mesh %v", height, angles[i]*180/math.Pi, got, want[len(angles)+i])
			}
		}
	}
}

// turnedOver are the velocities of the triangles' images, whose corners run the other way round.
func turnedOver(v []complex128) []complex128 {
	out := make([]complex128, len(v))
	for k := 0; k < len(v); k += 6 {
		out[k], out[k+1], out[k+2], out[k+3], out[k+4], out[k+5] = v[k], v[k+2], v[k+1], v[k+3], v[k+5], v[k+4]
	}
	return out
}

// A box that stands on the floor is the upper one of two whose joint is closed.
func TestStandingIsHalfOfTwo(t *testing.T) {
	d := starter(t, "hatch")
	two := solve(t, d, Task{Frequencies: []float64{300}, Boxes: 2, Straight: true})
	if two.Surface.Planes != (surface.Planes{Z: true}) {
		t.Fatalf("mirror planes %+v", two.Surface.Planes)
	}
	one := solve(t, d, Task{Frequencies: []float64{300}, Straight: true, Floor: optional.Of((d.Pitch() - two.Surface.Layout.Height) / 2)})
	if len(one.Vertical[0]) != len(two.Vertical[0]) || cmplx.Abs(one.Vertical[0][ahead]/two.Vertical[0][ahead]-1) > 1e-4 {
		t.Errorf("ahead %v on the floor, %v of two", one.Vertical[0][ahead], two.Vertical[0][ahead])
	}
}

// Far under the size of the box a source at height h above a rigid floor has the resistance
// 1 + sin(2kh)/(2kh) times that in free air, and the field over the angle θ above the floor is
// 2·cos(kh·sin θ) times as high (L. E. Kinsler et al., sec. 7.4 B and 7.2: two simple sources in
// phase, 2h apart).
func TestFloorOfASimpleSource(t *testing.T) {
	d := starter(t, "hatch")
	c := air.Of(d.Air).SoundSpeed
	f := []float64{70, 85}
	const height = 1.0
	free, over := solve(t, d, Task{Frequencies: f}), solve(t, d, Task{Frequencies: f, Straight: true, Floor: optional.Of(height)})
	h := over.Surface.Middle
	if want := height + over.Surface.Layout.Height/2; math.Abs(h-want) > 1e-9 {
		t.Fatalf("the middle of the front is %g m high, want %g", h, want)
	}
	for i := range f {
		k := 2 * math.Pi * f[i] / c
		// The solver's 1e-4 of a reactance that is a hundred times as much, as beside neighbours.
		if got, want := real(over.Felt()[i])/real(free.Felt()[i]), 1+math.Sin(2*k*h)/(2*k*h); math.Abs(got/want-1) > 0.07 {
			t.Errorf("%g Hz: resistance times %g, want %g", f[i], got, want)
		}
		per := over.Flow[i][0] / free.Flow[i][0]
		for _, a := range []int{0, 20, 50} {
			got, want := cmplx.Abs(over.Vertical[i][ahead+a]/per/free.Vertical[i][ahead+a]), 2*math.Abs(math.Cos(k*h*math.Sin(float64(a)*math.Pi/180)))
			// The box's wave to its image and back: its size to the distance between them, 0.2.
			if math.Abs(got-want) > 0.06*2 {
				t.Errorf("%g Hz, %d°: times %g, want %g", f[i], a, got, want)
			}
		}
	}
}
