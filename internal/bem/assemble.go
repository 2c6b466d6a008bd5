package bem

import (
	"context"

	"gapline/internal/clinalg"
	"gapline/internal/hankel"
	"gapline/internal/parallel"
)

// farRatio is the distance, in lengths of an element, beyond which its own
// nodes serve as quadrature points. It falls with the number of nodes: the
// first error of p nodes against a kernel at distance d is of order
// (h/4d)^(p+1) for an element of length h.
func farRatio(p int) float64 {
	return []float64{2: 4, 3: 2.5, 4: 1.75, 5: 1.4, 6: 1.2, 7: 1.1, 8: 1}[p]
}

// rowWork is one goroutine's buffers for a row.
type rowWork struct {
	in   *integrator
	h, g []complex128
}

func newRowWork(v *view, r *rule) *rowWork {
	n := len(v.p)
	return &rowWork{newIntegrator(&v.medium, r), make([]complex128, n), make([]complex128, n)}
}

// assemble fills the matrix and the right-hand side. Rows are dealt out to the
// workers; each is made by one of them alone.
func (s *system) assemble(ctx context.Context, table *hankel.Table) (*clinalg.Matrix, []complex128, error) {
	a := clinalg.New(s.size, s.size)
	rhs := make([]complex128, s.size)
	for i := range s.views {
		v := &s.views[i]
		v.medium.table = table
		err := parallel.Each(ctx, s.opts.Workers, len(v.p)/s.mesh.rule.p, func(int) func(int) {
			w := newRowWork(v, s.mesh.rule)
			return func(e int) {
				for n := range s.mesh.rule.p {
					node := v.pieces[e].first + n
					s.row(v, w, e, n)
					v.scatter(w, a.Row(v.row[node]), &rhs[v.row[node]])
					rhs[v.row[node]] += s.incidentAt(v, v.src.at(node), v.src.normal(node))
				}
			}
		})
		if err != nil {
			return nil, nil, err
		}
	}
	return a, rhs, nil
}

// row computes the coefficients h of p and g of q for collocation at node n of
// piece e.
func (s *system) row(v *view, w *rowWork, e, n int) {
	clear(w.h)
	clear(w.g)
	node := v.pieces[e].first + n
	for i, im := range s.Mirror.images(v.src.at(node), v.src.normal(node)) {
		t := target{im[0], im[1]}
		own := -1
		if i == 0 {
			own = e
		}
		v.fill(w, t, own, n, farRatio(s.mesh.rule.p))
	}
}

// fill adds one target's coefficients for all pieces, runs of far pieces of
// one kind at a time.
func (v *view) fill(w *rowWork, t target, own, n int, far float64) {
	start := 0
	flush := func(end int) {
		if start == end {
			return
		}
		first, last := v.pieces[start].first, len(v.p)
		if end < len(v.pieces) {
			last = v.pieces[end].first
		}
		if v.pieces[start].full {
			v.medium.fullRow(t, &v.src, first, last, w.h, w.g)
		} else {
			v.medium.rigidRow(t, &v.src, first, last, w.h)
		}
	}
	p := w.in.rule.p
	for i := range v.pieces {
		e := &v.pieces[i]
		near := i == own || e.isNear(t.x, far)
		if near || e.full != v.pieces[start].full {
			flush(i)
			start = i
		}
		if !near {
			continue
		}
		start = i + 1
		h, g := w.h[e.first:e.first+p], w.g[e.first:e.first+p]
		if i == own {
			w.in.own(e, n, h, g)
		} else {
			w.in.near(t, e, h, g)
		}
		if start == len(v.pieces) {
			return
		}
	}
	flush(len(v.pieces))
}

// isNear reports whether x is too near to e for its own nodes as quadrature.
func (e *piece) isNear(x Point, far float64) bool {
	limit := (far + 0.5) * e.length
	mx, my := (e.a.X+e.b.X)/2-x.X, (e.a.Y+e.b.Y)/2-x.Y
	if mx*mx+my*my > limit*limit {
		return false
	}
	return distance(x, e.a, e.b)-e.sagitta < far*e.length
}

// scatter adds a row's coefficients to the matrix and the right-hand side:
// h·p + g·q with q = slope·unknown + given.
func (v *view) scatter(w *rowWork, row []complex128, rhs *complex128) {
	for j, p := range v.p {
		row[p] += w.h[j]
		g := w.g[j]
		if g == 0 {
			continue
		}
		if q := v.q[j]; q >= 0 {
			row[q] += g * v.slope[j]
		} else {
			row[p] += g * v.slope[j]
		}
		*rhs -= g * v.given[j]
	}
}

// incidentAt returns what the domain's line sources and their mirror images
// make at x in free space, p + α ∂p/∂n.
func (s *system) incidentAt(v *view, x, n Point) complex128 {
	sum := complex128(0)
	alpha := complex(0, v.medium.eta)
	for _, src := range s.Domains[v.domain].Sources {
		for _, im := range s.Mirror.images(x, n) {
			p, g := src.Field(s.f, s.SoundSpeed, s.Density, im[0])
			sum += p + alpha*(g[0]*complex(im[1].X, 0)+g[1]*complex(im[1].Y, 0))
		}
	}
	return sum
}
