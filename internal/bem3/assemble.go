package bem3

import (
	"context"

	"gapline/internal/clinalg"
	"gapline/internal/parallel"
)

// layout is a surface made ready for any frequency.
type layout struct {
	*surface
	near   *near
	blocks []block
	cols   [][width][points]int32 // nodes of each block's elements; −1 beyond the last
	list   []int                  // driven elements
	driven []block
	tiny   float32         // square of the least distance that the kernel sees
	matrix *clinalg.Single // of the frequency at work; one serves them all
}

// newLayout integrates what does not depend on frequency.
func (s *surface) newLayout(ctx context.Context, workers int) (*layout, error) {
	l := &layout{surface: s}
	all := make([]int, len(s.elements))
	driven := make([]bool, len(s.elements))
	shortest := s.elements[0].length
	for i := range all {
		all[i] = i
		for d := range s.problem.Velocities {
			driven[i] = driven[i] || s.problem.velocityAt(d, s.original[i]) != [points]complex128{}
		}
		if driven[i] {
			l.list = append(l.list, i)
		}
		shortest = min(shortest, s.elements[i].length)
	}
	least := 1e-6 * shortest
	l.tiny = float32(least * least)
	l.blocks, l.driven = s.newBlocks(all), s.newBlocks(l.list)
	l.cols = make([][width][points]int32, len(l.blocks))
	for i := range len(l.blocks) * width {
		cols := &l.cols[i/width][i%width]
		if i < len(all) {
			*cols = s.elements[i].nodes
		} else {
			cols[0] = -1
		}
	}
	var err error
	l.near, err = s.newNear(ctx, workers, driven)
	return l, err
}

// system is a layout at one frequency. The coupling of the equation with its
// normal derivative is α = −jβ.
type system struct {
	*layout
	f, omega, k, beta float64
	wave              wave
	workers           int
}

func (l *layout) at(f float64, workers int) *system {
	s := &system{layout: l, f: f, workers: workers}
	s.omega = omegaOf(f)
	s.k = s.omega / l.problem.SoundSpeed
	// Below the first resonance of the inside no more is needed than the size,
	// so that the static part does not drown the rest in single precision.
	s.beta = 1 / max(s.k, 1/l.extent)
	s.wave = wave{float32(s.k), l.tiny}
	return s
}

// marker marks the lanes of a block that are in a rising list, block after block.
type marker struct{ rest []int32 }

// mark returns the flags of the elements first … first+width−1.
func (m *marker) mark(first int) (near lanes) {
	for len(m.rest) > 0 && int(m.rest[0]) < first+width {
		near[int(m.rest[0])-first] = 1
		m.rest = m.rest[1:]
	}
	return near
}

// assembly is one goroutine's buffers.
type assembly struct {
	pair    pairing
	sums    [][points][2]lanes // by node of the cluster
	outers  []outer            // of a cluster's elements and their images
	markers []marker
}

// assemble returns the matrix, which the next frequency overwrites.
func (s *system) assemble(ctx context.Context) (*clinalg.Single, error) {
	if s.matrix == nil {
		s.matrix = clinalg.NewSingle(len(s.nodes), len(s.nodes))
	}
	a := s.matrix
	clear(a.Data)
	for _, colour := range s.colours {
		err := parallel.Each(ctx, s.workers, len(colour), func(int) func(int) {
			w := &assembly{}
			return func(i int) { s.assembleCluster(ctx, &s.clusters[colour[i]], w, a) }
		})
		if err != nil {
			return nil, err
		}
	}
	s.addNear(a)
	return a, ctx.Err()
}

// assembleCluster adds the rows that the elements of one cluster give.
func (s *system) assembleCluster(ctx context.Context, c *cluster, w *assembly, a *clinalg.Single) {
	w.sums = resize(w.sums, len(c.nodes))
	w.outers, w.markers = w.outers[:0], w.markers[:0]
	for e := c.first; e < c.last; e++ {
		for i, im := range s.images {
			r := s.elements[e].reflected(im)
			w.outers = append(w.outers, s.newOuter(&r))
			w.markers = append(w.markers, marker{s.near.lists[e][i]})
		}
	}
	for b := range s.blocks {
		if b%64 == 0 && ctx.Err() != nil {
			return
		}
		clear(w.sums)
		for i := range w.outers {
			near := w.markers[i].mark(b * width)
			local := &c.local[i/len(s.images)]
			var out rows
			for k, at := range local {
				out[k] = &w.sums[at]
			}
			s.pairBlock(&w.outers[i], &s.blocks[b], &near, &w.pair, &out)
		}
		scatter(w.sums, c.nodes, &s.cols[b], a)
	}
}

// pairBlock adds what one outer element makes with a block.
func (s *system) pairBlock(o *outer, b *block, near *lanes, p *pairing, out *rows) {
	var coupling lanes
	factor := float32(s.beta * s.k * s.k)
	for l := range width {
		coupling[l] = factor * (o.normal[0]*b.normal[0][l] + o.normal[1]*b.normal[1][l] + o.normal[2]*b.normal[2][l])
	}
	for i := range points {
		evaluate(&o.x[i], b, near, &coupling, &s.wave, &p.slope[i], &p.green[i])
	}
	contract(o, b, p, float32(s.beta), out)
}

// scatter adds the sums to the matrix.
func scatter(sums [][points][2]lanes, nodes []int32, cols *[width][points]int32, a *clinalg.Single) {
	for r, node := range nodes {
		row, sum := a.Row(int(node)), &sums[r]
		for l := range width {
			if cols[l][0] < 0 {
				break
			}
			for j, col := range cols[l] {
				row[col] += complex(sum[j][0][l], sum[j][1][l])
			}
		}
	}
}

// addNear adds the near part to the matrix.
func (s *system) addNear(a *clinalg.Single) {
	k2 := s.k * s.k
	for i := range s.near.rows {
		r, row := &s.near.rows[i], a.Row(i)
		for j, col := range r.cols {
			re := float64(r.c[0][j]) + k2*float64(r.c[1][j])
			im := -s.beta * (float64(r.c[2][j]) + k2*(float64(r.c[3][j])+k2*float64(r.c[4][j])))
			row[col] += complex(float32(re), float32(im))
		}
	}
}

// resize returns a slice of length n, reusing s when it is long enough.
func resize[T any](s []T, n int) []T {
	if cap(s) < n {
		return make([]T, n)
	}
	return s[:n]
}
