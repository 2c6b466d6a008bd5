package plots

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"gonum.org/v1/plot/vg"

	"gapline/internal/quantity"
)

// Polar shows relative levels against angle: 0° at the top, positive angles to
// the right (clockwise), level growing outward over 30 dB (IEC 60263). Data
// within ±90° are drawn on a half circle.
type Polar struct {
	Caption
	Curves []PolarCurve
	Left   bool // positive angles are to the left, counter-clockwise
}

// PolarCurve is one line of a polar chart.
type PolarCurve struct {
	Label    string
	AngleDeg []float64 // degrees from the forward axis, rising
	LevelDB  []float64 // relative level; NaN breaks the line
	Dash     Dash
	Colour   int // palette number 1 to 6; 0: the next one in turn
}

// Measures of polars.
const (
	polarRange            = 30.0 // dB from centre to rim
	polarRadius vg.Length = 150
	polarKey    vg.Length = 130 // width of the key beside the circle
)

func (c PolarCurve) asCurve() Curve {
	return Curve{Label: c.Label, X: c.AngleDeg, Y: c.LevelDB, Dash: c.Dash, Colour: c.Colour}
}

func (c Polar) check() error {
	if len(c.Curves) == 0 {
		return errors.New("polar chart without curves")
	}
	for _, curve := range c.Curves {
		if err := curve.asCurve().check(false, false); err != nil {
			return err
		}
		for i, a := range curve.AngleDeg {
			if math.Abs(a) > 360 {
				return fmt.Errorf("curve %q: angle %d is %g degrees: want −360 to 360", curve.Label, i+1, a)
			}
		}
	}
	return nil
}

// polarPlan is a polar chart with its measures.
type polarPlan struct {
	centre vg.Point
	radius vg.Length
	top    float64 // level at the rim, dB
	half   bool
	left   bool // positive angles are to the left
}

// radiusOf is the distance of a level from the centre.
func (p polarPlan) radiusOf(level float64) vg.Length {
	return p.radius * vg.Length(min(max((level-p.top+polarRange)/polarRange, 0), 1))
}

// direction is where an angle in degrees points: how far across, and up.
func (p polarPlan) direction(deg float64) (across, up float64) {
	if p.left {
		deg = -deg
	}
	return math.Sincos(deg * quantity.Degree)
}

// at is the place of a level at an angle in degrees.
func (p polarPlan) at(deg float64, r vg.Length) vg.Point {
	sin, cos := p.direction(deg)
	return vg.Point{X: p.centre.X + r*vg.Length(sin), Y: p.centre.Y + r*vg.Length(cos)}
}

func (c Polar) layout() (*sheet, error) {
	if err := c.check(); err != nil {
		return nil, err
	}
	plan := polarPlan{radius: c.pick(polarRadius, 90), half: true, left: c.Left}
	for _, curve := range c.Curves {
		for i, level := range curve.LevelDB {
			plan.half = plan.half && math.Abs(curve.AngleDeg[i]) <= 90
			if level > plan.top {
				plan.top = math.Ceil(level/5-1e-9) * 5
			}
		}
	}
	const rim = 16 // angle labels outside the circle
	height := 2 * (plan.radius + rim)
	if plan.half {
		height = plan.radius + rim + 16
	}
	key := vg.Length(8)
	for _, lines := range c.key(plan) {
		key += keyStep(lines)
	}
	body, keyAt := max(height, key), vg.Length(0)
	if c.narrow {
		body, keyAt = height+key, height
	}
	s, area := newSheet(c.describing(c.words()), body)
	plan.centre = vg.Point{X: area.Min.X + (area.Max.X-area.Min.X-c.pick(polarKey, 0))/2, Y: area.Max.Y - rim - plan.radius}
	plan.drawGrid(s)
	place := &placer{bounds: rect(0, 0, s.width, s.height)}
	for i, curve := range c.Curves {
		lines := plan.lines(curve)
		s.lines(curve.asCurve().stroke(i), lines...)
		place.avoid(curveCost, lines...)
	}
	plan.labelRings(s, place)
	c.drawKey(s, vg.Point{X: area.Max.X - c.keyWidth(), Y: area.Max.Y - keyAt - 4}, plan)
	return s, nil
}

// ends are the first and last angle of the grid.
func (p polarPlan) ends() (from, to float64) {
	if p.half {
		return -90, 90
	}
	return -180, 180
}

func (p polarPlan) arc(r vg.Length) []vg.Point {
	from, to := p.ends()
	var pts []vg.Point
	for a := from; a <= to; a += 2 {
		pts = append(pts, p.at(a, r))
	}
	return pts
}

// drawGrid draws rings every 5 dB, spokes every 10°, and the angles' labels.
func (p polarPlan) drawGrid(s *sheet) {
	var minor, major [][]vg.Point
	for down := 5.0; down < polarRange; down += 5 {
		ring := p.arc(p.radiusOf(p.top - down))
		if math.Mod(down, 10) == 0 {
			major = append(major, ring)
		} else {
			minor = append(minor, ring)
		}
	}
	from, to := p.ends()
	for a := from; a <= to; a += 10 {
		inner := p.radius / 6
		if math.Mod(a, 30) == 0 {
			inner = 0
			major = append(major, []vg.Point{p.at(a, inner), p.at(a, p.radius)})
			if a > -180 {
				p.angleLabel(s, a)
			}
			continue
		}
		minor = append(minor, []vg.Point{p.at(a, inner), p.at(a, p.radius)})
	}
	s.lines(stroke{color: gridMinor, width: 0.5}, minor...)
	s.lines(stroke{color: gridMajor, width: 0.5}, major...)
	s.lines(stroke{color: frameInk, width: 0.8}, p.arc(p.radius))
	if p.half {
		s.lines(stroke{color: frameInk, width: 0.8}, []vg.Point{p.at(-90, p.radius), p.at(90, p.radius)})
	}
}

