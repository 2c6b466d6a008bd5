package layout

import (
	"math"
	"slices"

	"gapline/cabinet/design"
	"gapline/cabinet/field"
	"gapline/internal/numeric"
)

// Reason is why parts cannot be built together.
type Reason uint8

// The reasons.
const (
	TooWide      Reason = iota // bands beside each other need more width than the front has
	LeavesWidth                // a part reaches beyond the side of the cabinet
	LeavesHeight               // a part reaches beyond its top or bottom
	LeavesDepth                // a part reaches beyond its rear panel
	LeavesFront                // a part stands out of its front
	Overlaps                   // parts of two bands share room
	NoRoom                     // an opening finds no room on the front
	VentLong                   // a vent is longer than the box is deep behind its panel
	PathShort                  // the horn's length is less than the path through the fold
	WallsShort                 // what the fold leaves of the horn's length is too short for straight side walls
	FoldDeep                   // the fold takes more depth than it may
	VolumeShort                // the parts leave less volume than the woofers are to have
	BoxesOverlap               // the boxes are higher than their pitch
	BoxesCollide               // neighbours run into each other at their splay
	ReasonCount                // the length of a table of them
)

// reasons say each in a few words.
var reasons = [ReasonCount]string{
	TooWide:      "the bands need more width than the front has",
	LeavesWidth:  "a part needs more width than the cabinet has",
	LeavesHeight: "a part needs more height than the cabinet has",
	LeavesDepth:  "a part needs more depth than the cabinet has",
	LeavesFront:  "a part stands out of the front",
	Overlaps:     "two parts stand in each other's room",
	NoRoom:       "an opening finds no room on the front",
	VentLong:     "a vent is longer than the cabinet is deep",
	PathShort:    "the horn is shorter than the path through its fold",
	WallsShort:   "the horn's length leaves too little for its side walls",
	FoldDeep:     "the fold is deeper than it may be",
	VolumeShort:  "the parts leave the woofers less volume than they are to have",
	BoxesOverlap: "the boxes are higher than their pitch",
	BoxesCollide: "neighbouring boxes run into each other at their splay",
}

// String says the reason in a few words.
func (r Reason) String() string { return reasons[r] }

// Conflict is one reason why the box cannot be built as it is laid out.
type Conflict struct {
	Of Reason
	// A and B are parts; −1: none.
	A, B int
	// Bands are those that stand beside each other, of TooWide.
	Bands []Band
	// Twins, of TooWide, is the band of two columns with Room m free between them, and
	// Between those of Bands that stand there in the narrowest way; Room is 0 without such a
	// band.
	Twins   Band
	Room    float64
	Between []Band
	// Needs and Has are m, or m³ of VolumeShort, or by how far neighbours reach into each
	// other, m, of BoxesCollide.
	Needs, Has float64
	Joint      int // of BoxesCollide: between this box and the next, from 0 at the top
	// Rests is what the conflict rests on that the design does not say; with nothing it is
	// between what the design states.
	Rests []Assumed
}

// Misfits are the conflicts between stated values.
func (l *Layout) Misfits() []Conflict {
	var out []Conflict
	for _, c := range l.Conflicts {
		if c.Certain() {
			out = append(out, c)
		}
	}
	return out
}

// Fits reports whether no stated values are in each other's way.
func (l *Layout) Fits() bool {
	return !slices.ContainsFunc(l.Conflicts, func(c Conflict) bool { return c.Certain() })
}

// Certain reports whether the conflict is between stated values.
func (c *Conflict) Certain() bool { return len(c.Rests) == 0 }

// fits finds every conflict.
func (l *Layout) fits() {
	l.Volume = l.volume()
	l.leaves()
	l.overlaps()
	l.settleWidths()
	l.paths()
	if v := l.design.Enclosure.Volume; v.Given() && numeric.Given(l.Volume.Inside) {
		switch {
		case v.Value() > l.Volume.Inside-l.Volume.Sure+1e-9:
			l.conflict(Conflict{Of: VolumeShort, Needs: v.Value(), Has: l.Volume.Inside - l.Volume.Sure})
		case v.Value() > l.Volume.Inside-l.Volume.Used+1e-9:
			l.conflict(Conflict{Of: VolumeShort, Needs: v.Value(), Has: l.Volume.Inside - l.Volume.Used, Rests: l.assumedSizes()})
		}
	}
	l.joints()
}

// conflict takes one in. Parts that it does not name are −1.
func (l *Layout) conflict(c Conflict) {
	if c.Of != Overlaps && c.A == 0 && c.B == 0 {
		c.A, c.B = -1, -1
	}
	l.Conflicts = append(l.Conflicts, c)
}

func (l *Layout) assumedSizes() []Assumed {
	var out []Assumed
	for i := range l.Parts {
		p := &l.Parts[i]
		if p.sizeAssumed() && numeric.Given(l.takes(p)) {
			out = merged(out, kept(p.Rests, WallsByAngle, DriverWidth, MouthOfBox, PlateWidth, PlateHeight, ConeSize))
		}
	}
	return out
}

