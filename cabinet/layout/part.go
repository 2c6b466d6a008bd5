package layout

import "math"

// Band is what a part belongs to.
type Band uint8

// The bands, from low to high, and what belongs to none.
const (
	Woofers Band = iota
	Mids
	Horn
	Enclosure
)

// Kind is a kind of part.
type Kind uint8

// The kinds.
const (
	Cone              Kind = iota // a woofer or mid
	Opening                       // free part of the front through which a cone behind the horn radiates
	Plate                         // of the insert, one for each column of woofers
	Chamber                       // air between plate and cones
	InsertMouth                   // opening of the plate
	HornExit                      // through which the horn radiates: the mouth's, or that of the flares
	Flare                         // side flares in front of the mouth
	HornBody                      // side walls from slot to mouth
	Fold                          // both layers
	CompressionDriver             // behind the throat, or beside the fold
	Vent
	Radiator // passive
)

// Shape is the outline of a part as seen from the front, or through its own panel.
type Shape uint8

// The shapes.
const (
	Unknown Shape = iota // nothing but its place is known
	Round
	Square // a rectangle
)

// Side is a panel of one box.
type Side uint8

// The panels.
const (
	FrontSide Side = iota
	LeftSide
	RightSide
	RearSide
)

// Part is one part of the box.
type Part struct {
	Kind  Kind
	Band  Band
	Index int     // among its like, from the left and from the top, from 0
	At    Vec     // middle of its mouth, flange or outline
	Turn  float64 // about the upright line through At, to the left
	Shape Shape
	// Width and Height are those of the outline; of a round part both are its diameter.
	Width, Height float64
	// RearWidth and RearHeight are those of the far end of the horn's side walls and flares.
	RearWidth, RearHeight float64
	// Radiates is the diameter of a cone's piston, m; NaN: not known.
	Radiates float64
	Solids   []Solid
	// Depth is how far the part reaches behind its outline along its axis.
	Depth float64
	Rests []Assumed // what the design does not say and the part stands on
	// Squeezed says that the front has no room left for an opening without a stated place.
	Squeezed bool
	// Coaxial parts may share the room of the bands below theirs.
	Coaxial bool
	// Side is the panel that the part stands in, the front where it is zero.
	Side Side
}

// Outline is an upright rectangle as seen from the front, m.
type Outline struct{ Left, Right, Top, Bottom float64 }

// Front returns the rectangle about the outline as seen from the front.
func (p *Part) Front() Outline {
	w, h := p.Width/2*math.Abs(math.Cos(p.Turn)), p.Height/2
	if p.Shape == Unknown {
		w, h = 0, 0
	}
	return Outline{p.At.Y + w, p.At.Y - w, p.At.Z + h, p.At.Z - h}
}

// meets reports whether two outlines share more than a touch.
func (o Outline) meets(b Outline) bool {
	return math.Min(o.Left, b.Left)-math.Max(o.Right, b.Right) > Touch && math.Min(o.Top, b.Top)-math.Max(o.Bottom, b.Bottom) > Touch
}

// Axis is the direction that the part looks in.
func (p *Part) Axis() Vec { return axis(p.Turn) }

func axis(turn float64) Vec {
	sin, cos := math.Sincos(turn)
	return Vec{X: cos, Y: sin}
}
