package plots

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/plot/vg"
)

// placer finds room for texts on a panel. Texts and marks already there are
// never covered; lines are avoided where possible.
type placer struct {
	bounds vg.Rectangle
	taken  []vg.Rectangle
	soft   []softPoint
}

// softPoint is a point of a drawn line and what it costs to cover it.
type softPoint struct {
	vg.Point
	cost float64
}

// What covering two points of a line costs.
const (
	curveCost = 2
	guideCost = 1
)

// avoid adds drawn lines, sampled every two points.
func (p *placer) avoid(cost float64, lines ...[]vg.Point) {
	const pitch = 2
	for _, l := range lines {
		for i, b := range l {
			if i == 0 {
				p.soft = append(p.soft, softPoint{b, cost})
				continue
			}
			a := l[i-1]
			n := int(math.Hypot(float64(b.X-a.X), float64(b.Y-a.Y))/pitch) + 1
			for k := 1; k <= n; k++ {
				t := vg.Length(k) / vg.Length(n)
				p.soft = append(p.soft, softPoint{vg.Point{X: a.X + t*(b.X-a.X), Y: a.Y + t*(b.Y-a.Y)}, cost})
			}
		}
	}
}

// block keeps texts off a rectangle.
func (p *placer) block(r vg.Rectangle) { p.taken = append(p.taken, r) }

// free says whether a rectangle is inside the bounds and off all texts.
func (p *placer) free(r vg.Rectangle) bool {
	if !within(r, p.bounds) {
		return false
	}
	for _, t := range p.taken {
		if meet(r, t) {
			return false
		}
	}
	return true
}

// cost is what covering a rectangle's lines costs.
func (p *placer) cost(r vg.Rectangle) (sum float64) {
	for _, pt := range p.soft {
		if pt.X > r.Min.X && pt.X < r.Max.X && pt.Y > r.Min.Y && pt.Y < r.Max.Y {
			sum += pt.cost
		}
	}
	return sum
}

// best picks the free rectangle that covers least of the lines; among equals
// the earliest. Each later candidate must save bias line points to win.
func (p *placer) best(candidates []vg.Rectangle, bias float64) (vg.Rectangle, int, bool) {
	return p.bestOf(candidates, nil, bias)
}

// bestOf is best with more candidates behind the first ones, which are listed only where
// one of them could still win.
func (p *placer) bestOf(candidates []vg.Rectangle, more func() []vg.Rectangle, bias float64) (vg.Rectangle, int, bool) {
	found, cost := -1, math.Inf(1)
	look := func(from int) {
		for i := from; i < len(candidates); i++ {
			c := bias * float64(i)
			if c >= cost {
				return // so would all later ones
			}
			if !p.free(candidates[i]) {
				continue
			}
			if c += p.cost(candidates[i]); c < cost {
				found, cost = i, c
			}
		}
	}
	look(0)
	if n := len(candidates); more != nil && bias*float64(n) < cost {
		candidates = append(candidates, more()...)
		look(n)
	}
	if found < 0 {
		return vg.Rectangle{}, -1, false
	}
	p.block(grow(candidates[found], 1.5))
	return candidates[found], found, true
}

// around lists places for a box of the given size about a point, nearest first.
func (p *placer) around(at vg.Point, w, h, gap vg.Length) []vg.Rectangle {
	var out []vg.Rectangle
	for _, d := range []vg.Length{gap, gap + 8, gap + 18, gap + 32, gap + 50} {
		k := d * 0.75
		for _, c := range []vg.Point{ // lower left corners
			{X: at.X + k, Y: at.Y + k}, {X: at.X + k, Y: at.Y - k - h},
			{X: at.X - k - w, Y: at.Y + k}, {X: at.X - k - w, Y: at.Y - k - h},
			{X: at.X + d, Y: at.Y - h/2}, {X: at.X - d - w, Y: at.Y - h/2},
			{X: at.X - w/2, Y: at.Y + d}, {X: at.X - w/2, Y: at.Y - d - h},
		} {
			out = append(out, rect(c.X, c.Y, c.X+w, c.Y+h))
		}
	}
	return out
}

