package layout

import (
	"math"
)

// overlaps finds the bands whose parts share room, once for each pair of bands: between
// stated values if any pair of parts is.
func (l *Layout) overlaps() {
	type pair struct{ a, b Band }
	found := map[pair]int{}
	for i := range l.Parts {
		for j := range i {
			a, b := &l.Parts[j], &l.Parts[i]
			if apartByKind(a, b) || !meet(a.Solids, b.Solids) {
				continue
			}
			rests := merged(placing(a), placing(b))
			k := pair{min(a.Band, b.Band), max(a.Band, b.Band)}
			at, known := found[k]
			switch {
			case !known:
				found[k] = len(l.Conflicts)
				l.conflict(Conflict{Of: Overlaps, A: j, B: i, Rests: rests})
			case len(rests) == 0 && !l.Conflicts[at].Certain():
				l.Conflicts[at] = Conflict{Of: Overlaps, A: j, B: i}
			}
		}
	}
	for i := range l.Parts {
		if l.Parts[i].Squeezed {
			l.conflict(Conflict{Of: NoRoom, A: i, B: -1, Rests: []Assumed{OutletPlace}})
			return
		}
	}
}

// placing is what the part's place and size rest on. Columns and rows that touch, and a
// cone as large as its piston, take the least room there is, so that nothing stated could
// take less.
func placing(p *Part) []Assumed {
	return kept(p.Rests, BandPlace, WallsByAngle, FoldSide, DriverWidth, ConeSetback, PlateWidth, PlateHeight, MouthOfBox, OutletPlace)
}

// apartByKind reports whether two parts may touch or share room by what they are.
func apartByKind(a, b *Part) bool {
	if inCone(a, b) || inCone(b, a) {
		return true
	}
	insert := func(k Kind) bool { return k == Plate || k == Chamber || k == InsertMouth }
	guide := func(k Kind) bool { return k == HornExit || k == Flare || k == HornBody || k == Fold }
	switch {
	case a.Kind == Opening || b.Kind == Opening:
		return true
	case a.Band == Woofers && b.Band == Woofers && (insert(a.Kind) && b.Kind == Cone || insert(b.Kind) && a.Kind == Cone):
		return true
	case insert(a.Kind) && insert(b.Kind):
		return a.Kind != b.Kind || a.Kind == Chamber
	case guide(a.Kind) && guide(b.Kind):
		return true
	case a.Kind == CompressionDriver && (b.Kind == Fold || b.Kind == HornExit), b.Kind == CompressionDriver && (a.Kind == Fold || a.Kind == HornExit):
		return true
	}
	return false
}

// inCone reports whether a is of a coaxial band and b of a band below it.
func inCone(a, b *Part) bool { return a.Coaxial && b.Band < a.Band && a.Band != Enclosure }

func meet(a, b []Solid) bool {
	for i := range a {
		for j := range b {
			if boundsMeet(&a[i], &b[j]) && overlap(&a[i], &b[j]) {
				return true
			}
		}
	}
	return false
}

// boundsMeet spares most pairs the search, and those apart along one axis the others.
func boundsMeet(a, b *Solid) bool {
	for _, d := range [...]Vec{{Y: 1}, {Z: 1}, {X: 1}} {
		back := d.Scale(-1)
		if !(-a.support(back).Dot(back) < b.support(d).Dot(d) && -b.support(back).Dot(back) < a.support(d).Dot(d)) {
			return false
		}
	}
	return true
}

