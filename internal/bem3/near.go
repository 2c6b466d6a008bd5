package bem3

import (
	"context"
	"math"
	"slices"

	"gapline/internal/parallel"
)

// nearGap is how far apart the spheres about two elements must be, in lengths
// of the longer one, for the points of the rule alone to serve.
const nearGap = 0.25

// near holds what does not depend on frequency: which elements are near to which,
// and the closed forms of near pairs, added up over elements and images.
type near struct {
	lists [][][]int32 // [element][image]: near elements, rising
	rows  []nearRow   // by node
	given []givenRow  // by node
}

// nearRow is a row of the matrix's near part. At wavenumber k and coupling α the
// elements are c[0] + k²c[1] + α(c[2] + k²c[3] + k⁴c[4]).
type nearRow struct {
	cols []int32
	c    [5][]float32
}

// givenRow is a row of the near part of what the velocity makes: an element with
// normal derivatives q at the points of the rule gives the sum over them of
// q(v[0] − k²/2 v[1] + α(v[2] + k²/2 v[3])).
type givenRow struct {
	elements []int32
	v        [][4][points]float32
}

// newNear finds the near pairs and integrates them.
func (s *surface) newNear(ctx context.Context, workers int, driven []bool) (*near, error) {
	n := &near{rows: make([]nearRow, len(s.nodes)), given: make([]givenRow, len(s.nodes))}
	n.lists = make([][][]int32, len(s.elements))
	err := parallel.Each(ctx, workers, len(s.elements), func(int) func(int) {
		return func(e int) {
			n.lists[e] = make([][]int32, len(s.images))
			for i, im := range s.images {
				r := s.elements[e].reflected(im)
				n.lists[e][i] = s.nearTo(&r)
			}
		}
	})
	if err != nil {
		return nil, err
	}
	if err := s.layOut(ctx, n, driven, workers); err != nil {
		return nil, err
	}
	for _, colour := range s.colours {
		err := parallel.Each(ctx, workers, len(colour), func(int) func(int) {
			var w nearWork
			return func(i int) {
				c := s.clusters[colour[i]]
				for e := c.first; e < c.last; e++ {
					s.nearRowsOf(n, e, driven, &w)
				}
			}
		})
		if err != nil {
			return nil, err
		}
	}
	return n, nil
}

// nearTo lists the elements near to e.
func (s *surface) nearTo(e *element) []int32 {
	var list []int32
	for i := range s.clusters {
		c := &s.clusters[i]
		d := norm(sub(e.centre, c.centre)) - e.radius - c.radius
		if d > nearGap*max(e.length, c.length) {
			continue
		}
		for f := c.first; f < c.last; f++ {
			if gap(e, &s.elements[f]) < nearGap {
				list = append(list, int32(f))
			}
		}
	}
	return list
}

// layOut finds the columns of every row.
func (s *surface) layOut(ctx context.Context, n *near, driven []bool, workers int) error {
	around := make([][]int32, len(s.nodes)) // elements at each node
	for e := range s.elements {
		for _, node := range s.elements[e].nodes {
			around[node] = append(around[node], int32(e))
		}
	}
	return parallel.Each(ctx, workers, len(s.nodes), func(int) func(int) {
		var cols, given []int32
		return func(i int) {
			cols, given = cols[:0], given[:0]
			for _, e := range around[i] {
				for _, list := range n.lists[e] {
					for _, f := range list {
						cols = append(cols, s.elements[f].nodes[:]...)
						if driven[f] {
							given = append(given, f)
						}
					}
				}
			}
			n.rows[i].cols = slices.Clone(unique(cols))
			for c := range n.rows[i].c {
				n.rows[i].c[c] = make([]float32, len(n.rows[i].cols))
			}
			n.given[i].elements = slices.Clone(unique(given))
			n.given[i].v = make([][4][points]float32, len(n.given[i].elements))
		}
	})
}

func unique(list []int32) []int32 {
	slices.Sort(list)
	return slices.Compact(list)
}

// nearWork is one goroutine's buffers.
type nearWork struct {
	moments [points]moments // of the inner element at the points of the outer one
	block   [5][points][points]float64
	given   [points][4][points]float64 // [node][kernel][point]
}

