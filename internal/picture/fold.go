package picture

import (
	"fmt"
	"math"

	"gapline/internal/numeric"
	"gapline/internal/quantity"
	"gapline/internal/study/fold"
	"gapline/plots"
	"gapline/waveguide"
)

// foldPicture draws one fold in one unit of length.
type foldPicture struct {
	st       *fold.Study
	sys      quantity.System
	unit     string
	perMetre float64 // units in a metre
}

func newFoldPicture(st *fold.Study, sys quantity.System) foldPicture {
	if sys == quantity.Inch {
		return foldPicture{st, sys, "in", 1 / 0.0254}
	}
	return foldPicture{st, sys, "mm", 1e3}
}

func (p *foldPicture) show(m float64) string { return quantity.Format(m, quantity.Length, p.sys) }

func (p *foldPicture) axes() (x, y plots.Axis) {
	return plots.Axis{Label: "z, forward", Unit: p.unit}, plots.Axis{Label: "y, up", Unit: p.unit}
}

// shape turns an outline into a line of the drawing.
func (p *foldPicture) shape(o waveguide.Outline, kind plots.ShapeKind, label string) plots.Shape {
	s := plots.Shape{Label: label, Kind: kind, Closed: o.Closed}
	for _, q := range o.MM {
		s.X, s.Y = append(s.X, q[0]/1e3*p.perMetre), append(s.Y, q[1]/1e3*p.perMetre)
	}
	return s
}

// line is a straight line of the drawing through points in m.
func (p *foldPicture) line(kind plots.ShapeKind, label string, zy ...[2]float64) plots.Shape {
	s := plots.Shape{Label: label, Kind: kind}
	for _, q := range zy {
		s.X, s.Y = append(s.X, q[0]*p.perMetre), append(s.Y, q[1]*p.perMetre)
	}
	return s
}

// dimension measures from (z0, y0) to (z1, y1) in m.
func (p *foldPicture) dimension(z0, y0, z1, y1, offset float64, what string) plots.Dimension {
	k := p.perMetre
	return plots.Dimension{
		X0: z0 * k, Y0: y0 * k, X1: z1 * k, Y1: y1 * k, Offset: offset,
		Text: what + " " + p.show(math.Hypot(z1-z0, y1-y0)),
	}
}

// FoldSide draws the fold from the side, to scale and with its measures: both
// layers laid over each other, some of the rays, wall, throat and mouth.
func FoldSide(st *fold.Study, outlines []waveguide.Outline, sys quantity.System) plots.Drawing {
	p := newFoldPicture(st, sys)
	d := plots.Drawing{}
	d.X, d.Y = p.axes()
	for _, o := range outlines {
		switch o.Part {
		case "layer-1", "layer-2":
			d.Shapes = append(d.Shapes, p.shape(o, plots.Layer, ""))
		case "wall":
			d.Shapes = append(d.Shapes, p.shape(o, plots.Outline, ""))
		}
	}
	d.Shapes = append(d.Shapes, p.sideRays()...)
	for _, o := range outlines {
		if o.Part == "wall-line" {
			d.Shapes = append(d.Shapes, p.shape(o, plots.Wall, ""))
		}
	}
	d.Shapes = append(d.Shapes, p.throat(), p.mouth())
	d.Shapes = append(d.Shapes, p.cabinet()...)
	d.Dimensions = p.sideDimensions()
	d.Notes = p.sideNotes()
	f := &st.Fold
	subtitle := fmt.Sprintf("%s wall, %s; both layers laid over each other; rays thin; %s", f.Wall.Kind(), p.pathText(), p.flatText())
	d.Caption = caption("Folded path, side view", subtitle, &st.Design, &st.Sizing, "geometry; rays are the rule",
		fmt.Sprintf("Side view of the folded path: throat %s in front of a %s wall, mouth %s high, %s deep.",
			p.show(f.Wall.Vertex), f.Wall.Kind(), p.show(f.Spec.MouthHeight), p.show(f.Depth())), sys)
	return d
}

