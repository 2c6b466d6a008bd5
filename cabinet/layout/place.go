package layout

import (
	"cmp"
	"math"
	"slices"

	"gapline/internal/numeric"
)

// minimumWidth keeps a front of points from having no width, m.
const minimumWidth = 0.1

// front gives every band its middle. Where no band's is given they stand beside each
// other from left to right with even gaps, seen from behind; two columns that leave
// room for the rest stand at both sides of it. Where some are given, the others stand
// in the middle of the widest room left, two columns about the middle where that is free.
func (l *Layout) front(bands []group) {
	beside := make([]*group, 0, len(bands))
	stated := false
	for i := range bands {
		g := &bands[i]
		if g.place.Offset.Given() {
			g.middle, stated = g.place.Offset.Value(), true
		}
		if !g.coaxial && !g.behind {
			beside = append(beside, g)
		}
	}
	sum := 0.0
	for _, g := range beside {
		sum += g.width
	}
	l.frontWidth(bands, sum)
	if stated {
		l.fill(beside)
	} else {
		l.spread(beside, sum)
	}
	l.inherit(bands)
	for i := range bands {
		if g := &bands[i]; !g.place.Offset.Given() {
			if !g.cornered && !(l.design.Cabinet.Width.Given() && g.width > l.Width+Touch) {
				g.rests = append(g.rests, BandPlace)
			}
			l.assume(BandPlace, g.band, g.middle)
		}
	}
}

// frontWidth takes the parts' width where the cabinet gives none.
func (l *Layout) frontWidth(bands []group, sum float64) {
	if numeric.Given(l.Width) {
		return
	}
	l.Width = sum
	for i := range bands {
		g := &bands[i]
		if g.place.Offset.Given() {
			l.Width = math.Max(l.Width, 2*math.Abs(g.middle)+g.width)
		}
		l.Width = math.Max(l.Width, g.width)
	}
	l.Width = math.Max(l.Width, minimumWidth)
	l.assume(FrontWidth, Enclosure, l.Width)
}

// spread puts the bands beside each other with even gaps.
func (l *Layout) spread(beside []*group, sum float64) {
	if centred(beside) {
		return
	}
	gap := (l.Width - sum) / float64(len(beside)+1)
	left := l.Width / 2
	if gap < 0 && len(beside) > 1 {
		gap = (l.Width - sum) / float64(len(beside)-1)
		left += gap
	}
	left -= gap
	for _, g := range beside {
		g.middle = left - g.width/2
		left -= g.width + gap
	}
}

// centred reports whether two columns of one band leave room between them for all
// others.
func centred(beside []*group) bool {
	if len(beside) < 2 {
		return true
	}
	for i, g := range beside {
		room := 0.0
		for j, other := range beside {
			if j != i {
				room += other.width
			}
		}
		if s := g.straddle(); s >= room && s > 0 {
			return len(beside) == 2
		}
	}
	return false
}

// inherit puts coaxial bands in the middle of the band that carries them, and those
// behind the others in the middle of the front.
func (l *Layout) inherit(bands []group) {
	for i := range bands {
		g := &bands[i]
		if g.coaxial && !g.place.Offset.Given() {
			g.middle = bands[0].middle
		}
		if g.coaxial && !g.place.Rise.Given() {
			g.rise = bands[0].rise
		}
	}
}

// interval is a stretch of the front from right to left, m.
type interval struct{ right, left float64 }

// fill puts the bands without a place into the room that those with one leave.
func (l *Layout) fill(beside []*group) {
	var placed []*group
	for _, g := range beside {
		if g.place.Offset.Given() {
			placed = append(placed, g)
		}
	}
	for _, g := range beside {
		if g.place.Offset.Given() {
			continue
		}
		taken := taken(placed, g)
		if !(g.straddle() > 0 && g.free(taken)) {
			var room float64
			g.middle, room = l.widest(taken)
			g.cornered = g.columns == 1 && room < g.width-Touch
		}
		placed = append(placed, g)
	}
}

// taken lists the columns of the bands placed so far that stand beside g.
func taken(placed []*group, g *group) []interval {
	var out []interval
	for _, p := range placed {
		if math.Abs(p.rise-g.rise) >= (p.tall()+g.tall())/2-Touch {
			continue
		}
		for c := range p.columns {
			out = append(out, interval{p.y(c) - p.one/2, p.y(c) + p.one/2})
		}
	}
	slices.SortFunc(out, func(a, b interval) int { return cmp.Compare(b.left, a.left) })
	return out
}

// tall is the height of the whole group, m.
func (g *group) tall() float64 {
	if g.rows == 1 {
		return g.high
	}
	return float64(g.rows-1)*g.spacing + g.high
}

// free reports whether no column of g, about the middle of the front, meets what is
// taken.
func (g *group) free(taken []interval) bool {
	g.middle = 0
	for c := range g.columns {
		for _, t := range taken {
			if math.Min(g.y(c)+g.one/2, t.left)-math.Max(g.y(c)-g.one/2, t.right) > Touch {
				return false
			}
		}
	}
	return true
}

// widest returns the middle and width of the widest stretch of the front that is not
// taken, the leftmost of equal ones; taken is sorted from the left.
func (l *Layout) widest(taken []interval) (middle, room float64) {
	at, room := l.Width/2, -1.0
	for _, t := range append(taken, interval{-l.Width / 2, -l.Width / 2}) {
		if r := at - t.left; r > room+Touch {
			room, middle = r, (at+t.left)/2
		}
		at = math.Min(at, t.right)
	}
	return middle, room
}
