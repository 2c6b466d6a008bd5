package bem3

import "slices"

// surface is a checked problem, its elements and nodes put in an order in which
// neighbours stand together.
type surface struct {
	problem  *Problem
	elements []element
	original []int // triangle of the mesh that is each element
	position []int // element that is each triangle of the mesh
	nodes    []Vec
	images   []image // the first is the identity
	clusters []cluster
	colours  [][]int // clusters of one colour share no node
	longest  int     // element with the longest side
	extent   float64 // greatest distance within the mesh, images left out, m
	centre   Vec     // coordinates in single precision start here
}

// clusterSize is the greatest number of elements in a cluster.
const clusterSize = 16

// cluster is a run of elements that lie together.
type cluster struct {
	first, last int // elements first … last−1
	centre      Vec
	radius      float64
	length      float64          // longest side
	nodes       []int32          // nodes of its elements
	local       [][points]uint16 // places in nodes of each element's nodes
}

// prepare checks the problem and lays out its elements.
func (p *Problem) prepare() (*surface, error) {
	if err := p.check(); err != nil {
		return nil, err
	}
	if err := p.checkMesh(); err != nil {
		return nil, err
	}
	s := &surface{problem: p, images: p.imageList()}
	s.extent, _ = p.extent()
	s.order()
	s.number()
	for i := range s.elements {
		if s.elements[i].length > s.elements[s.longest].length {
			s.longest = i
		}
		s.centre = add(s.centre, scaled(s.elements[i].centre, 1/float64(len(s.elements))))
	}
	s.cluster()
	s.colour()
	return s, nil
}

// imageList returns the reflections at all combinations of the mirror planes.
func (p *Problem) imageList() []image {
	list := []image{{sign: Vec{1, 1, 1}, det: 1}}
	for _, m := range p.Mirrors {
		for _, im := range slices.Clone(list) {
			im.sign[m.Axis] = -1
			im.shift[m.Axis] = 2 * m.At
			im.det = -im.det
			list = append(list, im)
		}
	}
	return list
}

// order halves the triangles again and again across the longest extent of their
// centres, down to single ones.
func (s *surface) order() {
	m := s.problem.Mesh
	s.original = make([]int, len(m.Triangles))
	centres := make([]Vec, len(m.Triangles))
	for t, tri := range m.Triangles {
		s.original[t] = t
		for _, v := range tri {
			centres[t] = add(centres[t], scaled(m.Vertices[v], 1./3))
		}
	}
	halve(s.original, centres)
	s.position = make([]int, len(s.original))
	s.elements = make([]element, len(s.original))
	for i, t := range s.original {
		tri := m.Triangles[t]
		s.position[t] = i
		s.elements[i] = newElement(m.Vertices[tri[0]], m.Vertices[tri[1]], m.Vertices[tri[2]])
	}
}

func halve(list []int, centres []Vec) {
	if len(list) < 3 {
		return
	}
	low, high := centres[list[0]], centres[list[0]]
	for _, t := range list {
		for a, x := range centres[t] {
			low[a], high[a] = min(low[a], x), max(high[a], x)
		}
	}
	axis := 0
	for a := range 3 {
		if high[a]-low[a] > high[axis]-low[axis] {
			axis = a
		}
	}
	slices.SortFunc(list, func(a, b int) int {
		switch x, y := centres[a][axis], centres[b][axis]; {
		case x < y:
			return -1
		case x > y:
			return 1
		}
		return a - b
	})
	// Clusters are full when halves hold whole ones.
	h := len(list) / 2
	if len(list) > clusterSize {
		h = (h + clusterSize - 1) / clusterSize * clusterSize
		h = min(h, len(list)-1)
	}
	halve(list[:h], centres)
	halve(list[h:], centres)
}

// number makes the nodes: corners and midpoints of sides, in the order in which
// the elements meet them.
func (s *surface) number() {
	m := s.problem.Mesh
	corners, middles := map[int32]int32{}, map[edge]int32{}
	node := func(x Vec) int32 {
		s.nodes = append(s.nodes, x)
		return int32(len(s.nodes) - 1)
	}
	for i := range s.elements {
		e := &s.elements[i]
		tri := m.Triangles[s.original[i]]
		for c, v := range tri {
			n, known := corners[v]
			if !known {
				n = node(m.Vertices[v])
				corners[v] = n
			}
			e.nodes[c] = n
		}
		for c := range 3 {
			a, b := tri[(c+1)%3], tri[(c+2)%3]
			n, known := middles[edgeOf(a, b)]
			if !known {
				n = node(scaled(add(m.Vertices[a], m.Vertices[b]), 0.5))
				middles[edgeOf(a, b)] = n
			}
			e.nodes[3+c] = n
		}
	}
}

// cluster cuts the elements into runs and lists the nodes of each.
func (s *surface) cluster() {
	for first := 0; first < len(s.elements); first += clusterSize {
		c := cluster{first: first, last: min(first+clusterSize, len(s.elements))}
		place := map[int32]uint16{}
		for i := c.first; i < c.last; i++ {
			e := &s.elements[i]
			c.centre = add(c.centre, scaled(e.centre, 1/float64(c.last-c.first)))
			c.length = max(c.length, e.length)
			var local [points]uint16
			for k, n := range e.nodes {
				if _, known := place[n]; !known {
					place[n] = uint16(len(c.nodes))
					c.nodes = append(c.nodes, n)
				}
				local[k] = place[n]
			}
			c.local = append(c.local, local)
		}
		for i := c.first; i < c.last; i++ {
			c.radius = max(c.radius, norm(sub(s.elements[i].centre, c.centre))+s.elements[i].radius)
		}
		s.clusters = append(s.clusters, c)
	}
}

// colour gives each cluster the first colour that no cluster with a common node
// has. Clusters of one colour are assembled side by side, colours in turn, so
// that every sum has one order.
func (s *surface) colour() {
	at := make([][]int, len(s.nodes)) // colours at each node
	for i, c := range s.clusters {
		taken := map[int]bool{}
		for _, n := range c.nodes {
			for _, k := range at[n] {
				taken[k] = true
			}
		}
		k := 0
		for taken[k] {
			k++
		}
		if k == len(s.colours) {
			s.colours = append(s.colours, nil)
		}
		s.colours[k] = append(s.colours[k], i)
		for _, n := range c.nodes {
			at[n] = append(at[n], k)
		}
	}
}