func (p *foldPicture) pathText() string {
	if l := p.st.Fold.VirtualPath(); !math.IsInf(l, 1) {
		return "virtual path " + p.show(l)
	}
	return "plane front"
}

func (p *foldPicture) flatText() string {
	s := &p.st.Sizing.Fold
	if math.IsInf(s.FlatTo, 1) {
		return "all rays equally long"
	}
	return fmt.Sprintf("path spread %s, flat to %s", p.show(s.PathSpread), quantity.Format(s.FlatTo, quantity.Frequency, p.sys))
}

// fewRays are at most this many rays of a drawing; a study's many would merge.
const fewRays = 15

func (p *foldPicture) sideRays() []plots.Shape {
	rays, f := p.st.Rays, &p.st.Fold
	n := min(len(rays), fewRays)
	var out []plots.Shape
	for i := range n {
		r := rays[i*(len(rays)-1)/max(n-1, 1)]
		t := f.Throat()
		out = append(out, p.line(plots.Ray, "", [2]float64{t.Z, t.Y}, [2]float64{r.Wall.Z, r.Wall.Y}, [2]float64{f.MouthZ(), r.MouthY}))
	}
	return out
}

// throatRadius is the radius in m that the throat takes in the drawing.
func (p *foldPicture) throatRadius() float64 {
	s := &p.st.Fold.Spec
	if numeric.Given(s.ThroatDiameter) {
		return s.ThroatDiameter / 2
	}
	return s.Layer / 2
}

func (p *foldPicture) throat() plots.Shape {
	t, r := p.st.Fold.Throat(), p.throatRadius()
	s := plots.Shape{Closed: true}
	const parts = 48
	for i := range parts {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / parts)
		s.X, s.Y = append(s.X, (t.Z+r*cos)*p.perMetre), append(s.Y, (t.Y+r*sin)*p.perMetre)
	}
	return s
}

func (p *foldPicture) mouth() plots.Shape {
	f := &p.st.Fold
	m := f.MouthSpan()
	return p.line(plots.Wall, "", [2]float64{f.MouthZ(), m.Low}, [2]float64{f.MouthZ(), m.High})
}

// cabinet draws the room for the fold where its height is known: closed when the
// room is not much deeper than the fold, else only floor and lid.
func (p *foldPicture) cabinet() []plots.Shape {
	f := &p.st.Fold
	half, front := f.Spec.CabinetHeight/2, f.MouthZ()
	if !numeric.Given(half) || half > 1.5*f.Spec.MouthHeight {
		return nil
	}
	rear := front - f.Spec.CabinetDepth
	if built := f.BuiltDepth(); f.Spec.CabinetDepth > 0 && f.Spec.CabinetDepth < 1.4*built {
		box := p.line(plots.Hidden, "room for the fold", [2]float64{rear, half}, [2]float64{front, half}, [2]float64{front, -half}, [2]float64{rear, -half})
		box.Closed = true
		return []plots.Shape{box}
	}
	rear = front - 1.1*f.BuiltDepth()
	return []plots.Shape{
		p.line(plots.Hidden, "cabinet", [2]float64{rear, half}, [2]float64{front, half}),
		p.line(plots.Hidden, "", [2]float64{rear, -half}, [2]float64{front, -half}),
	}
}

func (p *foldPicture) sideDimensions() []plots.Dimension {
	f := &p.st.Fold
	front, t := f.MouthZ(), f.Throat()
	m := f.MouthSpan()
	low, _ := f.Heights()
	if half := f.Spec.CabinetHeight / 2; half > -low && half < 1.5*f.Spec.MouthHeight {
		low = -half
	}
	vertex := f.Wall.Point(0)
	out := []plots.Dimension{
		p.dimension(front, m.Low, front, m.High, -26, "mouth"),
		p.dimension(front-f.Depth(), low, front, low, -14, "depth"),
		p.dimension(front-f.BuiltDepth(), low, front, low, -32, "as built"),
		p.dimension(vertex.Z, vertex.Y, t.Z, t.Y, 10, "a"),
	}
	if gap := front - t.Z; gap > 0 {
		out = append(out, p.dimension(t.Z, t.Y, front, t.Y, 10, ""))
	}
	return out
}

