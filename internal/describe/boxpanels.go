package describe

import (
	"fmt"
	"math"
	"math/cmplx"
	"slices"

	"gapline/driver"
	"gapline/internal/figure"
	"gapline/internal/numeric"
	"gapline/internal/quantity"
	"gapline/internal/result"
)

// over is a curve of values at the study's frequencies.
func (b boxParts) over(label string, y []float64) result.Curve {
	return result.Curve{Label: result.Plain(label), X: b.Frequency, Y: finite(y)}
}

// points is a curve of what the box does at the study's drive.
func (b boxParts) points(label string, of func(driver.Point) float64) result.Curve {
	return b.over(label, each(b.Points, of))
}

// limits is a curve of what the box does at its maximum level.
func (b boxParts) limits(label string, of func(driver.MaxPoint) float64) result.Curve {
	return b.over(label, each(b.Max, of))
}

func (b boxParts) inside(f float64) bool {
	return f > b.Frequency[0] && f < b.Frequency[len(b.Frequency)-1]
}

// inBand is a vertical guide at a frequency that lies within the axis.
func (b boxParts) inBand(f float64, text result.Text) []result.Guide {
	if !b.inside(f) {
		return nil
	}
	return []result.Guide{{Value: f, Vertical: true, Text: text}}
}

const levelLabel = "Level re 20 µPa"

func (b boxParts) level() result.Panel {
	c := b.points("", driver.Point.Level)
	f3 := b.Summary.F3
	return result.Panel{Y: levelAxis(levelLabel, 40, c), Curves: []result.Curve{c}, Proportion: result.LevelProportion,
		Guides: b.inBand(f3, result.Say("f3 %s", hertz(f3)))}
}

func (b boxParts) delay() result.Panel {
	return result.Panel{Y: result.Axis{Label: "Group delay", Kind: quantity.Time, Unit: "ms"}, Curves: []result.Curve{b.over("", b.Delay)}, Height: 120}
}

func (b boxParts) impedance() result.Panel {
	c := b.points("", func(p driver.Point) float64 { return cmplx.Abs(p.Impedance) })
	re := b.Circuit.NominalResistance()
	axis := result.Axis{Label: "Impedance", Kind: quantity.Resistance, Unit: "Ω", Scale: result.Logarithmic, Low: 0.7 * re, High: 1.2 * slices.Max(c.Y)}
	return result.Panel{Y: axis, Curves: []result.Curve{c}, Height: 170,
		Guides: []result.Guide{{Value: re, Text: result.Say("Re %s", result.Num(re, quantity.Resistance))}}}
}

func (b boxParts) impedancePhase() result.Panel {
	return result.Panel{Y: phaseAxis, Height: 120,
		Curves: []result.Curve{b.points("", func(p driver.Point) float64 { return cmplx.Phase(p.Impedance) })}}
}

// phaseAxis is the axis of the phase of an impedance.
var phaseAxis = result.Axis{Label: "Phase", Kind: quantity.Angle, Unit: "deg", Low: -math.Pi / 2, High: math.Pi / 2}

func (b boxParts) excursion() result.Panel {
	curves := drawn(b.points("", func(p driver.Point) float64 { return p.Excursion }),
		b.points("passive radiator", func(p driver.Point) float64 { return p.Radiator }))
	if len(curves) > 1 {
		curves[0].Label = result.Plain("cones")
	}
	high := 0.0
	for _, c := range curves {
		for _, y := range c.Y {
			if numeric.Given(y) {
				high = math.Max(high, y)
			}
		}
	}
	p := result.Panel{Y: result.Axis{Label: "Peak excursion", Kind: quantity.Length, Unit: "mm", InchUnit: "in"}, Curves: curves, Height: 150}
	// The limits are drawn when the curves come near one; limits far above would flatten
	// the curves.
	top := 0.0
	limits := b.travelLimits()
	if !slices.ContainsFunc(limits, func(l travelLimit) bool { return l.at < 3*high }) {
		limits = nil
	}
	for _, l := range limits {
		p.Guides = append(p.Guides, result.Guide{Value: l.at, Text: result.Say(l.name+" %s", length(l.at))})
		top = math.Max(top, l.at)
	}
	if top > 0 {
		p.Y.Low, p.Y.High = 0, 1.1*math.Max(top, math.Min(high, 3*top))
	}
	return p
}

