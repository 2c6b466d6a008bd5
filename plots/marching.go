package plots

import "math"

// spot is a point in the coordinates of a table.
type spot struct{ x, y float64 }

// contour follows the lines where the table has the given level, cell by cell
// (marching squares; saddle cells are split by the mean of their corners).
// Cells with a corner without value are left out.
func (g grid2) contour(level float64) [][]spot {
	var segments [][2]spot
	low, high := valueRange(g.z)
	nudge := 1e-9 * max(high-low, math.Abs(level))
	for j := range len(g.y) - 1 {
		for i := range len(g.x) - 1 {
			segments = g.cellSegments(segments, i, j, level, nudge)
		}
	}
	return chain(segments)
}

// cellSegments appends the pieces of the contour in one cell. Corners count
// counter-clockwise from the lower left; edge k runs from corner k to k+1. A
// corner exactly on the level is moved off it by nudge: else several lines would
// meet there and could not be followed.
func (g grid2) cellSegments(segments [][2]spot, i, j int, level, nudge float64) [][2]spot {
	v := [4]float64{g.z[j][i], g.z[j][i+1], g.z[j+1][i+1], g.z[j+1][i]}
	at := [4]spot{{g.x[i], g.y[j]}, {g.x[i+1], g.y[j]}, {g.x[i+1], g.y[j+1]}, {g.x[i], g.y[j+1]}}
	kind, mean := 0, 0.0
	for k, value := range v {
		if math.IsNaN(value) {
			return segments
		}
		if value == level {
			value += nudge
			v[k] = value
		}
		mean += value / 4
		if value >= level {
			kind |= 1 << k
		}
	}
	cross := func(k int) spot {
		// Both cells on an edge must find the same point: order the corners.
		a, b := k, (k+1)%4
		if at[a].x > at[b].x || at[a].y > at[b].y {
			a, b = b, a
		}
		t := (level - v[a]) / (v[b] - v[a])
		return spot{at[a].x + t*(at[b].x-at[a].x), at[a].y + t*(at[b].y-at[a].y)}
	}
	add := func(a, b int) { segments = append(segments, [2]spot{cross(a), cross(b)}) }
	switch kind {
	case 1, 14:
		add(3, 0)
	case 2, 13:
		add(0, 1)
	case 3, 12:
		add(3, 1)
	case 4, 11:
		add(1, 2)
	case 6, 9:
		add(0, 2)
	case 7, 8:
		add(2, 3)
	case 5, 10: // saddle
		if (mean >= level) == (kind == 5) {
			add(0, 1)
			add(2, 3)
		} else {
			add(3, 0)
			add(1, 2)
		}
	}
	return segments
}

// chain joins segments that share an end into lines.
func chain(segments [][2]spot) [][]spot {
	ends := map[spot][]int{}
	for i, s := range segments {
		ends[s[0]] = append(ends[s[0]], i)
		ends[s[1]] = append(ends[s[1]], i)
	}
	used := make([]bool, len(segments))
	follow := func(from spot) (line []spot) {
		for {
			next := -1
			for _, i := range ends[from] {
				if !used[i] {
					next = i
					break
				}
			}
			if next < 0 {
				return line
			}
			used[next] = true
			if segments[next][0] == from {
				from = segments[next][1]
			} else {
				from = segments[next][0]
			}
			line = append(line, from)
		}
	}
	var lines [][]spot
	for i, s := range segments {
		if used[i] {
			continue
		}
		used[i] = true
		forward, back := follow(s[1]), follow(s[0])
		line := make([]spot, 0, len(forward)+len(back)+2)
		for k := len(back) - 1; k >= 0; k-- {
			line = append(line, back[k])
		}
		line = append(line, s[0], s[1])
		lines = append(lines, append(line, forward...))
	}
	return lines
}