func (p *foldPicture) sideNotes() []plots.Mark {
	f := &p.st.Fold
	t, fan, m := f.Throat(), f.Fan(), f.MouthSpan()
	at := func(q waveguide.Point, text string) plots.Mark {
		return plots.Mark{X: q.Z * p.perMetre, Y: q.Y * p.perMetre, Text: text}
	}
	throat := "throat F"
	if numeric.Given(f.Spec.ThroatDiameter) {
		throat += ", Ø " + p.show(f.Spec.ThroatDiameter)
	}
	// In the first layer half way to the wall, in the second beyond the fan.
	inner := f.Wall.Point(fan.Low + 0.31*fan.Width())
	first := waveguide.Point{Z: t.Z + 0.75*(inner.Z-t.Z), Y: t.Y + 0.75*(inner.Y-t.Y)}
	second := waveguide.Point{Z: f.MouthZ() - 0.2*f.Depth(), Y: m.Low + 0.86*m.Width()}
	return []plots.Mark{
		at(t, throat), at(f.Wall.Point(fan.Low+0.8*fan.Width()), "wall: "+string(f.Wall.Kind())), at(first, "first layer"), at(second, "second layer"),
	}
}

// FoldSection draws the fold cut through the throat, seen from above: the two
// layers with the plate between them and the turn.
func FoldSection(st *fold.Study, sys quantity.System) plots.Drawing {
	p := newFoldPicture(st, sys)
	f := &st.Fold
	d := plots.Drawing{}
	d.X, d.Y = p.axes()
	d.Y.Label = "Across the layers"
	for _, o := range f.Section() {
		switch o.Part {
		case "plate":
			d.Shapes = append(d.Shapes, p.shape(o, plots.Outline, ""))
		default:
			d.Shapes = append(d.Shapes, p.shape(o, plots.Layer, ""))
		}
	}
	t, r := f.Spec.Layer, p.throatRadius()
	width, wall, front := f.StackWidth(), f.Wall.Point(0).Z, f.MouthZ()
	d.Shapes = append(d.Shapes,
		p.line(plots.Wall, "", [2]float64{-r, 0}, [2]float64{r, 0}),
		p.line(plots.Wall, "", [2]float64{front, width - t}, [2]float64{front, width}),
		p.line(plots.Hidden, "", [2]float64{wall, -0.2 * width}, [2]float64{wall, 1.2 * width}))
	outer := wall - f.TurnOverhang()
	d.Dimensions = []plots.Dimension{
		p.dimension(front, width-t, front, width, -22, "layer"),
		p.dimension(outer, 0, outer, width, 22, ""),
		p.dimension(-r, 0, r, 0, -16, "throat"),
	}
	k := p.perMetre
	d.Notes = []plots.Mark{
		{X: 0, Y: 0, Text: "throat, driver below"},
		{X: front * k, Y: (width - t/2) * k, Text: "mouth"},
		{X: wall * k, Y: 1.15 * width * k, Text: "wall line of the side view"},
		{X: 0.55 * wall * k, Y: t / 2 * k, Text: "first layer"},
		{X: 0.55 * wall * k, Y: (width - t/2) * k, Text: "second layer"},
	}
	if rho := f.Spec.BendRadius; rho > 0 {
		d.Notes = append(d.Notes, plots.Mark{X: 0.2 * wall * k, Y: width / 2 * k, Text: "plate, " + p.show(2*rho)})
	}
	d.Caption = caption("Folded path, section through the throat", fmt.Sprintf("seen from above; %s", p.pathText()), &st.Design, &st.Sizing,
		"geometry", fmt.Sprintf("Section through the two layers, each %s thick, and the turn between them.", p.show(t)), sys)
	return d
}