// travelLimit is how far something may move.
type travelLimit struct {
	name string
	at   float64 // m
}

// travelLimits are the excursion limits of cones and passive radiators, one line for
// both where they are the same.
func (b boxParts) travelLimits() []travelLimit {
	cone, radiator := b.Setup.Driver.Xmax.Value(), numeric.Absent
	if b.Setup.Enclosure.Kind.Parts().Radiator {
		radiator = b.Setup.Enclosure.Radiator.Xmax.Value()
	}
	var out []travelLimit
	switch {
	case numeric.Given(cone) && numeric.Given(radiator) && math.Abs(cone/radiator-1) < 1e-3:
		return []travelLimit{{"xmax of both", cone}}
	case numeric.Given(cone) && numeric.Given(radiator):
		return []travelLimit{{"xmax of the cones", cone}, {"of the passive radiator", radiator}}
	case numeric.Given(cone):
		out = append(out, travelLimit{"xmax", cone})
	case numeric.Given(radiator):
		out = append(out, travelLimit{"xmax of the passive radiator", radiator})
	}
	return out
}

func (b boxParts) motion() []result.Panel {
	return append([]result.Panel{b.excursion()}, b.speeds("Air speed",
		b.points("vent", func(p driver.Point) float64 { return p.VentSpeed }),
		b.points("insert's mouths", func(p driver.Point) float64 { return p.MouthSpeed }))...)
}

// speeds is a panel of air speeds, or none.
func (b boxParts) speeds(label string, curves ...result.Curve) []result.Panel {
	if curves = drawn(curves...); len(curves) == 0 {
		return nil
	}
	heard := result.Num(driver.MouthSpeedCaution, quantity.Speed)
	return []result.Panel{{Y: result.Axis{Label: label, Kind: quantity.Speed, Unit: "m/s, peak"}, Curves: curves, Height: 120,
		Guides: []result.Guide{{Value: driver.MouthSpeedCaution, Text: result.Say("%s: likely to be heard", heard)}}}}
}

// maxPanel draws the maximum level with both limits and where they cross.
func (b boxParts) maxPanel() result.Panel {
	top := b.limits("maximum", func(m driver.MaxPoint) float64 { return m.Level })
	excursion := b.limits("excursion limit", func(m driver.MaxPoint) float64 { return m.Excursion })
	power := b.limits("power limit", func(m driver.MaxPoint) float64 { return m.Power })
	radiator := b.limits("passive radiator", func(m driver.MaxPoint) float64 { return m.Radiator })
	if numeric.AnyGiven(radiator.Y) {
		excursion = b.limits("excursion, cones", func(m driver.MaxPoint) float64 { return m.Cone })
	}
	excursion.Dash, excursion.Thin, excursion.Colour = result.Dashed, true, 2
	power.Dash, power.Thin, power.Colour = result.DashDot, true, 3
	radiator.Dash, radiator.Thin, radiator.Colour = result.ShortDash, true, 4
	p := result.Panel{Y: levelAxis("Maximum level re 20 µPa", 40, top), Curves: drawn(top, excursion, power, radiator), Proportion: result.LevelProportion}
	for _, c := range b.Crossings {
		if m := b.Circuit.MaxLevel([]float64{c.Frequency})[0]; m.Level > p.Y.Low {
			p.Marks = append(p.Marks, result.Mark{X: c.Frequency, Y: m.Level, Text: result.Say("%s", hertz(c.Frequency))})
		}
	}
	if m := b.MaxAt; numeric.Given(m.Level) {
		p.Guides = b.inBand(b.LevelAt, result.Say("%s at %s", level(m.Level), hertz(b.LevelAt)))
	}
	return p
}