// nearRowsOf adds the near pairs of element e and its images to its nodes' rows.
func (s *surface) nearRowsOf(n *near, e int, driven []bool, w *nearWork) {
	for i, im := range s.images {
		r := s.elements[e].reflected(im)
		for _, f := range n.lists[e][i] {
			w.pair(&r, &s.elements[f])
			if i == 0 && int(f) == e {
				w.addMass(&r)
			}
			s.addPair(n, e, int(f), w)
			if driven[f] {
				w.drive(&r, &s.elements[f])
				s.addGiven(n, e, int(f), w)
			}
		}
	}
}

// pair integrates e against f: the rule on e, closed forms on f.
func (w *nearWork) pair(e, f *element) {
	w.block = [5][points][points]float64{}
	nn := dot(e.normal, f.normal)
	var curls [3][3]float64
	for m := range curls {
		for n := range curls {
			curls[m][n] = dot(e.curl[m], f.curl[n])
		}
	}
	for a, b := range rulePoints {
		w.moments[a] = f.moment(e.at(b))
		m := &w.moments[a]
		weight := e.area * ruleWeights[a] / (4 * math.Pi)
		for i, phi := range shapeAt[a] {
			v := weight * phi
			for j := range points {
				w.block[0][i][j] -= v * m.overSlope[j]
				w.block[1][i][j] -= v * m.alongSlope[j] / 2
				w.block[3][i][j] -= v * nn * m.over[j]
				w.block[4][i][j] += v * nn * m.along[j] / 2
			}
		}
		w.addCurls(&curls, &b, m, weight)
	}
}

// addCurls adds the products of the curls at one point.
func (w *nearWork) addCurls(curls *[3][3]float64, at *bary, m *moments, weight float64) {
	for i, left := range gradients {
		var u [3]float64 // with each curl of the inner element
		for _, s := range left {
			v := weight * (s.factor*at[s.at] + s.offset)
			for n := range 3 {
				u[n] += v * curls[s.of][n]
			}
		}
		for j, right := range gradients {
			for _, t := range right {
				w.block[2][i][j] += u[t.of] * (t.factor*m.overLinear[t.at] + t.offset*m.overOne)
				w.block[3][i][j] -= u[t.of] * (t.factor*m.alongLinear[t.at] + t.offset*m.alongOne) / 2
			}
		}
	}
}

// addMass adds half the mass matrix, what is left of the double layer on the
// surface itself.
func (w *nearWork) addMass(e *element) {
	for i := range points {
		for j := range points {
			w.block[0][i][j] += e.area * massOf[i][j] / 2
		}
	}
}

// drive integrates what normal derivatives at the points of f make on e: the
// single layer with closed forms on f, which pair has left behind, and the adjoint
// double layer as the transpose of the double layer, with closed forms on e.
func (w *nearWork) drive(e, f *element) {
	w.given = [points][4][points]float64{}
	for a, b := range rulePoints {
		weight := e.area * ruleWeights[a] / (4 * math.Pi)
		over, along := atPoints(&w.moments[a].over), atPoints(&w.moments[a].along)
		for i, phi := range shapeAt[a] {
			for q := range points {
				w.given[i][0][q] += weight * phi * over[q]
				w.given[i][1][q] += weight * phi * along[q]
			}
		}
		m := e.moment(f.at(b))
		weight = f.area * ruleWeights[a] / (4 * math.Pi)
		for i := range points {
			w.given[i][2][a] += weight * m.overSlope[i]
			w.given[i][3][a] += weight * m.alongSlope[i]
		}
	}
}

// atPoints turns integrals against the shape functions into factors of the
// values at the points of the rule.
func atPoints(shapes *[points]float64) (f [points]float64) {
	for q := range points {
		for j, v := range shapes {
			f[q] += v * nodeFrom[j][q]
		}
	}
	return f
}

func (s *surface) addPair(n *near, e, f int, w *nearWork) {
	for i, node := range s.elements[e].nodes {
		r := &n.rows[node]
		for j, col := range s.elements[f].nodes {
			at, _ := slices.BinarySearch(r.cols, col)
			for c := range r.c {
				r.c[c][at] += float32(w.block[c][i][j])
			}
		}
	}
}

func (s *surface) addGiven(n *near, e, f int, w *nearWork) {
	for i, node := range s.elements[e].nodes {
		g := &n.given[node]
		at, _ := slices.BinarySearch(g.elements, int32(f))
		for c := range g.v[at] {
			for q := range points {
				g.v[at][c][q] += float32(w.given[i][c][q])
			}
		}
	}
}