// everywhere lists places for a box of the given size over the whole bounds, nearest to a
// point first.
func (p *placer) everywhere(at vg.Point, w, h vg.Length) []vg.Rectangle {
	type place struct {
		r    vg.Rectangle
		away float64
	}
	var all []place
	const pitch = 9
	for y := p.bounds.Min.Y + 1; y+h < p.bounds.Max.Y; y += pitch {
		for x := p.bounds.Min.X + 1; x+w < p.bounds.Max.X; x += pitch {
			r := rect(x, y, x+w, y+h)
			all = append(all, place{r, math.Hypot(float64((r.Min.X+r.Max.X)/2-at.X), float64((r.Min.Y+r.Max.Y)/2-at.Y))})
		}
	}
	slices.SortStableFunc(all, func(a, b place) int { return cmp.Compare(a.away, b.away) })
	out := make([]vg.Rectangle, len(all))
	for i := range all {
		out[i] = all[i].r
	}
	return out
}

// note writes a text of one or more lines beside a point, with a leader line if
// it had to move away. It returns false if there was no room at all.
func (p *placer) note(s *sheet, at vg.Point, gap vg.Length, l label, maxWidth vg.Length) bool {
	lines := wrap(l.text, l.size, l.bold, maxWidth, 4)
	if len(lines) == 0 {
		return true
	}
	w := widest(lines, l.size, l.bold)
	h := l.size*lineSpacing*vg.Length(len(lines)-1) + l.size*(boxAscent+boxDescent)
	r, i, ok := p.bestOf(p.around(at, w, h, gap), func() []vg.Rectangle { return p.everywhere(at, w, h) }, 0.4)
	if !ok {
		return false
	}
	if i >= 8 {
		end := vg.Point{X: min(max(at.X, r.Min.X), r.Max.X), Y: min(max(at.Y, r.Min.Y), r.Max.Y)}
		s.lines(stroke{color: inkSoft, width: 0.5}, []vg.Point{at, end})
	}
	s.fillRect(plate, grow(r, 0.8))
	l.at, l.alignX, l.alignY = vg.Point{X: r.Min.X, Y: r.Max.Y}, 0, 1
	s.textLines(lines, l)
	return true
}

// spread moves wanted positions apart so that boxes of the given heights, centred
// on them, do not meet and stay between low and high; order is kept. It returns
// false if they cannot all fit.
func spread(wanted, heights []vg.Length, low, high vg.Length) ([]vg.Length, bool) {
	order := make([]int, len(wanted))
	var sum vg.Length
	for i, h := range heights {
		order[i] = i
		sum += h
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(wanted[a], wanted[b]) })
	out := slices.Clone(wanted)
	if sum > high-low {
		return out, false
	}
	// Blocks of touching boxes, each centred on the mean of its wishes.
	type block struct{ members []int }
	height := func(b block) (h vg.Length) {
		for _, m := range b.members {
			h += heights[m]
		}
		return h
	}
	bottom := func(b block) vg.Length {
		var mean, below vg.Length
		for _, m := range b.members {
			mean += wanted[m] - below - heights[m]/2
			below += heights[m]
		}
		return min(max(mean/vg.Length(len(b.members)), low), high-below)
	}
	var blocks []block
	for _, i := range order {
		blocks = append(blocks, block{[]int{i}})
		for n := len(blocks); n > 1 && bottom(blocks[n-2])+height(blocks[n-2]) > bottom(blocks[n-1])-1e-9; n = len(blocks) {
			blocks[n-2].members = append(blocks[n-2].members, blocks[n-1].members...)
			blocks = blocks[:n-1]
		}
	}
	for _, b := range blocks {
		y := bottom(b)
		for _, m := range b.members {
			out[m] = y + heights[m]/2
			y += heights[m]
		}
	}
	return out, true
}
