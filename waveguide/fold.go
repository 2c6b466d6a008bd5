package waveguide

import (
	"math"

	"gapline/internal/air"
	"gapline/internal/numeric"
)

// FoldSpec says what is known of a folded guide. Lengths in m; NaN stands for
// "not given". Start from NewFoldSpec.
//
// The guide is a thin sheet folded over, seen from the side: z points forward
// to the audience, y up. Sound fans out rearwards from the throat F in the
// first layer, meets the wall, turns round its edge into the second layer,
// comes forward beside the throat and leaves through the mouth in front. The
// origin is at the throat's z and at half the mouth's height.
type FoldSpec struct {
	ThroatToWall float64 // a, throat to the wall's vertex
	VirtualPath  float64 // L, virtual apex to mouth plane; +Inf = plane front; NaN: the least that is flat to TopFrequency,
	// but no less than a straight wall gives
	Wall        FoldWall // the virtual path of a straight wall follows
	Layer       float64  // t, inner thickness of one layer
	MouthHeight float64  // h

	MouthDistance  float64 // mouth plane in front of the throat; default throat radius + t
	ThroatHeight   float64 // throat above the mouth's middle; default 0
	ThroatDiameter float64 // default: taken as t where room for it is kept
	BendRadius     float64 // inner radius of the turn = half the plate between the layers; default 0
	RearAllowance  float64 // material and clearance behind the turn; default 0

	CabinetDepth  float64
	CabinetHeight float64
	CabinetWidth  float64

	TopFrequency float64 // Hz, up to which the front should be flat; default 16 kHz
	MaxFan       float64 // rad, widest fan that Design may use; default and limit π
	SoundSpeed   float64 // m/s; default: the project's standard air
}

// NewFoldSpec returns a spec with the four values that suffice, in m, and
// everything else not given. A virtual path of +Inf asks for a plane front.
func NewFoldSpec(throatToWall, virtualPath, layer, mouthHeight float64) FoldSpec {
	n := numeric.Absent
	return FoldSpec{
		ThroatToWall: throatToWall, VirtualPath: virtualPath, Layer: layer, MouthHeight: mouthHeight,
		MouthDistance: n, ThroatHeight: n, ThroatDiameter: n, BendRadius: n, RearAllowance: n,
		CabinetDepth: n, CabinetHeight: n, CabinetWidth: n,
		TopFrequency: n, MaxFan: n, SoundSpeed: n,
	}
}

// DefaultTopFrequency is the frequency in Hz up to which a front should be flat
// when nothing else is said.
const DefaultTopFrequency = 16e3

// withDefaults fills in what was not given, except the four main values and the
// cabinet.
func (s FoldSpec) withDefaults() FoldSpec {
	s.ThroatHeight = numeric.Or(s.ThroatHeight, 0)
	s.BendRadius = numeric.Or(s.BendRadius, 0)
	s.RearAllowance = numeric.Or(s.RearAllowance, 0)
	s.TopFrequency = numeric.Or(s.TopFrequency, DefaultTopFrequency)
	s.MaxFan = numeric.Or(s.MaxFan, math.Pi)
	s.SoundSpeed = numeric.Or(s.SoundSpeed, air.SoundSpeed(air.Standard))
	s.MouthDistance = numeric.Or(s.MouthDistance, s.throatRadius()+s.Layer)
	if !numeric.Given(s.VirtualPath) && s.Wall != StraightWall {
		needed := flatPath(s.MouthHeight, s.SoundSpeed/(4*s.TopFrequency))
		s.VirtualPath = math.Max(needed, 2*s.ThroatToWall+s.MouthDistance)
	}
	return s
}

// throatRadius is the room in m that the throat takes; a throat whose diameter
// is not given is taken to be as wide as the layer is thick.
func (s FoldSpec) throatRadius() float64 { return numeric.Or(s.ThroatDiameter, s.Layer) / 2 }

// flatPath is the distance L in m from a virtual apex to a mouth of height h at
// which the front bulges by s: L = (h²/4 - s²)/(2s), from s = √(L²+h²/4) - L.
// A mouth no taller than 2s bulges less from any apex; L is then 0.
func flatPath(h, s float64) float64 { return math.Max(0, (h*h/4-s*s)/(2*s)) }

// Fold is a folded guide with everything known. NewFold makes one.
type Fold struct {
	Spec FoldSpec // with the defaults filled in
	Wall Wall

	fan   Span    // angles at the throat of the rays to the mouth's two edges
	apexY float64 // height of the virtual apex
	invL  float64 // 1/L, 0 for a plane front
	away  float64 // distance of the throat from the virtual apex over L
}

// Span is an interval from Low to High.
type Span struct {
	Low, High float64
}

// Width is High - Low.
func (s Span) Width() float64 { return s.High - s.Low }

// NewFold works out the wall of the fold that spec describes. The error names
// every value that is missing or impossible; a fold that is possible but does
// not fit its cabinet or misses its flatness is no error, see Notes.
func NewFold(spec FoldSpec) (Fold, error) {
	if err := spec.check(); err != nil {
		return Fold{}, err
	}
	f := shape(spec.withDefaults())
	if err := f.check(); err != nil {
		return Fold{}, err
	}
	return f, nil
}