// kept returns those of the assumptions that are among the given ones.
func kept(rests []Assumed, among ...Assumed) []Assumed {
	var out []Assumed
	for _, r := range rests {
		if slices.Contains(among, r) {
			out = append(out, r)
		}
	}
	return out
}

// merged is the union in the order of first mention.
func merged(a, b []Assumed) []Assumed {
	out := slices.Clone(a)
	for _, r := range b {
		if !slices.Contains(out, r) {
			out = append(out, r)
		}
	}
	return out
}

// paths checks the horn's length against the fold and the side walls, and vents against
// the depth behind their panel.
func (l *Layout) paths() {
	d := l.design
	p := PathOf(d)
	if length := d.Horn.Length; length.Given() && len(l.Of(HornExit, Horn)) > 0 {
		switch {
		case p.Folded > 0 && length.Value() < p.Folded-Touch:
			l.conflict(Conflict{Of: PathShort, Needs: p.Folded, Has: length.Value()})
		case p.ByAngle > p.Walls+Touch:
			c := Conflict{Of: WallsShort, Needs: p.ByAngle + p.Folded, Has: length.Value()}
			if d.Section.SideWalls == 0 {
				c.Rests = []Assumed{StraightWalls}
			}
			if d.Section.SideWalls != design.ProfileWalls {
				l.conflict(c)
			}
		}
	}
	if may := d.Fold.Depth; may.Given() && p.Fold > may.Value()+Touch {
		l.conflict(Conflict{Of: FoldDeep, Needs: p.Fold, Has: may.Value()})
	}
	for i := range l.Parts {
		v := &l.Parts[i]
		if v.Kind != Vent {
			continue
		}
		room := l.Depth
		known := d.Cabinet.Depth.Given()
		if v.Side == LeftSide || v.Side == RightSide {
			room, known = l.Width, d.Cabinet.Width.Given()
		}
		if room -= l.Wall; known && v.Depth > room+Touch {
			l.conflict(Conflict{Of: VentLong, A: i, B: -1, Needs: v.Depth, Has: room})
			break
		}
	}
}

// joints checks the boxes of the stack against each other.
func (l *Layout) joints() {
	d := l.design
	if k := &d.Cabinet; k.Height.Given() && k.Height.Value() > d.Pitch()+Touch {
		l.conflict(Conflict{Of: BoxesOverlap, Needs: k.Height.Value(), Has: d.Pitch()})
		return
	}
	if !d.Cabinet.Depth.Given() || len(l.Stack.Boxes) < 2 || len(l.Stack.Splay) != len(l.Stack.Boxes)-1 || !(l.Height > 0) {
		return
	}
	var rests []Assumed
	if !d.Cabinet.RearHeight.Given() {
		rests = []Assumed{RearHeight}
	}
	outlines := l.Stack.Outlines()
	worst, joint := Touch, -1
	for i := range outlines[1:] {
		if by := reach(outlines[i].Corner, outlines[i+1].Corner); by > worst {
			worst, joint = by, i
		}
	}
	if joint >= 0 {
		l.conflict(Conflict{Of: BoxesCollide, A: -1, B: -1, Needs: worst, Joint: joint, Rests: rests})
	}
}

// SplayFits reports whether two boxes clear each other at a splay, rad, as far as the design
// says: without a depth or a height at the rear nothing is in the way.
func (l *Layout) SplayFits(splay float64) bool {
	k := &l.design.Cabinet
	if !k.Depth.Given() || !k.RearHeight.Given() || !(l.Height > 0) {
		return true
	}
	pair := l.Stack
	pair.Boxes, pair.Splay = field.Repeat(field.Box{Height: l.Height, Width: l.Width, Depth: l.Depth, RearHeight: l.RearHeight}, 2), []float64{splay}
	o := pair.Outlines()
	return reach(o[0].Corner, o[1].Corner) <= Touch
}

// reach is how far two convex outlines in the side view reach into each other, m: the
// least shift that parts them; 0 or less where they are apart.
func reach(a, b [4]Vec) float64 {
	least := math.Inf(1)
	for _, c := range [2][4]Vec{a, b} {
		for i := range c {
			e := c[(i+1)%4].Sub(c[i])
			n := math.Hypot(e.X, e.Z)
			if n == 0 {
				continue
			}
			u := Vec{X: e.Z / n, Z: -e.X / n}
			aLow, aHigh := extent(a, u)
			bLow, bHigh := extent(b, u)
			least = math.Min(least, math.Min(aHigh-bLow, bHigh-aLow))
		}
	}
	return least
}

func extent(c [4]Vec, u Vec) (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	for _, p := range c {
		v := p.Dot(u)
		low, high = math.Min(low, v), math.Max(high, v)
	}
	return low, high
}
