package outside

import (
	"math"
	"math/cmplx"
	"testing"

	"gapline/internal/trimesh"
)

// The pressure on the surface gives the load: its mean over the elements of a cone is what the
// radiation impedances give.
func TestTheSkinHoldsTheLoadOnACone(t *testing.T) {
	d := starter(t, "hatch")
	r := solve(t, d, Task{Frequencies: []float64{700}, Look: Look{Frequency: 700, Skin: true}})
	part := &r.Surface.Layout.Parts[r.Surface.About[coneGroup(t, r)].Part]
	var sum complex128
	area := 0.0
	const vertices = (finer + 1) * (finer + 2) / 2 // of an element
	for e := 0; e < len(r.Skin.Vertices); e += vertices {
		corners := [3]int32{int32(e), int32(e + finer), int32(e + vertices - 1)}
		if !within(r.Skin, corners, part.At.Y, part.At.Z, part.Radiates/2) {
			continue
		}
		whole := trimesh.Mesh{Vertices: r.Skin.Vertices, Triangles: [][3]int32{corners}}
		a := whole.Area(0)
		area += a
		for i, v := range r.Skin.Vertices[e : e+vertices] { // a quadratic's mean is that of its values half way along the sides
			for k, c := range corners {
				d := corners[(k+1)%3]
				if p, q := r.Skin.Vertices[c], r.Skin.Vertices[d]; math.Hypot(math.Hypot(v[0]-(p[0]+q[0])/2, v[1]-(p[1]+q[1])/2), v[2]-(p[2]+q[2])/2) < 1e-12 {
					sum += r.Skin.Pressure[e+i] * complex(a/3, 0)
				}
			}
		}
	}
	if circle := math.Pi / 4 * part.Radiates * part.Radiates; math.Abs(area/circle-1) > 1e-6 {
		t.Fatalf("pieces of the cone have %g m², want %g", area, circle)
	}
	want := complex128(0)
	for k, u := range r.Flow[0] {
		want += r.Load[0][0][k] * u
	}
	if got := sum / complex(area, 0); cmplx.Abs(got/want-1) > 1e-9 {
		t.Errorf("mean pressure %v from the skin, %v from the load", got, want)
	}
}

func coneGroup(t *testing.T, r *Result) int {
	t.Helper()
	for g := range r.Surface.About {
		if ByWoofers.moves(&r.Surface.About[g]) {
			return g
		}
	}
	t.Fatal("no cone")
	return 0
}

// within reports whether a triangle lies in a disc in the front.
func within(s *Skin, tri [3]int32, y, z, radius float64) bool {
	for _, v := range tri {
		at := s.Vertices[v]
		if at[0] < -1e-9 || math.Hypot(at[1]-y, at[2]-z) > radius*1.0135 {
			return false
		}
	}
	return true
}

// The pressure in the air goes over into that on the surface, images too, and there is none in
// the solid. Two routes: the integral over the surface, and the solution on it.
func TestTheFieldMeetsTheSkin(t *testing.T) {
	for _, cut := range []Slice{UprightSlice, LevelSlice} {
		d := starter(t, "hatch-insert")
		r := solve(t, d, Task{Frequencies: []float64{500}, Look: Look{Frequency: 500, Skin: true, Slice: cut}})
		f := r.Field
		met, solid := 0, 0
		for i, row := range f.Rows {
			for k, column := range f.Columns {
				at := cut.place(column, row, 0)
				if f.solid([2]float64{column, row}) {
					if solid++; !cmplx.IsNaN(f.Pressure[i][k]) {
						t.Fatalf("pressure in the solid at %v", at)
					}
				}
				if at.X > 0 && at.X < 5e-3 {
					v, p := nearestOf(r.Skin, trimesh.Vec{0, at.Y, at.Z})
					if v > 4e-3 {
						continue
					}
					// Within 6 mm the level changes by less than a tenth where nothing moves.
					if met++; cmplx.Abs(f.Pressure[i][k]/p-1) > 0.15 {
						t.Errorf("slice %d at %v: %v in the air, %v on the surface %.1f mm away", cut, at, f.Pressure[i][k], p, 1e3*v)
					}
				}
			}
		}
		if met < 5 || solid == 0 {
			t.Errorf("slice %d: %d places at the front, %d in the solid", cut, met, solid)
		}
	}
}

func nearestOf(s *Skin, at trimesh.Vec) (distance float64, p complex128) {
	distance = math.Inf(1)
	for i, v := range s.Vertices {
		if r := math.Hypot(math.Hypot(v[0]-at[0], v[1]-at[1]), v[2]-at[2]); r < distance {
			distance, p = r, s.Pressure[i]
		}
	}
	return distance, p
}
