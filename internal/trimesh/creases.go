package trimesh

import "math"

// Creases are the lines along which triangles meet at more than an angle, rad, or belong to
// different groups, or where the surface ends: what a drawing shows of a body. Each is
// connected points, a closed one ending where it began.
func (m *Mesh) Creases(angle float64) [][]Vec {
	type sides struct{ first, second int32 }
	of := map[[2]int32]*sides{}
	var order [][2]int32
	for t, tri := range m.Triangles {
		for i, a := range tri {
			b := tri[(i+1)%3]
			k := [2]int32{min(a, b), max(a, b)}
			if e := of[k]; e != nil {
				e.second = int32(t)
				continue
			}
			of[k] = &sides{int32(t), -1}
			order = append(order, k)
		}
	}
	var kept [][2]int32
	for _, k := range order {
		e := of[k]
		if e.second >= 0 && m.Group[e.first] == m.Group[e.second] {
			p, q := m.Normal(int(e.first)), m.Normal(int(e.second))
			if p[0]*q[0]+p[1]*q[1]+p[2]*q[2] > math.Cos(angle) {
				continue
			}
		}
		kept = append(kept, k)
	}
	return m.chained(kept)
}

// chained joins pieces into lines from corner to corner, then into closed ones.
func (m *Mesh) chained(pieces [][2]int32) [][]Vec {
	at := map[int32][]int{}
	for i, k := range pieces {
		at[k[0]], at[k[1]] = append(at[k[0]], i), append(at[k[1]], i)
	}
	used := make([]bool, len(pieces))
	follow := func(i int, v int32) []Vec {
		line := []Vec{m.Vertices[v]}
		for {
			used[i] = true
			v = pieces[i][0] + pieces[i][1] - v
			line = append(line, m.Vertices[v])
			next := -1
			for _, k := range at[v] {
				if len(at[v]) == 2 && !used[k] {
					next = k
				}
			}
			if next < 0 {
				return line
			}
			i = next
		}
	}
	var out [][]Vec
	for _, closed := range []bool{false, true} {
		for i, k := range pieces {
			for _, v := range k {
				if !used[i] && (closed || len(at[v]) != 2) {
					out = append(out, follow(i, v))
				}
			}
		}
	}
	return out
}
