package layout

import (
	"math"

	"gapline/cabinet/design"
	"gapline/internal/air"
	"gapline/internal/numeric"
)

// outlets makes vents and passive radiators.
func (l *Layout) outlets() {
	d := l.design
	parts := d.EnclosureKind().Parts()
	if parts.Vent {
		e := &d.Enclosure
		p := Part{Kind: Vent, Band: Enclosure, Shape: Unknown, Depth: l.ventLength()}
		switch area := e.VentArea(); {
		case e.Vent.Width.Given() && e.Vent.Height.Given():
			p.Shape, p.Width, p.Height = Square, e.Vent.Width.Value(), e.Vent.Height.Value()
		case e.VentDiameter.Given() || area > 0:
			p.Shape, p.Width = Round, e.VentDiameter.Or(math.Sqrt(4*area/math.Pi))
			p.Height = p.Width
		}
		l.outlet(p, max(e.Vent.Count, 1), &e.VentPlace)
	}
	if parts.Radiator {
		e := &d.Enclosure
		p := Part{Kind: Radiator, Band: Enclosure, Shape: Round, Width: math.Sqrt(4 * e.Radiator.Sd.Value() / math.Pi), Depth: e.RadiatorPlace.Depth.Value()}
		p.Height, p.Radiates = p.Width, p.Width
		if !numeric.Given(p.Width) {
			p.Shape = Unknown
		}
		l.outlet(p, max(e.Radiator.Count, 1), &e.RadiatorPlace)
	}
}

// ventLength is the length of one duct, as given or as the tuning asks for, m.
func (l *Layout) ventLength() float64 {
	a := air.Of(l.design.Air)
	e := l.design.DriverEnclosure(a)
	if e.Vent.Length.Given() || !e.Tuning.Given() || !e.Volume.Given() || !e.Vent.Area.Given() && !(e.Vent.Width.Given() && e.Vent.Height.Given()) {
		return e.Vent.Length.Value()
	}
	r, err := e.Resolve(a)
	if err != nil {
		return numeric.Absent
	}
	return r.Vent.Length.Value()
}

// outlet places n equal openings: on front and rear one above the other, spread evenly
// over the height; on the sides left and right in turn.
func (l *Layout) outlet(p Part, n int, at *design.Outlet) {
	panel := at.Panel.OrDefault()
	if !at.Offset.Given() {
		p.Rests = append(p.Rests, OutletPlace)
	}
	squeezed := false
	for i := range n {
		q := p
		column, rows := i, n
		if panel == design.SidePanels {
			column, rows = i/2, (n+1)/2
			if i%2 == 1 {
				rows = n / 2
			}
		}
		z := at.Rise.Or(0) + (float64(column)-float64(rows-1)/2)*l.Height/float64(rows)
		l.onPanel(&q, panel, i, z, at)
		if q.Shape != Unknown && !(panel == design.FrontPanel && !at.Offset.Given()) {
			q.Solids = []Solid{q.body()}
		}
		if panel == design.FrontPanel && !at.Offset.Given() {
			l.anywhere(&q, squeezed)
			squeezed = q.Squeezed
		}
		l.add(q)
	}
	if !at.Offset.Given() {
		l.assume(OutletPlace, Enclosure, numeric.Absent)
	}
}

// onPanel puts the opening on its panel, looking outward.
func (l *Layout) onPanel(q *Part, panel design.Panel, i int, z float64, at *design.Outlet) {
	switch panel {
	case design.SidePanels:
		q.Side, q.Turn = LeftSide, math.Pi/2
		y := l.Width / 2
		if i%2 == 1 {
			q.Side, q.Turn, y = RightSide, -math.Pi/2, -y
		}
		q.At = Vec{X: 0 - at.Offset.Or(l.BoxDepth()/2), Y: y, Z: z}
	case design.RearPanel:
		q.Side, q.Turn, q.At = RearSide, math.Pi, Vec{X: 0 - l.BoxDepth(), Y: at.Offset.Or(0), Z: z}
	default:
		q.At = Vec{Y: at.Offset.Or(0), Z: z}
	}
}

// body is the room behind the opening, inward from its panel.
func (p *Part) body() Solid {
	depth := numeric.Or(p.Depth, thinnest)
	if !(depth > 0) {
		depth = thinnest
	}
	axis := p.Axis()
	if p.Shape == Round {
		return frustum(p.At, axis, depth, p.Width/2, p.Width/2)
	}
	across := Vec{X: -axis.Y, Y: axis.X}
	var s Solid
	for _, x := range []float64{drawnIn, depth - drawnIn} {
		for _, y := range []float64{-1, 1} {
			for _, z := range []float64{-1, 1} {
				s.Points = append(s.Points, p.At.Sub(axis.Scale(x)).Add(across.Scale(y*(p.Width/2-drawnIn))).Add(Vec{Z: z * (p.Height/2 - drawnIn)}))
			}
		}
	}
	return s
}

// searchSteps is how finely the front is searched for room across and along it.
const searchSteps = 48

// anywhere puts an opening without a place where the front leaves room, from the lower
// left corner on; where it leaves none the opening stays as it is, without a body. full
// tells that there was no room for an equal opening, so that there is none for this one.
func (l *Layout) anywhere(q *Part, full bool) {
	if q.Shape == Unknown {
		return
	}
	w, h := l.Width/2-q.Width/2, l.Height/2-q.Height/2
	if !(w >= 0 && h >= 0) {
		return
	}
	if !full {
		taken := l.takenFront()
		for i := range searchSteps + 1 {
			for j := range searchSteps + 1 {
				q.At = Vec{Y: w - 2*w*float64(i)/searchSteps, Z: -h + 2*h*float64(j)/searchSteps}
				if stepsClear(q.Front(), taken) {
					q.Solids = []Solid{q.body()}
					return
				}
			}
		}
	}
	q.At, q.Squeezed = Vec{Y: -w, Z: h}, true
}

// takenFront lists what stands in the front.
func (l *Layout) takenFront() []Outline {
	var taken []Outline
	for i := range l.Parts {
		if p := &l.Parts[i]; p.Side == FrontSide && p.Shape != Unknown && p.Kind != CompressionDriver && p.Kind != Fold && p.Kind != HornBody && p.Kind != Chamber {
			taken = append(taken, p.Front())
		}
	}
	return taken
}

// stepsClear reports whether an outline meets none of those that are taken. The one that
// it meets comes to the front of the list: it is likely to stand in the way of the next
// step too.
func stepsClear(o Outline, taken []Outline) bool {
	for i := range taken {
		if o.meets(taken[i]) {
			taken[0], taken[i] = taken[i], taken[0]
			return false
		}
	}
	return true
}
