package describe

import (
	"math"

	"gapline/internal/figure"
	"gapline/internal/numeric"
	"gapline/internal/quantity"
	"gapline/internal/result"
	"gapline/internal/study/fold"
	"gapline/waveguide"
)

// sheet are the axes of a drawing, in the unit of a workshop.
func sheet(x, y string) (result.Axis, result.Axis) {
	return result.Axis{Label: x, Kind: quantity.Length}, result.Axis{Label: y, Kind: quantity.Length}
}

// outlined turns an outline into a line of a drawing.
func outlined(o waveguide.Outline, kind result.LineKind, label string) result.Line {
	l := result.Line{Label: result.Plain(label), Kind: kind, Closed: o.Closed}
	for _, q := range o.MM {
		l.X, l.Y = append(l.X, q[0]/1e3), append(l.Y, q[1]/1e3)
	}
	return l
}

// through is a line of a drawing through points.
func through(kind result.LineKind, label string, points ...[2]float64) result.Line {
	l := result.Line{Label: result.Plain(label), Kind: kind}
	for _, q := range points {
		l.X, l.Y = append(l.X, q[0]), append(l.Y, q[1])
	}
	return l
}

// dimension measures from (x0, y0) to (x1, y1).
func dimension(x0, y0, x1, y1, offset float64, what string) result.Dimension {
	return result.Dimension{X0: x0, Y0: y0, X1: x1, Y1: y1, Offset: offset, Text: result.Say(what+" %s", length(math.Hypot(x1-x0, y1-y0)))}
}

// charts draws the fold; the error says why its outlines cannot be.
func (f foldParts) charts() ([]result.Part, error) {
	outlines, err := f.Study.Fold.Outlines(f.Design.Fold.WallMaterial.Value())
	if err != nil {
		return nil, err
	}
	out := []result.Part{f.side(outlines), f.section(), f.front()}
	if f.Stack != nil && f.Stack.Fine != nil {
		out = append(out, f.ribbon())
	}
	return out, nil
}

func (f foldParts) caption(c result.Caption) result.Caption {
	return captioned(c, &f.Design, &f.Sizing)
}

// side draws the fold to scale and with its measures: both layers laid over each
// other, some of the rays, wall, throat and mouth.
func (f foldParts) side(outlines []waveguide.Outline) result.Shape {
	d := result.Shape{Shown: result.View(FoldSide, result.Drawn|result.Page)}
	d.X, d.Y = sheet("z, forward", "y, up")
	for _, o := range outlines {
		switch o.Part {
		case "layer-1", "layer-2":
			d.Lines = append(d.Lines, outlined(o, result.Layer, ""))
		case "wall":
			d.Lines = append(d.Lines, outlined(o, result.Outline, ""))
		}
	}
	d.Lines = append(d.Lines, f.sideRays()...)
	for _, o := range outlines {
		if o.Part == "wall-line" {
			d.Lines = append(d.Lines, outlined(o, result.Wall, ""))
		}
	}
	w := &f.Study.Fold
	m := w.MouthSpan()
	d.Lines = append(d.Lines, f.throat(), through(result.Wall, "", [2]float64{w.MouthZ(), m.Low}, [2]float64{w.MouthZ(), m.High}))
	d.Lines = append(d.Lines, f.cabinet()...)
	d.Dimensions, d.Notes = f.sideDimensions(), f.sideNotes()
	d.Caption = f.caption(result.Caption{ID: "fold", Title: "Folded path, side view", Trust: "geometry; rays are the rule",
		Page:     "The folded path from the side: wall, rays and dimensions",
		Subtitle: result.Say(string(w.Wall.Kind())+" wall, %s; both layers laid over each other; rays thin; %s", f.pathText(), f.flatText()),
		Alt: result.Say("Side view of the folded path: throat %s in front of a "+string(w.Wall.Kind())+" wall, mouth %s high, %s deep.",
			length(w.Wall.Vertex), length(w.Spec.MouthHeight), length(w.Depth()))})
	return d
}

