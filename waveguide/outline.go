package waveguide

import (
	"errors"
	"fmt"
	"math"

	"gapline/internal/numeric"
)

// OutlineTolerance is the largest distance in m between a true curve and the
// polyline that stands for it.
const OutlineTolerance = 0.05e-3

// DefaultWallMaterial is the thickness in m of the strip that is drawn for the
// wall when nothing else is said.
const DefaultWallMaterial = 12e-3

// Outline is one part of a drawing as a polyline, ready for a CAD file or a
// table. The first coordinate points to the right: z for a fold seen from the
// side, x for a plate seen from the front. The second points up.
type Outline struct {
	Part   string       // name of the part, fit for a layer name
	Closed bool         // the last point joins the first
	MM     [][2]float64 // points in mm
	Radius float64      // mm, of a circle about the only point; 0: a polyline
}

// outlineOf converts points in m.
func outlineOf(part string, closed bool, points []Point) Outline {
	o := Outline{Part: part, Closed: closed, MM: make([][2]float64, len(points))}
	for i, p := range points {
		o.MM[i] = [2]float64{1000 * p.Z, 1000 * p.Y}
	}
	return o
}

// sampled returns points on the curve for the parameter from a to b (either may
// be the larger) so that the chords stay within OutlineTolerance of it. Each
// chord is tested at its quarter points against half the tolerance and cut in
// two until it passes.
func sampled(curve func(s float64) Point, a, b float64) []Point {
	const start, deepest = 8, 16
	points := []Point{curve(a)}
	var add func(s0, s1 float64, p0, p1 Point, depth int)
	add = func(s0, s1 float64, p0, p1 Point, depth int) {
		bent := false
		for _, t := range [3]float64{0.25, 0.5, 0.75} {
			bent = bent || offChord(curve(s0+t*(s1-s0)), p0, p1) > OutlineTolerance/2
		}
		if !bent || depth == deepest {
			points = append(points, p1)
			return
		}
		mid := (s0 + s1) / 2
		pm := curve(mid)
		add(s0, mid, p0, pm, depth+1)
		add(mid, s1, pm, p1, depth+1)
	}
	for i := range start {
		s0 := a + (b-a)*float64(i)/start
		s1 := a + (b-a)*float64(i+1)/start
		add(s0, s1, points[len(points)-1], curve(s1), 0)
	}
	return points
}

// offChord is the distance of p from the straight line between a and b.
func offChord(p, a, b Point) float64 {
	d := b.minus(a)
	l := math.Hypot(d.Z, d.Y)
	if l == 0 {
		return p.distance(a)
	}
	return math.Abs((p.Z-a.Z)*d.Y-(p.Y-a.Y)*d.Z) / l
}

// Outlines returns the parts of the fold in side view:
//
//	wall-line  the curve of the mirror picture, open
//	wall       strip of material behind the turn, thickness material in m
//	divider    plate between the layers, up to the tip of its edge at the turn
//	layer-1    from the throat to the wall line
//	layer-2    from the wall line to the mouth
//	throat     circle, only when the throat's diameter is known
//
// All but the first are closed. A material of NaN takes DefaultWallMaterial. It
// is an error when the wall is too strongly curved for the turn or the material.
func (f Fold) Outlines(material float64) ([]Outline, error) {
	material = numeric.Or(material, DefaultWallMaterial)
	inner := f.TurnOverhang()
	tip := f.Spec.BendRadius - f.TurnInset() // offset of the divider's edge, inwards
	if err := f.checkOffsets(inner, inner+material, tip, material); err != nil {
		return nil, err
	}
	wall := f.offsetCurve(0, false)
	strip := append(f.offsetCurve(inner, false), f.offsetCurve(inner+material, true)...)
	out := []Outline{
		outlineOf("wall-line", false, wall),
		outlineOf("wall", true, strip),
		outlineOf("divider", true, append(f.offsetCurve(tip, false), f.mouthCorners()...)),
		outlineOf("layer-1", true, append(wall[:len(wall):len(wall)], f.throatArc()...)),
		outlineOf("layer-2", true, append(wall[:len(wall):len(wall)], f.mouthCorners()...)),
	}
	if numeric.Given(f.Spec.ThroatDiameter) {
		out = append(out, outlineOf("throat", true, f.throatCircle(0, 2*math.Pi)))
	}
	return out, nil
}

