package layout

import (
	"math"
	"slices"
)

// wide checks whether the bands that cannot stand above each other find room beside each
// other, wherever they are put.
func (l *Layout) wide(bands []group) {
	if !l.design.Cabinet.Width.Given() {
		return
	}
	var beside []*group
	for i := range bands {
		if g := &bands[i]; !g.coaxial && !g.behind && g.width > 0 {
			beside = append(beside, g)
		}
	}
	l.wideTogether(beside)
}

func (l *Layout) wideTogether(beside []*group) {
	if len(beside) < 2 {
		return
	}
	together := true
	var rests []Assumed
	for i, g := range beside {
		for _, h := range beside[:i] {
			together = together && g.tall()+h.tall() > l.Height+Touch && !g.holds(h) && !h.holds(g)
		}
		rests = merged(rests, kept(g.rests, MouthOfBox))
		if g.place.Setback.Or(0) > 0 || g.place.Turn.Or(0) != 0 { // it may have room behind the others
			rests = merged(rests, kept(g.rests, BandPlace))
		}
	}
	if c := leastWidth(beside); together && c.Needs > l.Width+Touch {
		c.Has, c.Rests = l.Width, rests
		for _, g := range beside {
			c.Bands = append(c.Bands, g.band)
		}
		l.conflict(c)
		return
	}
	if len(beside) == 2 {
		return
	}
	for i := range beside {
		l.wideTogether(slices.Delete(slices.Clone(beside), i, i+1))
	}
}

// holds reports whether h fits between two rows of g.
func (g *group) holds(h *group) bool {
	return g.rows > 1 && h.tall() <= g.spacing-g.high+Touch
}

// settleWidths keeps of bands that are too wide those of which two share room as they are
// laid out, or one leaves the cabinet: others, such as a cone that stands back behind the
// narrow end of the horn, are in nobody's way. It says what it keeps once, not as an
// overlap too.
func (l *Layout) settleWidths() {
	inTheWay := func(c, of *Conflict) bool {
		switch c.Of {
		case Overlaps:
			a, b := l.Parts[c.A].Band, l.Parts[c.B].Band
			return a != b && slices.Contains(of.Bands, a) && slices.Contains(of.Bands, b)
		case LeavesWidth:
			return slices.Contains(of.Bands, l.Parts[c.A].Band)
		}
		return false
	}
	var wide []Conflict
	for i := range l.Conflicts {
		c := &l.Conflicts[i]
		if c.Of == TooWide && slices.ContainsFunc(l.Conflicts, func(o Conflict) bool { return inTheWay(&o, c) }) {
			wide = append(wide, *c)
		}
	}
	l.Conflicts = slices.DeleteFunc(l.Conflicts, func(o Conflict) bool {
		return o.Of == TooWide || o.Of == Overlaps && slices.ContainsFunc(wide, func(c Conflict) bool { return inTheWay(&o, &c) })
	})
	l.Conflicts = append(wide, l.Conflicts...)
}

// leastWidth is what the bands need at least beside each other, and what then stands between
// two columns: what fits there may. Where more than one band has gaps between its columns
// it is a lower bound: the columns' own widths.
func leastWidth(beside []*group) Conflict {
	c := Conflict{Of: TooWide, A: -1, B: -1}
	twin, split := -1, 0
	columns, sum := 0.0, 0.0
	for i, g := range beside {
		columns += float64(g.columns) * g.one
		sum += g.width
		if g.straddle() > 0 {
			twin = i
		}
		if g.columns > 1 && g.lateral > g.one+Touch {
			split++
		}
	}
	switch {
	case split == 0:
		c.Needs = sum
		return c
	case split > 1 || twin < 0:
		c.Needs = columns
		return c
	}
	g := beside[twin]
	others := slices.Delete(slices.Clone(beside), twin, twin+1)
	c.Needs, c.Twins, c.Room = math.Inf(1), g.band, g.straddle()
	for set := range 1 << len(others) {
		inside, outside := 0.0, 0.0
		var between []Band
		for i, o := range others {
			if set>>i&1 == 1 {
				inside += o.width
				between = append(between, o.band)
			} else {
				outside += o.width
			}
		}
		if needs := g.width + outside; inside <= c.Room+Touch && needs < c.Needs {
			c.Needs, c.Between = needs, between
		}
	}
	return c
}