func (f foldParts) pathText() result.Text {
	if l := f.Study.Fold.VirtualPath(); !math.IsInf(l, 1) {
		return result.Say("virtual path %s", length(l))
	}
	return result.Plain("plane front")
}

func (f foldParts) flatText() result.Text {
	s := &f.Sizing.Fold
	if math.IsInf(s.FlatTo, 1) {
		return result.Plain("all rays equally long")
	}
	return result.Say("path spread %s, flat to %s", length(s.PathSpread), hertz(s.FlatTo))
}

// drawnRays are at most this many rays of a drawing; a study's many would merge.
const drawnRays = 15

func (f foldParts) sideRays() []result.Line {
	w := &f.Study.Fold
	n := min(len(f.Rays), drawnRays)
	var out []result.Line
	for i := range n {
		r := f.Rays[i*(len(f.Rays)-1)/max(n-1, 1)]
		t := w.Throat()
		out = append(out, through(result.Ray, "", [2]float64{t.Z, t.Y}, [2]float64{r.Wall.Z, r.Wall.Y}, [2]float64{w.MouthZ(), r.MouthY}))
	}
	return out
}

// throatRadius is the radius that the throat takes in the drawing.
func (f foldParts) throatRadius() float64 {
	s := &f.Study.Fold.Spec
	if numeric.Given(s.ThroatDiameter) {
		return s.ThroatDiameter / 2
	}
	return s.Layer / 2
}

func (f foldParts) throat() result.Line {
	t, r := f.Study.Fold.Throat(), f.throatRadius()
	l := result.Line{Closed: true}
	const parts = 48
	for i := range parts {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / parts)
		l.X, l.Y = append(l.X, t.Z+r*cos), append(l.Y, t.Y+r*sin)
	}
	return l
}

// cabinet draws the room for the fold where its height is known: closed when the
// room is not much deeper than the fold, else only floor and lid.
func (f foldParts) cabinet() []result.Line {
	w := &f.Study.Fold
	half, front := w.Spec.CabinetHeight/2, w.MouthZ()
	if !numeric.Given(half) || half > 1.5*w.Spec.MouthHeight {
		return nil
	}
	rear := front - w.Spec.CabinetDepth
	if built := w.BuiltDepth(); w.Spec.CabinetDepth > 0 && w.Spec.CabinetDepth < 1.4*built {
		box := through(result.Hidden, "room for the fold", [2]float64{rear, half}, [2]float64{front, half}, [2]float64{front, -half}, [2]float64{rear, -half})
		box.Closed = true
		return []result.Line{box}
	}
	rear = front - 1.1*w.BuiltDepth()
	return []result.Line{
		through(result.Hidden, "cabinet", [2]float64{rear, half}, [2]float64{front, half}),
		through(result.Hidden, "", [2]float64{rear, -half}, [2]float64{front, -half}),
	}
}

func (f foldParts) sideDimensions() []result.Dimension {
	w := &f.Study.Fold
	front, t := w.MouthZ(), w.Throat()
	m := w.MouthSpan()
	low, _ := w.Heights()
	if half := w.Spec.CabinetHeight / 2; half > -low && half < 1.5*w.Spec.MouthHeight {
		low = -half
	}
	vertex := w.Wall.Point(0)
	out := []result.Dimension{
		dimension(front, m.Low, front, m.High, -26, "mouth"),
		dimension(front-w.Depth(), low, front, low, -14, "depth"),
		dimension(front-w.BuiltDepth(), low, front, low, -32, "as built"),
		dimension(vertex.Z, vertex.Y, t.Z, t.Y, 10, "a"),
	}
	if gap := front - t.Z; gap > 0 {
		out = append(out, dimension(t.Z, t.Y, front, t.Y, 10, ""))
	}
	return out
}