func (f Fold) checkOffsets(inner, outer, tip, material float64) error {
	var p problems
	p.addf(!(material > 0) || math.IsInf(material, 0), "wall material is %s thick; it must be more than 0", mm(material))
	r := f.Wall.VertexCurvature()
	p.addf(f.Wall.Q > 0 && r <= -tip,
		"the divider's edge would lie %s inside a wall of radius %s; use a thinner layer or move the wall back", mm(-tip), mm(r))
	p.addf(f.Wall.Q < 0 && r <= math.Max(inner, outer),
		"the wall's outside would lie %s behind a curve of radius %s; use less material", mm(outer), mm(r))
	return errors.Join(p...)
}

// offsetCurve samples the used part of the wall, moved by d along its normal,
// from the lower end to the upper or back.
func (f Fold) offsetCurve(d float64, back bool) []Point {
	a, b := f.fan.Low, f.fan.High
	if back {
		a, b = b, a
	}
	return sampled(func(phi float64) Point { return f.Wall.Offset(phi, d) }, a, b)
}

// mouthCorners are the mouth's upper and lower edge.
func (f Fold) mouthCorners() []Point {
	m := f.MouthSpan()
	return []Point{{f.MouthZ(), m.High}, {f.MouthZ(), m.Low}}
}

// throatArc runs round the front of the throat, from the upper edge ray to the
// lower.
func (f Fold) throatArc() []Point {
	return f.throatCircle(f.fan.High, f.fan.Low+2*math.Pi)
}

func (f Fold) throatCircle(from, to float64) []Point {
	r := f.Spec.throatRadius()
	p := sampled(func(phi float64) Point { return f.Throat().along(f.Wall.direction(phi), r) }, from, to)
	if to-from == 2*math.Pi {
		p = p[:len(p)-1]
	}
	return p
}

// InsertPlate is a rectangular plate with equal rectangular mouths, one above
// the other about its middle. Lengths in m.
type InsertPlate struct {
	Width, Height float64
	Mouths        int
	Spacing       float64 // middle to middle; not read for one mouth
	MouthWidth    float64
	MouthHeight   float64
}

// Outlines returns the plate and its mouths, bottom first, as closed outlines
// about the plate's middle.
func (p InsertPlate) Outlines() ([]Outline, error) {
	if err := p.check(); err != nil {
		return nil, err
	}
	out := []Outline{rectangle("plate", p.Width, p.Height, 0)}
	for i := range p.Mouths {
		y := 0.0
		if p.Mouths > 1 {
			y = p.Spacing * (float64(i) - float64(p.Mouths-1)/2)
		}
		out = append(out, rectangle(fmt.Sprintf("mouth-%d", i+1), p.MouthWidth, p.MouthHeight, y))
	}
	return out, nil
}

func (p InsertPlate) check() error {
	var e problems
	e.positive("plate width", p.Width, true)
	e.positive("plate height", p.Height, true)
	e.positive("mouth width", p.MouthWidth, true)
	e.positive("mouth height", p.MouthHeight, true)
	e.addf(p.Mouths < 1, "the plate has %d mouths; it needs at least 1", p.Mouths)
	tall := p.MouthHeight
	if p.Mouths > 1 {
		e.positive("mouth spacing", p.Spacing, true)
		e.addf(p.Spacing <= p.MouthHeight, "mouths %s tall run into one another at a spacing of %s", mm(p.MouthHeight), mm(p.Spacing))
		tall += float64(p.Mouths-1) * p.Spacing
	}
	e.addf(tall >= p.Height, "the mouths take %s of height, the plate has %s", mm(tall), mm(p.Height))
	e.addf(p.MouthWidth >= p.Width, "the mouths are %s wide, the plate %s", mm(p.MouthWidth), mm(p.Width))
	return errors.Join(e...)
}

// rectangle is a rectangle about (0, y).
func rectangle(part string, w, h, y float64) Outline {
	return outlineOf(part, true, []Point{{-w / 2, y - h/2}, {w / 2, y - h/2}, {w / 2, y + h/2}, {-w / 2, y + h/2}})
}