func (p polarPlan) angleLabel(s *sheet, a float64) {
	sin, cos := p.direction(a)
	text := plain(a) + "°"
	at := p.at(a, p.radius+4)
	// The text's box touches the rim on the side that faces the centre.
	at.X += vg.Length(sin) * textWidth(text, tickSize, false) / 2
	at.Y += vg.Length(cos) * tickSize * 0.5
	s.text(label{text: text, at: at, alignX: 0.5, alignY: 0.5, size: tickSize, color: ink})
}

// labelRings writes the levels of the rings: below the base line of a half
// circle, else along the spoke that the curves leave freest.
func (p polarPlan) labelRings(s *sheet, place *placer) {
	spoke, least := 90.0, math.Inf(1)
	for _, a := range []float64{165, 135, 105, 75, 45, 15, -15, -45, -75, -105, -135, -165} {
		if cost := p.ringCost(place, a); !p.half && cost < least {
			spoke, least = a, cost
		}
	}
	for down := 0.0; down < polarRange; down += 10 {
		l := p.ringLabel(spoke, down)
		if p.half {
			l.at.Y -= 9
		} else if down == 0 {
			continue // the key names the rim
		}
		s.plated(l)
	}
}

func (p polarPlan) ringLabel(spoke, down float64) label {
	text := plain(p.top-down) + " dB"
	return label{text: text, at: p.at(spoke, p.radiusOf(p.top-down)), alignX: 0.5, alignY: 0.5, size: tickSize - 0.5, color: inkSoft}
}

// ringCost is how much of the curves the ring labels on a spoke would cover.
func (p polarPlan) ringCost(place *placer, spoke float64) (cost float64) {
	for down := 10.0; down < polarRange; down += 10 {
		box := placeLabel(p.ringLabel(spoke, down)).box
		cost += place.cost(box)
	}
	return cost
}

// lines are the curve's connected pieces on the sheet. Straight chords between
// sparse angles would cut inward: long steps are filled in along the spiral.
func (p polarPlan) lines(c PolarCurve) [][]vg.Point {
	var lines [][]vg.Point
	var run []vg.Point
	flush := func() {
		if len(run) > 0 {
			lines = append(lines, run)
		}
		run = nil
	}
	for i, level := range c.LevelDB {
		if math.IsNaN(level) {
			flush()
			continue
		}
		if len(run) > 0 {
			a0, a1 := c.AngleDeg[i-1], c.AngleDeg[i]
			r0, r1 := p.radiusOf(c.LevelDB[i-1]), p.radiusOf(level)
			for n, k := int(math.Abs(a1-a0)/2), 1; k < n; k++ {
				t := float64(k) / float64(n)
				run = append(run, p.at(a0+t*(a1-a0), r0+vg.Length(t)*(r1-r0)))
			}
		}
		run = append(run, p.at(c.AngleDeg[i], p.radiusOf(level)))
	}
	flush()
	return lines
}

// keyWidth is the width of the key: beside the circle, or below it on a narrow sheet.
func (c Polar) keyWidth() vg.Length { return c.pick(polarKey, c.bodyWidth()) }

// key lists the lines of its text; the first block is the scale.
func (c Polar) key(plan polarPlan) [][]string {
	blocks := [][]string{wrap(fmt.Sprintf("rim %s dB, 5 dB per ring", plain(plan.top)), noteSize, false, c.keyWidth(), 3)}
	for _, curve := range c.Curves {
		blocks = append(blocks, wrap(curve.Label, noteSize, false, c.keyWidth()-legendLine-6, 3))
	}
	return blocks
}

// keyStep is the room of a block of the key.
func keyStep(lines []string) vg.Length {
	if len(lines) == 0 {
		return 0
	}
	return vg.Length(len(lines))*noteSize*lineSpacing + 4
}

// drawKey names the curves, with the upper left corner of the key at a point.
func (c Polar) drawKey(s *sheet, at vg.Point, plan polarPlan) {
	x, y := at.X, at.Y
	for i, lines := range c.key(plan) {
		l := label{at: vg.Point{X: x, Y: y}, alignY: 1, size: noteSize, color: inkSoft}
		if i > 0 && len(lines) > 0 {
			st := c.Curves[i-1].asCurve().stroke(i - 1)
			mid := y - noteSize*0.42
			s.line(st, x, mid, x+legendLine, mid)
			l.at.X, l.color = x+legendLine+6, ink
		}
		s.textLines(lines, l)
		y -= keyStep(lines)
	}
}

// words names the curves.
func (c Polar) words() string {
	var names []string
	for _, curve := range c.Curves {
		names = append(names, clean(curve.Label))
	}
	return "Relative level against angle: " + strings.Join(names, "; ")
}