func (b boxParts) loudest() []result.Panel {
	return append([]result.Panel{b.maxPanel()}, b.speeds("Air speed at the maximum",
		b.limits("vent", func(m driver.MaxPoint) float64 { return m.VentSpeed }),
		b.limits("insert's mouths", func(m driver.MaxPoint) float64 { return m.Mouth }))...)
}

func (b boxParts) stackPanels() []result.Panel {
	k := b.Stack
	gain := func(i int, of func(axis, power float64) float64) []float64 {
		out := make([]float64, len(k.Frequency))
		for j := range out {
			out[j] = of(k.Gain(i, j))
		}
		return out
	}
	var levels, gains []result.Curve
	for i, n := range k.Boxes {
		levels = append(levels, b.over(boxes(n), each(k.Points[i], func(p driver.StackPoint) float64 { return p.Axis })))
	}
	for i := 1; i < len(k.Boxes); i++ {
		gains = append(gains, b.over(fmt.Sprintf("power, %d to %d", k.Boxes[i-1], k.Boxes[i]), gain(i, func(_, power float64) float64 { return power })))
	}
	panels := []result.Panel{{Y: levelAxis("Level on axis re 20 µPa", 70, levels...), Curves: levels, Proportion: result.LevelProportion}}
	if last := len(k.Boxes) - 1; last > 0 {
		axis := b.over("on axis", gain(last, func(axis, _ float64) float64 { return axis }))
		axis.Dash, axis.Thin, axis.Colour = result.Dotted, true, 6
		panels = append(panels, result.Panel{Y: result.Axis{Label: "Gain over the size before", Kind: quantity.Level, Unit: "dB"}, Curves: append(gains, axis),
			Height: 150, Guides: []result.Guide{{Value: 3.01, Text: result.Plain("3 dB: each box by itself")}}})
	}
	return panels
}

func (b boxParts) insertPanels() []result.Panel {
	k := b.Insert
	change := func(label string, of func(driver.Difference) float64) result.Curve {
		return b.over(label, each(k.Change, of))
	}
	with := change("with insert", func(d driver.Difference) float64 { return d.With })
	without := change("without", func(d driver.Difference) float64 { return d.Without })
	corner, horn := k.Effect.Chamber.Corner, b.Sizing.Gap.High
	top := result.Panel{Y: levelAxis(levelLabel, 40, with, without), Curves: []result.Curve{with, without}, Proportion: result.LevelProportion,
		Guides: b.inBand(corner, result.Say("chamber corner, mouths coupled, %s", hertz(corner)))}
	below := result.Panel{Y: result.Axis{Label: "Difference", Kind: quantity.Level, Unit: "dB"}, Height: 120,
		Curves: []result.Curve{change("", func(d driver.Difference) float64 { return d.Change })},
		Guides: append([]result.Guide{{Value: 0, Strong: true}}, b.inBand(horn, result.Say("horn from %s", hertz(horn)))...)}
	if m := &k.Most; b.inside(m.Frequency) {
		below.Marks = []result.Mark{{X: m.Frequency, Y: m.Change, Text: result.Say("%s at %s", result.Fig(figure.InsertMost, m.Change), hertz(m.Frequency))}}
	}
	return []result.Panel{top, below}
}

// all stands the main curves below each other.
func (b boxParts) all() []result.Panel {
	panels := []result.Panel{b.level(), b.impedance(), b.excursion()}
	if numeric.Given(b.Max[0].Level) {
		panels = append(panels, b.maxPanel())
	}
	for i := range panels {
		panels[i].Proportion, panels[i].Height = result.Free, 125
	}
	return panels
}