func (f foldParts) sideNotes() []result.Mark {
	w := &f.Study.Fold
	t, fan, m := w.Throat(), w.Fan(), w.MouthSpan()
	note := func(q waveguide.Point, text result.Text) result.Mark { return result.Mark{X: q.Z, Y: q.Y, Text: text} }
	throat := result.Plain("throat F")
	if numeric.Given(w.Spec.ThroatDiameter) {
		throat = result.Say("throat F, Ø %s", length(w.Spec.ThroatDiameter))
	}
	// In the first layer half way to the wall, in the second beyond the fan.
	inner := w.Wall.Point(fan.Low + 0.31*fan.Width())
	first := waveguide.Point{Z: t.Z + 0.75*(inner.Z-t.Z), Y: t.Y + 0.75*(inner.Y-t.Y)}
	second := waveguide.Point{Z: w.MouthZ() - 0.2*w.Depth(), Y: m.Low + 0.86*m.Width()}
	return []result.Mark{
		note(t, throat), note(w.Wall.Point(fan.Low+0.8*fan.Width()), result.Plain("wall: "+string(w.Wall.Kind()))),
		note(first, result.Plain("first layer")), note(second, result.Plain("second layer")),
	}
}

// section draws the fold cut through the throat, seen from above: the two layers with
// the plate between them and the turn.
func (f foldParts) section() result.Shape {
	w := &f.Study.Fold
	d := result.Shape{Shown: result.View(FoldSection, result.Drawn)}
	d.X, d.Y = sheet("z, forward", "Across the layers")
	for _, o := range w.Section() {
		kind := result.Layer
		if o.Part == "plate" {
			kind = result.Outline
		}
		d.Lines = append(d.Lines, outlined(o, kind, ""))
	}
	t, r := w.Spec.Layer, f.throatRadius()
	width, wall, front := w.StackWidth(), w.Wall.Point(0).Z, w.MouthZ()
	d.Lines = append(d.Lines,
		through(result.Wall, "", [2]float64{-r, 0}, [2]float64{r, 0}),
		through(result.Wall, "", [2]float64{front, width - t}, [2]float64{front, width}),
		through(result.Hidden, "", [2]float64{wall, -0.2 * width}, [2]float64{wall, 1.2 * width}))
	outer := wall - w.TurnOverhang()
	d.Dimensions = []result.Dimension{
		dimension(front, width-t, front, width, -22, "layer"),
		dimension(outer, 0, outer, width, 22, ""),
		dimension(-r, 0, r, 0, -16, "throat"),
	}
	note := func(x, y float64, text result.Text) { d.Notes = append(d.Notes, result.Mark{X: x, Y: y, Text: text}) }
	note(0, 0, result.Plain("throat, driver below"))
	note(front, width-t/2, result.Plain("mouth"))
	note(wall, 1.15*width, result.Plain("wall line of the side view"))
	note(0.55*wall, t/2, result.Plain("first layer"))
	note(0.55*wall, width-t/2, result.Plain("second layer"))
	if rho := w.Spec.BendRadius; rho > 0 {
		note(0.2*wall, width/2, result.Say("plate, %s", length(2*rho)))
	}
	d.Caption = f.caption(result.Caption{ID: "fold-section", Title: "Folded path, section through the throat", Trust: "geometry",
		Subtitle: result.Say("seen from above; %s", f.pathText()),
		Alt:      result.Say("Section through the two layers, each %s thick, and the turn between them.", length(t))})
	return d
}