// shape builds the conic without checks. s has its defaults.
func shape(s FoldSpec) Fold {
	f := Fold{Spec: s}
	if s.Wall == StraightWall {
		// The apex is the throat's mirror image.
		f.apexY = s.ThroatHeight
		f.Spec.VirtualPath = 2*s.ThroatToWall + s.MouthDistance
	}
	f.invL = 1 / f.Spec.VirtualPath
	f.Wall = Wall{Focus: f.Throat(), Vertex: s.ThroatToWall, Q: 1}
	back, side := f.apexOffset()
	d := math.Hypot(back, side)
	f.away = d
	f.Wall.Axis = Point{-back / d, -side / d}
	f.Wall.Q = 1 - 2*s.ThroatToWall*f.invL/d
	if s.Wall == StraightWall {
		f.Wall.Q = 0
	}
	f.fan = Span{f.AngleAt(-s.MouthHeight / 2), f.AngleAt(s.MouthHeight / 2)}
	return f
}

// apexOffset is the vector from the virtual apex to the throat divided by L:
// (1 - z_m/L, (y_F - y_V)/L). Working with 1/L keeps every formula good for a
// plane front.
func (f *Fold) apexOffset() (forward, up float64) {
	return 1 - f.Spec.MouthDistance*f.invL, (f.Spec.ThroatHeight - f.apexY) * f.invL
}

// Throat is the focus F.
func (f Fold) Throat() Point { return Point{0, f.Spec.ThroatHeight} }

// MouthZ is the mouth plane's z in m.
func (f Fold) MouthZ() float64 { return f.Spec.MouthDistance }

// MouthSpan gives the heights of the mouth's two edges in m.
func (f Fold) MouthSpan() Span { return Span{-f.Spec.MouthHeight / 2, f.Spec.MouthHeight / 2} }

// VirtualPath is L in m, from the virtual apex to the mouth plane; +Inf for a
// plane front.
func (f Fold) VirtualPath() float64 { return f.Spec.VirtualPath }

// Apex is the virtual apex V. ok is false for a plane front, which has none.
func (f Fold) Apex() (v Point, ok bool) {
	if f.invL == 0 {
		return Point{}, false
	}
	return Point{f.Spec.MouthDistance - f.Spec.VirtualPath, f.apexY}, true
}

// Fan gives the angles at the throat, in rad from the wall's axis and positive
// upwards, of the rays that end at the mouth's lower and upper edge.
func (f Fold) Fan() Span { return f.fan }

// mouthTerms returns, for the mouth point at height y, what the half-angle
// formulas need: x = sin ψ and den = 1 + cos ψ, both times |VF||VM|/L² (and x
// divided by 1/L), and m2 = |VM|²/L², with ψ the angle at V between F and the
// mouth point.
func (f *Fold) mouthTerms(y float64) (x, den, m2 float64) {
	forward, up := f.apexOffset()
	rise := (y - f.apexY) * f.invL
	x = forward*(y-f.apexY) - (f.Spec.ThroatHeight - f.apexY)
	m2 = 1 + rise*rise
	den = f.away*math.Sqrt(m2) + forward + up*rise
	return x, den, m2
}

// gain is (D - a)/(a L), the factor between the half-angle tangents at F and V.
func (f *Fold) gain() float64 {
	a := f.Spec.ThroatToWall
	return (f.away - a*f.invL) / a
}

// AngleAt returns the angle φ at the throat, in rad, of the ray that arrives at
// the height y in m of the mouth:
//
//	tan(φ/2) = ((D - a)/a) tan(ψ/2)
//
// with ψ the angle at the virtual apex; for a plane front tan(φ/2) = y/(2a).
// It follows from the polar equations of a hyperbola about its two foci.
func (f Fold) AngleAt(y float64) float64 {
	x, den, _ := f.mouthTerms(y)
	return 2 * math.Atan2(f.gain()*x, den)
}

// densityAt is dφ/dy in rad/m at the mouth height y: the share of the fan that
// arrives on a metre of mouth.
func (f *Fold) densityAt(y float64) float64 {
	x, den, m2 := f.mouthTerms(y)
	g := f.gain()
	u, t := g*x/den, f.invL*x/den // tan φ/2, tan ψ/2
	return g * (1 + t*t) / ((1 + u*u) * m2)
}

// Path is the length in m from the throat over the wall to the middle of the mouth
// plane.
func (f Fold) Path() float64 { return f.ray(f.AngleAt(0)).Path }

// Depth is the distance in m from the wall's rearmost point to the mouth plane.
func (f Fold) Depth() float64 {
	return f.MouthZ() - f.rearmost()
}

// rearmost is the least z on the used part of the wall.
func (f Fold) rearmost() float64 {
	// z = F.z + r(φ)·(axis·cos φ + …) has its least value where the normal is
	// along -z: there q·u + axis points straight back.
	back := math.Atan2(-f.Wall.Axis.Y, -f.Wall.Axis.Z) // tilt of the axis from -z, positive for an axis that falls
	phi := back
	if f.Wall.Q != 0 {
		phi = back + math.Asin(math.Max(-1, math.Min(1, math.Sin(back)/f.Wall.Q)))
	}
	z := math.Min(f.Wall.Point(f.fan.Low).Z, f.Wall.Point(f.fan.High).Z)
	if phi > f.fan.Low && phi < f.fan.High {
		z = math.Min(z, f.Wall.Point(phi).Z)
	}
	return z
}
