package surface

import (
	"context"
	"math"
	"slices"

	"gapline/cabinet/design"
	"gapline/cabinet/layout"
	"gapline/internal/air"
	"gapline/internal/optional"
	"gapline/internal/trimesh"
)

// Kind is what a group of triangles is.
type Kind uint8

// The kinds: first what is rigid.
const (
	Wall    Kind = iota // the cabinet, with the plate's front
	Plate               // of the insert: its back and the sides of its mouths
	Chamber             // sides and floor of the air between plate and cones
	Pocket              // sides and floor of the way to a cone behind the front
	Piston              // a cone
	Exit                // of the horn
	Vent
	Radiator // passive
)

// fixedGroups are the rigid ones, of all boxes together.
var fixedGroups = []string{Wall: "wall", Plate: "plate", Chamber: "chamber", Pocket: "pocket"}

// Group is what the triangles of a group are. Those that can move stand in one part of one
// box.
type Group struct {
	Kind Kind
	Band layout.Band // of a part
	Part int         // index in Layout.Parts; −1: rigid
	Box  int         // index in Surface.Boxes; −1: rigid
	Area float64     // of the part as the layout has it, m²; 0: rigid
	// Factor is what the normal velocity of the triangles is to be multiplied by, so that
	// the volume velocity is that of Area.
	Factor float64
	// Image is the group that the mirror planes y = 0 and z = 0 make of this one; without a
	// plane it is the group itself.
	Image [2]int32
}

// Moves reports whether the group may be driven.
func (g *Group) Moves() bool { return g.Kind >= Piston }

// Hung is where a box hangs in the surface's frame.
type Hung struct {
	Box    int        // from the top of the stack, from 0
	Origin layout.Vec // middle of its front, m
	Down   float64    // by which its front looks down, rad
}

// Planes are the mirror planes of a surface of which only a part is meshed.
type Planes struct{ Y, Z bool }

// Count is the number of planes.
func (p Planes) Count() int {
	n := 0
	if p.Y {
		n++
	}
	if p.Z {
		n++
	}
	return n
}

// Assumed is a length that the design does not say and that the surface takes.
type Assumed uint8

// What is taken.
const (
	PlateThickness Assumed = iota // of the insert's plate, m
	WallThickness                 // beside an opening in the front, m
	ChamberDepth                  // by the chamber's volume, in place of the layout's, m
)

// Default is one thing taken.
type Default struct {
	Of    Assumed
	Value float64
}

// points of a triangle at which the lag is given.
const points = 6

// Surface is the surface of a design, or the part of it on one side of its mirror planes.
type Surface struct {
	trimesh.Mesh
	About  []Group // of each of Mesh.Groups
	Planes Planes
	// Lag is by how much the horn's front lags on each triangle of an exit behind that in the
	// exit's middle, m: at its corners and then at the midpoints of the edges opposite to
	// them; 0 elsewhere.
	Lag    [][points]float64
	Boxes  []Hung
	Joined bool // the joints between the boxes are closed
	Floor  bool // the plane z = 0 is a rigid floor
	Stands bool // on it: the joint with it is closed
	// Middle is how high the middle of the fronts lies, m: 0 without a floor.
	Middle   float64
	Layout   *layout.Layout
	Defaults []Default

	air air.Conditions
}

// Options say which surface is wanted.
type Options struct {
	Frequency float64 // highest, Hz
	PerWave   float64 // how often the longest edge goes into its wavelength at least; 0: 3
	Boxes     int     // how many about the middle of the stack; 0: one. At most the stack's.
	// WithoutInsert takes plate and chamber away; the cones stand in the front, or as far
	// behind it as the design states.
	WithoutInsert bool
	OpenJoints    bool
	Straight      bool // hung without splay, whatever the design's
	// Floor is how high the lower edge of the lowest front is above a rigid floor, m; not given:
	// there is none.
	Floor optional.Float
	// Flares lets the horn's side flares into the front, where it has any: their mouth then
	// is what moves, and stands behind the front by their depth.
	Flares bool
	// Rigid bands move in no case: what of theirs is flush is not cut into its face. The
	// enclosure's are vents and passive radiators.
	Rigid []layout.Band
	// Strength is how strongly each box of the whole stack is driven, from the top; nil: all
	// alike. z = 0 is a mirror plane only of boxes that are driven alike.
	Strength []float64
	// Whole asks for the whole surface also where it has mirror planes.
	Whole bool
}

