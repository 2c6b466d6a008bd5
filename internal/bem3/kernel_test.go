package bem3

import (
	"math"
	"math/cmplx"
	"math/rand/v2"
	"testing"
)

// pairOf returns an outer element and a block of random elements about a metre
// away, three of them marked as near.
func pairOf(r *rand.Rand) (o outer, b block, s *surface, near lanes) {
	s = &surface{}
	random := func(at Vec) element {
		var c [3]Vec
		for i := range c {
			for a := range c[i] {
				c[i][a] = at[a] + 0.1*r.Float64()
			}
		}
		return newElement(c[0], c[1], c[2])
	}
	list := make([]int, width)
	for i := range list {
		s.elements = append(s.elements, random(Vec{r.Float64(), r.Float64(), 0.2 + r.Float64()}))
		list[i] = i
	}
	e := random(Vec{})
	near[1], near[2], near[7] = 1, 1, 1
	return s.newOuter(&e), s.newBlocks(list)[0], s, near
}

// The kernel against the formula in double precision. Rounding of the
// coordinates and of r makes 1e-6 of the kernel's size.
func TestKernelAgainstFormula(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for range 20 {
		o, b, s, near := pairOf(r)
		k := 5 + 60*r.Float64()
		coupling := lanes{0, 1, 2, 3, 4, 5, 6, 7}
		var slope, green [points][2]lanes
		w := wave{float32(k), 1e-14}
		evaluate(&o.x[2], &b, &near, &coupling, &w, &slope, &green)
		for l := range width {
			e := &s.elements[l]
			for p := range points {
				x := Vec{float64(o.x[2][0]), float64(o.x[2][1]), float64(o.x[2][2])}
				d := sub(x, e.at(rulePoints[p]))
				dist := norm(d)
				g := cmplx.Rect(1/dist, -k*dist)
				h := g * complex(1, k*dist) * complex(dot(d, e.normal)/(dist*dist), 0)
				if near[l] != 0 {
					g -= complex(1/dist-k*k*dist/2, 0)
					h -= complex(dot(d, e.normal)*(1/(dist*dist*dist)+k*k/2/dist), 0)
				}
				scale := complex(e.area/(4*math.Pi), 0)
				wantG, wantH := g*scale, (-h+complex(0, float64(coupling[l]))*g)*scale
				size := e.area / (4 * math.Pi) * (1 + k*k*dist*dist) / dist
				gotG, gotH := complex(float64(green[p][0][l]), float64(green[p][1][l])), complex(float64(slope[p][0][l]), float64(slope[p][1][l]))
				if e := cmplx.Abs(gotG - wantG); e > 3e-6*size {
					t.Errorf("lane %d, point %d: G %v, want %v", l, p, gotG, wantG)
				}
				if e := cmplx.Abs(gotH - wantH); e > 3e-6*size*(1/dist+float64(coupling[l])) {
					t.Errorf("lane %d, point %d: slope %v, want %v", l, p, gotH, wantH)
				}
			}
		}
	}
}

// The kernel in assembly and in Go differ by rounding: 1e-6 of the largest
// number.
func TestBothKernelsAgree(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	for range 10 {
		o, b, _, near := pairOf(r)
		w := wave{20, 1e-14}
		coupling := lanes{3, -1, 2, 0, 4, -5, 6, 7}
		var fast, slow pairing
		for a := range points {
			evaluate(&o.x[a], &b, &near, &coupling, &w, &fast.slope[a], &fast.green[a])
			evaluateGo(&o.x[a], &b, &near, &coupling, &w, &slow.slope[a], &slow.green[a])
		}
		agree(t, "slope", fast.slope[:], slow.slope[:])
		agree(t, "green", fast.green[:], slow.green[:])
		var driven [2]lanes
		slowly := driven
		drive(&fast.slope[0], &fast.green[0], &fast.slope[1], 0.3, &driven)
		driveGo(&fast.slope[0], &fast.green[0], &fast.slope[1], 0.3, &slowly)
		agree(t, "drive", [][points][2]lanes{{driven}}, [][points][2]lanes{{slowly}})
		for _, beta := range []float32{0, 0.3} {
			var sums [2][points][points][2]lanes
			var out [2]rows
			for v := range out {
				for i := range points {
					sums[v][i][0][0] = lanes{1e-3, 2e-3}
					out[v][i] = &sums[v][i]
				}
			}
			contract(&o, &b, &fast, beta, &out[0])
			contractGo(&o, &b, &fast, beta, &out[1])
			agree(t, "sums", sums[0][:], sums[1][:])
		}
	}
}

func agree(t *testing.T, name string, a, b [][points][2]lanes) {
	t.Helper()
	worst, size := 0.0, 0.0
	for i := range a {
		for j := range points {
			for c := range 2 {
				for l := range width {
					worst = max(worst, math.Abs(float64(a[i][j][c][l]-b[i][j][c][l])))
					size = max(size, math.Abs(float64(b[i][j][c][l])))
				}
			}
		}
	}
	if !(worst < 1e-6*size) {
		t.Errorf("%s: difference %.2g of %.2g", name, worst, size)
	}
}