// leaves finds parts that reach beyond the cabinet, once for each band and direction.
func (l *Layout) leaves() {
	type of struct {
		reason Reason
		band   Band
	}
	seen := map[of]bool{}
	say := func(c Conflict, band Band) {
		if k := (of{c.Of, band}); !seen[k] {
			seen[k] = true
			l.conflict(c)
		}
	}
	for i := range l.Parts {
		p := &l.Parts[i]
		if p.Kind == Opening {
			continue
		}
		if needs := l.across(p); l.design.Cabinet.Width.Given() && needs > l.Width/2+Touch {
			say(Conflict{Of: LeavesWidth, A: i, B: -1, Needs: 2 * needs, Has: l.Width, Rests: kept(placing(p), BandPlace, FoldSide, DriverWidth, PlateWidth, OutletPlace)}, p.Band)
		}
		if needs, has := l.upright(p); needs > has+Touch {
			rests := []Assumed{PlateHeight, DriverWidth, OutletPlace}
			if needs <= l.Height/2+Touch { // it is in the way of the taper where it stands
				rests = append(rests, WallsByAngle, ConeSetback)
			}
			say(Conflict{Of: LeavesHeight, A: i, B: -1, Needs: 2 * needs, Has: 2 * has, Rests: kept(p.Rests, rests...)}, p.Band)
		}
		if out := ahead(p); out > Touch {
			say(Conflict{Of: LeavesFront, A: i, B: -1, Needs: out, Rests: kept(p.Rests, ConeSetback, OutletPlace)}, p.Band)
		}
		if needs := l.deep(p); l.design.Cabinet.Depth.Given() && needs > l.Depth-l.Wall+Touch {
			rests := []Assumed{WallsByAngle, ConeSetback, FoldSide, DriverWidth}
			if p.Side != FrontSide {
				rests = append(rests, OutletPlace)
			}
			say(Conflict{Of: LeavesDepth, A: i, B: -1, Needs: needs, Has: l.Depth - l.Wall, Rests: kept(placing(p), rests...)}, p.Band)
		}
	}
}

// across is how far the part reaches from the middle of the cabinet to a side, m.
func (l *Layout) across(p *Part) float64 {
	if p.Side == LeftSide || p.Side == RightSide {
		return 0
	}
	far := 0.0
	if p.Shape != Unknown && !turned(p) {
		o := p.Front()
		far = math.Max(o.Left, -o.Right)
	}
	for i := range p.Solids {
		low, high := p.Solids[i].Bounds()
		far = math.Max(far, math.Max(high.Y, -low.Y)+drawnIn)
	}
	return far
}

// turned reports whether the part's outline does not face forward or backward.
func turned(p *Part) bool { return p.Kind == CompressionDriver }

// upright is how far the part reaches from the middle of the cabinet to top or bottom,
// and how far the cabinet does there, m. Of a cabinet that tapers the part's worst place
// counts.
func (l *Layout) upright(p *Part) (needs, has float64) {
	has = l.Height / 2
	if p.Shape != Unknown {
		o := p.Front()
		needs = math.Max(o.Top, -o.Bottom)
		has = l.halfHeightAt(p.At.X)
	}
	for i := range p.Solids {
		for _, s := range []float64{1, -1} {
			// The farthest point across the slanted panel, wherever along it.
			d := Vec{X: l.slant(), Z: s}
			at := p.Solids[i].support(d)
			n, h := s*at.Z+drawnIn, l.halfHeightAt(at.X)
			if n-h > needs-has {
				needs, has = n, h
			}
		}
	}
	return needs, has
}

// slant is how much half the height falls for each metre towards the rear.
func (l *Layout) slant() float64 {
	if !(l.Depth > 0) || !l.design.Cabinet.Depth.Given() {
		return 0
	}
	return -(l.Height - l.RearHeight) / 2 / l.Depth
}

// ahead is how far the part stands out of the front, m: a turned cone that is not set
// back, a driver beside a fold that is close to the front, or an outlet in a side that is
// too far forward.
func ahead(p *Part) float64 {
	switch {
	case len(p.Solids) == 0 || p.Side == RearSide: // the rear's own depth is checked
		return 0
	case p.Kind == Cone: // its flange; the back is nearer to the axis
		return p.At.X + p.Width/2*math.Abs(math.Sin(p.Turn))
	}
	_, high := p.Solids[0].Bounds()
	return high.X + drawnIn
}

// deep is how far the part reaches behind the front, or one that stands in the rear before
// it, m. How deep a vent reaches behind its own panel is not counted: see VentLong.
func (l *Layout) deep(p *Part) float64 {
	if p.Kind == Vent && (p.Side == FrontSide || p.Side == RearSide) {
		return 0
	}
	far := 0.0
	for i := range p.Solids {
		low, high := p.Solids[i].Bounds()
		if p.Side == RearSide {
			far = math.Max(far, l.Depth+high.X+drawnIn)
		} else {
			far = math.Max(far, -low.X+drawnIn)
		}
	}
	return far
}
