package bem3

import (
	"context"
	"math"

	"gapline/internal/parallel"
)

func omegaOf(f float64) float64 { return 2 * math.Pi * f }

// slopes returns the normal derivative ∂p/∂n = −jωρv of each drive at the points
// of the driven elements, [drive][element][point].
func (s *system) slopes() [][][points]complex128 {
	factor := complex(0, -s.omega*s.problem.Density)
	q := make([][][points]complex128, len(s.problem.Velocities))
	for d := range q {
		q[d] = make([][points]complex128, len(s.list))
		for i, e := range s.list {
			for a, v := range s.problem.velocityAt(d, s.original[e]) {
				q[d][i][a] = factor * v
			}
		}
	}
	return q
}

// given returns the right-hand sides that the slopes q make, one for each drive:
// minus the single layer and α times half the normal derivative and the adjoint
// double layer, tested.
func (s *system) given(ctx context.Context, q [][][points]complex128) ([][]complex128, error) {
	parts := make([][][points]complex128, len(s.elements)) // [element][drive]
	pushes := newPushes(q, len(s.driven))
	err := parallel.Each(ctx, s.workers, len(s.elements), func(int) func(int) {
		w := &driving{pushes: pushes, sums: make([][points][2]lanes, len(q))}
		return func(e int) { parts[e] = s.givenOf(e, w) }
	})
	if err != nil {
		return nil, err
	}
	b := make([][]complex128, len(q))
	for d := range b {
		b[d] = make([]complex128, len(s.nodes))
		for e := range parts {
			for i, node := range s.elements[e].nodes {
				b[d][node] += parts[e][d][i]
			}
		}
	}
	s.addOwn(q, b)
	s.addGivenNear(q, b)
	return b, nil
}

// push is what a drive does to a driven block.
type push struct {
	drive int
	q     [points][2]lanes // weight times normal derivative
}

// newPushes returns for each driven block the drives that move it.
func newPushes(q [][][points]complex128, blocks int) [][]push {
	list := make([][]push, blocks)
	for b := range list {
		for d := range q {
			p := push{drive: d}
			moves := false
			for l := range min(width, len(q[d])-b*width) {
				for a, v := range q[d][b*width+l] {
					p.q[a][0][l] = float32(ruleWeights[a] * real(v))
					p.q[a][1][l] = float32(ruleWeights[a] * imag(v))
					moves = moves || v != 0
				}
			}
			if moves {
				list[b] = append(list[b], p)
			}
		}
	}
	return list
}

// driving is one goroutine's buffers.
type driving struct {
	pushes       [][]push
	block        block
	slope, green [points][2]lanes
	sums         [][points][2]lanes // [drive][point]
}

// givenOf integrates over the driven elements, tested on element e and its
// images.
func (s *system) givenOf(e int, w *driving) [][points]complex128 {
	clear(w.sums)
	var o outer
	for i, im := range s.images {
		r := s.elements[e].reflected(im)
		o = s.newOuter(&r)
		for axis, v := range o.normal { // the derivative along this normal, at the point
			for l := range width {
				w.block.normal[axis][l] = -v
			}
		}
		rest := s.near.lists[e][i]
		for b := range s.driven {
			w.block.x, w.block.scale = s.driven[b].x, s.driven[b].scale
			var near lanes
			rest = s.markDriven(b, rest, &near)
			for a := range points {
				evaluate(&o.x[a], &w.block, &near, &lanes{}, &s.wave, &w.slope, &w.green)
				for k := range w.pushes[b] {
					p := &w.pushes[b][k]
					drive(&w.slope, &w.green, &p.q, float32(s.beta), &w.sums[p.drive][a])
				}
			}
		}
	}
	out := make([][points]complex128, len(w.sums))
	for d := range out {
		for a := range points {
			v := total(&w.sums[d][a])
			for i := range points {
				out[d][i] -= complex(float64(o.test[i][a]), 0) * v
			}
		}
	}
	return out
}

// total adds up the lanes.
func total(sum *[2]lanes) complex128 {
	re, im := 0.0, 0.0
	for l := range width {
		re += float64(sum[0][l])
		im += float64(sum[1][l])
	}
	return complex(re, im)
}

// markDriven flags the elements of driven block b that are in a rising list, and
// returns the rest of the list.
func (s *system) markDriven(b int, list []int32, near *lanes) []int32 {
	for l := range min(width, len(s.list)-b*width) {
		e := int32(s.list[b*width+l])
		for len(list) > 0 && list[0] < e {
			list = list[1:]
		}
		if len(list) > 0 && list[0] == e {
			near[l] = 1
		}
	}
	return list
}

// addOwn adds −α/2 times the normal derivative.
func (s *system) addOwn(q [][][points]complex128, b [][]complex128) {
	for d := range q {
		for i, e := range s.list {
			el := &s.elements[e]
			for a, v := range q[d][i] {
				v *= complex(0, s.beta/2*el.area*ruleWeights[a])
				for k, node := range el.nodes {
					b[d][node] += complex(shapeAt[a][k], 0) * v
				}
			}
		}
	}
}

// addGivenNear adds the closed forms of near pairs.
func (s *system) addGivenNear(q [][][points]complex128, b [][]complex128) {
	place := make([]int, len(s.elements))
	for i, e := range s.list {
		place[e] = i
	}
	half := s.k * s.k / 2
	for i := range s.near.given {
		g := &s.near.given[i]
		for j, e := range g.elements {
			for p := range points {
				v0, v1, v2, v3 := float64(g.v[j][0][p]), float64(g.v[j][1][p]), float64(g.v[j][2][p]), float64(g.v[j][3][p])
				factor := complex(v0-half*v1, -s.beta*(v2+half*v3))
				for d := range q {
					b[d][i] -= factor * q[d][place[e]][p]
				}
			}
		}
	}
}
