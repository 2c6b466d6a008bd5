package trimesh

// Section is where the plane on which a coordinate has a value cuts a closed surface: closed
// lines without their first point repeated. Seen with the coordinate pointing at the viewer
// they run clockwise about what is solid. A vertex on the plane counts as above it.
func (m *Mesh) Section(axis int, at float64) [][]Vec {
	type side [2]int32
	next := map[side]side{} // from where a piece enters a triangle to where it leaves
	var order []side
	key := func(a, b int32) side { return side{min(a, b), max(a, b)} }
	for _, tri := range m.Triangles {
		var up, down side // where the way round the triangle rises through the plane and falls
		crosses := false
		for i, a := range tri {
			b := tri[(i+1)%3]
			switch above, then := m.Vertices[a][axis] >= at, m.Vertices[b][axis] >= at; {
			case !above && then:
				up, crosses = key(a, b), true
			case above && !then:
				down = key(a, b)
			}
		}
		if crosses {
			next[up] = down
			order = append(order, up)
		}
	}
	done := map[side]bool{}
	var out [][]Vec
	for _, start := range order {
		var line []Vec
		for s := start; !done[s]; s = next[s] {
			done[s] = true
			if _, closed := next[s]; !closed {
				break
			}
			line = append(line, m.crossing(s[0], s[1], axis, at))
		}
		if len(line) > 2 {
			out = append(out, line)
		}
	}
	return out
}

func (m *Mesh) crossing(a, b int32, axis int, at float64) Vec {
	p, q := m.Vertices[a], m.Vertices[b]
	t := (at - p[axis]) / (q[axis] - p[axis])
	for i := range p {
		p[i] += t * (q[i] - p[i])
	}
	p[axis] = at
	return p
}