// front charts the front over the mouth: how far each ray lags the shortest, and its
// level.
func (f foldParts) front() result.Series {
	shortest := math.Inf(1)
	for _, r := range f.Fine {
		shortest = math.Min(shortest, r.Path)
	}
	y := ray(f.Fine, func(r *waveguide.Ray) float64 { return r.MouthY })
	w := &f.Study.Fold
	budget := w.SpreadBudget()
	return result.Series{Shown: result.View(FoldFront, result.Drawn|result.Page), X: result.Axis{Label: "Height over the mouth's middle", Kind: quantity.Length},
		Panels: []result.Panel{
			{
				Y: result.Axis{Label: "Lag of the front", Kind: quantity.Length, Low: 0, High: 1.25 * math.Max(budget, f.Sizing.Fold.PathSpread)},
				Curves: []result.Curve{{Label: result.Plain("lag"), X: y,
					Y: ray(f.Fine, func(r *waveguide.Ray) float64 { return r.Path - shortest })}},
				Guides: []result.Guide{{Value: budget, Text: result.Say("a quarter wave at %s", hertz(w.Spec.TopFrequency))}},
				Height: 150,
			},
			{
				Y: result.Axis{Label: "Level", Unit: "dB re middle", Low: math.Min(-3, math.Floor(f.Sizing.Fold.Taper)), High: 1},
				Curves: []result.Curve{{Label: result.Plain("level"), X: y, Colour: 2,
					Y: ray(f.Fine, func(r *waveguide.Ray) float64 { return r.Level })}},
				Height: 110,
			},
		},
		Caption: f.caption(result.Caption{ID: "front", Title: "Front over the folded mouth", Trust: "rule", Page: "How far each ray lags over the mouth, and its level",
			Subtitle: result.Say("by rays; %s; %s", f.pathText(), f.flatText()),
			Alt:      result.Say("Lag and level over a mouth %s high: %s.", length(w.Spec.MouthHeight), f.flatText())}),
	}
}

// ribbonFloor is the lowest lobe drawn, dB re axis.
const ribbonFloor = -40.0

// ribbon charts the strongest lobe of the line of mouths against frequency, with this
// front and with a perfect one, and what the bulge costs on axis.
func (f foldParts) ribbon() result.Series {
	s := f.Stack
	seen := func(of func(fold.StackRow) float64) []float64 {
		return each(s.Fine, func(r fold.StackRow) float64 {
			if x := of(r); !math.IsInf(x, -1) {
				return math.Max(x, ribbonFloor)
			}
			return numeric.Absent // no lobe to be seen
		})
	}
	x := each(s.Fine, func(r fold.StackRow) float64 { return r.Frequency })
	loss := each(s.Fine, func(r fold.StackRow) float64 { return r.AxisChange })
	lobes := result.Panel{
		Y: result.Axis{Label: "Strongest lobe", Unit: "dB re axis", Low: ribbonFloor, High: 0},
		Curves: []result.Curve{{Label: result.Plain("this front"), X: x, Y: seen(func(r fold.StackRow) float64 { return r.FrontLobe })},
			{Label: result.Plain("perfect front"), X: x, Y: seen(func(r fold.StackRow) float64 { return r.PlaneLobe })}},
		Guides: []result.Guide{{Value: s.Target, Text: result.Say("target %s", level(s.Target))}},
		Height: 190,
	}
	if s.RibbonTo < x[len(x)-1] {
		lobes.Marks = []result.Mark{{X: s.RibbonTo, Y: s.Target, Text: result.Say("one ribbon up to %s", short(s.RibbonTo))}}
	}
	least := 0.0
	for _, y := range loss {
		least = math.Min(least, y)
	}
	return result.Series{Shown: result.View(FoldStack, result.Drawn|result.Page),
		X: result.Axis{Scale: result.FrequencyScale, Kind: quantity.Frequency, Low: x[0], High: x[len(x)-1]},
		Panels: []result.Panel{lobes, {
			Y:      result.Axis{Label: "On axis", Unit: "dB", Low: math.Min(-3, math.Floor(least)), High: 1},
			Curves: []result.Curve{{Label: result.Plain("change from the bulge"), X: x, Y: loss, Colour: 3}},
			Height: 100,
		}},
		Caption: f.caption(result.Caption{ID: "ribbon", Title: "The line of mouths against one ribbon", Trust: "aperture", Page: "The line of mouths against one ribbon",
			Subtitle: result.Say("endless straight line at %s, radiating share %s; %s; lobes from %s up", length(s.Front.Pitch),
				result.Fig(figure.FoldStackShare, s.Front.Share()).As(quantity.Style{Verb: "%.2f"}), f.pathText(), short(s.Front.SoundSpeed/s.Front.Pitch)),
			Alt: result.Plain("Strongest lobe of an endless line of mouths against frequency, with this front and with a perfect one.")}),
	}
}