const defaultPerWave = 3

// New makes the surface of a design whose single values stand within their ranges. It needs
// the outer sizes of the cabinet and the sizes of all that moves; what keeps it from being
// made comes back as faults. What is in each other's way inside the cabinet alone, see
// Layout.Misfits, does not keep it. The error is the context's. It panics without a
// frequency.
func New(ctx context.Context, d *design.Design, o Options) (*Surface, []Fault, error) {
	if !(o.Frequency > 0) || math.IsInf(o.Frequency, 1) {
		panic("surface: no frequency")
	}
	b := newBuilder(d, o)
	if !b.known() {
		return nil, b.faults, nil
	}
	if b.hang(); len(b.faults) > 0 {
		return nil, b.faults, nil
	}
	for i := range b.out.Boxes {
		b.box(i)
	}
	if len(b.faults) > 0 {
		return nil, b.faults, nil
	}
	b.reflect()
	b.clip()
	if err := b.mesh(ctx); err != nil {
		return nil, nil, err
	}
	if len(b.faults) > 0 {
		return nil, b.faults, nil
	}
	if b.weigh(); len(b.faults) > 0 {
		return nil, b.faults, nil
	}
	if err := b.out.Check(); err != nil {
		b.fault(Fault{Of: Unsound, Band: layout.Enclosure, Part: -1, Err: err})
		return nil, b.faults, nil
	}
	if o.Whole {
		return b.out.Unfold(), nil, nil
	}
	return b.out, nil, nil
}

// builder makes a surface.
type builder struct {
	design  *design.Design
	l       *layout.Layout
	o       Options
	size    float64 // wanted length of an edge in the mean, m
	longest float64 // length that none exceeds, m
	faults  []Fault
	out     *Surface
	sides   []side // of the boxes of out
	faces   []face
	ways    []way // of the box in work
	box0    int   // first face of the box in work
}

func newBuilder(d *design.Design, o Options) *builder {
	l := layout.New(d)
	if o.PerWave == 0 {
		o.PerWave = defaultPerWave
	}
	longest := air.Of(d.Air).SoundSpeed / o.Frequency / o.PerWave
	b := &builder{design: d, l: l, o: o, size: longest / midShare, longest: longest, out: &Surface{Layout: l, air: d.Air}}
	for kind, name := range fixedGroups {
		b.out.Groups = append(b.out.Groups, name)
		n := int32(kind)
		b.out.About = append(b.out.About, Group{Kind: Kind(kind), Band: layout.Enclosure, Part: -1, Box: -1, Factor: 1, Image: [2]int32{n, n}})
	}
	return b
}

// fault takes a fault in, of boxes alike once.
func (b *builder) fault(f Fault) {
	if !slices.ContainsFunc(b.faults, func(g Fault) bool { return g.Of == f.Of && g.Part == f.Part && slices.Equal(g.Values, f.Values) }) {
		b.faults = append(b.faults, f)
	}
}

// known reports whether the design gives what no surface can do without.
func (b *builder) known() bool {
	for _, need := range []struct {
		of Reason
		x  float64
	}{{HeightLacks, b.l.Height}, {WidthLacks, b.l.Width}, {DepthLacks, b.l.Depth}} {
		if !(need.x > 0) {
			b.fault(Fault{Of: need.of, Band: layout.Enclosure, Part: -1})
		}
	}
	return len(b.faults) == 0
}

// assume notes a length once.
func (b *builder) assume(of Assumed, value float64) {
	for _, d := range b.out.Defaults {
		if d.Of == of {
			return
		}
	}
	b.out.Defaults = append(b.out.Defaults, Default{of, value})
}
