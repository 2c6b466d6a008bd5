package picture

import (
	"fmt"
	"math"
	"math/cmplx"
	"slices"

	"gapline/driver"
	"gapline/internal/numeric"
	"gapline/internal/quantity"
	"gapline/plots"
)

// over samples a value at every frequency of the study; values that are not
// finite break the curve.
func (b *boxPicture) over(label string, at func(int) float64) plots.Curve {
	y := make([]float64, len(b.s.Frequency))
	for i := range y {
		y[i] = at(i)
	}
	return plots.Curve{Label: label, X: b.s.Frequency, Y: finite(y)}
}

// shown drops curves without any value.
func shown(curves ...plots.Curve) []plots.Curve {
	return slices.DeleteFunc(curves, func(c plots.Curve) bool { return !slices.ContainsFunc(c.Y, numeric.Given) })
}

// levelAxis fits a level axis around curves, in steps of 5 dB and no more than
// span high: what lies lower is of no use to anybody.
func levelAxis(label string, span float64, curves ...plots.Curve) plots.Axis {
	low, high := math.Inf(1), math.Inf(-1)
	for _, c := range curves {
		for _, y := range c.Y {
			if numeric.Given(y) {
				low, high = math.Min(low, y), math.Max(high, y)
			}
		}
	}
	high = 5 * math.Ceil(high/5+0.2)
	low = math.Max(5*math.Floor(low/5), high-span)
	return plots.Axis{Label: label, Unit: "dB", Low: math.Min(low, high-20), High: high}
}

const levelLabel = "Level re 20 µPa"

func (b *boxPicture) level() plots.Panel {
	c := b.over("", func(i int) float64 { return b.s.Points[i].Level() })
	p := plots.Panel{Y: levelAxis(levelLabel, 40, c), Curves: []plots.Curve{c}, Proportion: plots.LevelProportion}
	if f3 := b.s.Summary.F3; b.inside(f3) {
		p.Guides = append(p.Guides, plots.Guide{Value: f3, Vertical: true, Text: "f3 " + b.hz(f3)})
	}
	return p
}

func (b *boxPicture) inside(f float64) bool {
	return f > b.s.Frequency[0] && f < b.s.Frequency[len(b.s.Frequency)-1]
}

func (b *boxPicture) delay() plots.Panel {
	c := b.over("", func(i int) float64 { return 1e3 * b.s.Delay[i] })
	return plots.Panel{Y: plots.Axis{Label: "Group delay", Unit: "ms"}, Curves: []plots.Curve{c}, Height: 120}
}

func (b *boxPicture) impedance() plots.Panel {
	c := b.over("", func(i int) float64 { return cmplx.Abs(b.s.Points[i].Impedance) })
	re := b.s.Circuit.NominalResistance()
	axis := plots.Axis{Label: "Impedance", Unit: "Ω", Kind: plots.Logarithmic, Low: 0.7 * re, High: 1.2 * slices.Max(c.Y)}
	return plots.Panel{Y: axis, Curves: []plots.Curve{c},
		Guides: []plots.Guide{{Value: re, Text: "Re " + b.text(re, quantity.Resistance)}}, Height: 170}
}

func (b *boxPicture) impedancePhase() plots.Panel {
	c := b.over("", func(i int) float64 { return cmplx.Phase(b.s.Points[i].Impedance) * 180 / math.Pi })
	return plots.Panel{Y: plots.Axis{Label: "Phase", Unit: "degrees", Low: -90, High: 90}, Curves: []plots.Curve{c}, Height: 120}
}

// small returns the factor from m to the unit in which excursions are drawn.
func (b *boxPicture) small() (factor float64, unit string) {
	if b.sys == quantity.Inch {
		return 1 / 0.0254, "in"
	}
	return 1e3, "mm"
}

func (b *boxPicture) excursion() plots.Panel {
	factor, unit := b.small()
	cone := b.over("", func(i int) float64 { return factor * b.s.Points[i].Excursion })
	passive := b.over("passive radiator", func(i int) float64 { return factor * b.s.Points[i].Radiator })
	curves := shown(cone, passive)
	if len(curves) > 1 {
		curves[0].Label = "cones"
	}
	high := 0.0
	for _, c := range curves {
		for _, y := range c.Y {
			if numeric.Given(y) {
				high = math.Max(high, y)
			}
		}
	}
	p := plots.Panel{Y: plots.Axis{Label: "Peak excursion", Unit: unit}, Curves: curves, Height: 150}
	// The limit is drawn when the curve comes near it; a limit far above would
	// flatten the curve.
	if limit := factor * b.s.Setup.Driver.Xmax; limit < 3*high {
		p.Guides = append(p.Guides, plots.Guide{Value: limit, Text: "xmax " + b.text(b.s.Setup.Driver.Xmax, quantity.Length)})
		p.Y.Low, p.Y.High = 0, 1.1*math.Max(limit, math.Min(high, 3*limit))
	}
	return p
}

func (b *boxPicture) motion() []plots.Panel {
	return append([]plots.Panel{b.excursion()}, b.speeds("Air speed", func(i int) (vent, mouth float64) {
		return b.s.Points[i].VentSpeed, b.s.Points[i].MouthSpeed
	})...)
}

// speeds is a panel of air speeds, or none.
func (b *boxPicture) speeds(label string, at func(int) (vent, mouth float64)) []plots.Panel {
	vent := b.over("vent", func(i int) float64 { v, _ := at(i); return v })
	mouth := b.over("insert's mouths", func(i int) float64 { _, m := at(i); return m })
	curves := shown(vent, mouth)
	if len(curves) == 0 {
		return nil
	}
	return []plots.Panel{{Y: plots.Axis{Label: label, Unit: "m/s, peak"}, Curves: curves, Height: 120,
		Guides: []plots.Guide{{Value: driver.MouthSpeedCaution, Text: fmt.Sprintf("%d m/s: likely to be heard", driver.MouthSpeedCaution)}}}}
}

// maxPanel draws the maximum level with both limits and where they cross.
func (b *boxPicture) maxPanel() plots.Panel {
	top := b.over("maximum", func(i int) float64 { return b.s.Max[i].Level })
	excursion := b.over("excursion limit", func(i int) float64 { return b.s.Max[i].Excursion })
	power := b.over("power limit", func(i int) float64 { return b.s.Max[i].Power })
	excursion.Dash, excursion.Thin, excursion.Colour = plots.Dashed, true, 2
	power.Dash, power.Thin, power.Colour = plots.DashDot, true, 3
	p := plots.Panel{Y: levelAxis("Maximum level re 20 µPa", 40, top), Curves: shown(top, excursion, power), Proportion: plots.LevelProportion}
	for _, c := range b.s.Crossings {
		m := b.s.Circuit.MaxLevel([]float64{c.Frequency})[0]
		if m.Level > p.Y.Low {
			p.Marks = append(p.Marks, plots.Mark{X: c.Frequency, Y: m.Level, Text: b.hz(c.Frequency)})
		}
	}
	if m := b.s.MaxAt; b.inside(b.s.LevelAt) && numeric.Given(m.Level) {
		p.Guides = append(p.Guides, plots.Guide{Value: b.s.LevelAt, Vertical: true, Text: fmt.Sprintf("%s at %s", b.text(m.Level, quantity.Level), b.hz(b.s.LevelAt))})
	}
	return p
}

func (b *boxPicture) maximum() []plots.Panel {
	return append([]plots.Panel{b.maxPanel()}, b.speeds("Air speed at the maximum", func(i int) (vent, mouth float64) {
		return b.s.Max[i].VentSpeed, b.s.Max[i].Mouth
	})...)
}

func (b *boxPicture) stack() []plots.Panel {
	k := b.s.Stack
	var levels, gains []plots.Curve
	for i, n := range k.Boxes {
		label := fmt.Sprintf("%d boxes", n)
		if n == 1 {
			label = "1 box"
		}
		levels = append(levels, b.over(label, func(j int) float64 { return k.Points[i][j].Axis }))
	}
	for i := 1; i < len(k.Boxes); i++ {
		label := fmt.Sprintf("power, %d to %d", k.Boxes[i-1], k.Boxes[i])
		gains = append(gains, b.over(label, func(j int) float64 { _, power := k.Gain(i, j); return power }))
	}
	panels := []plots.Panel{{Y: levelAxis("Level on axis re 20 µPa", 70, levels...), Curves: levels, Proportion: plots.LevelProportion}}
	if last := len(k.Boxes) - 1; last > 0 {
		axis := b.over("on axis", func(j int) float64 { a, _ := k.Gain(last, j); return a })
		axis.Dash, axis.Thin, axis.Colour = plots.Dotted, true, 6
		panels = append(panels, plots.Panel{Y: plots.Axis{Label: "Gain over the size before", Unit: "dB"}, Curves: append(gains, axis), Height: 150,
			Guides: []plots.Guide{{Value: 3.01, Text: "3 dB: each box by itself"}}})
	}
	return panels
}

func (b *boxPicture) insert() []plots.Panel {
	k := b.s.Insert
	with := b.over("with insert", func(i int) float64 { return k.Change[i].With })
	without := b.over("without", func(i int) float64 { return k.Change[i].Without })
	change := b.over("", func(i int) float64 { return k.Change[i].Change })
	axis := levelAxis(levelLabel, 40, with, without)
	top := plots.Panel{Y: axis, Curves: []plots.Curve{with, without}, Proportion: plots.LevelProportion}
	if f := k.Effect.Chamber.Corner; b.inside(f) {
		top.Guides = append(top.Guides, plots.Guide{Value: f, Vertical: true, Text: "chamber corner, mouths coupled, " + b.hz(f)})
	}
	below := plots.Panel{Y: plots.Axis{Label: "Difference", Unit: "dB"}, Curves: []plots.Curve{change},
		Guides: []plots.Guide{{Value: 0, Strong: true}}, Height: 120}
	if m := &k.Most; b.inside(m.Frequency) {
		below.Marks = []plots.Mark{{X: m.Frequency, Y: m.Change, Text: fmt.Sprintf("%+.1f dB at %s", m.Change, b.hz(m.Frequency))}}
	}
	if f := b.s.Sizing.Gap.High; b.inside(f) {
		below.Guides = append(below.Guides, plots.Guide{Value: f, Vertical: true, Text: "horn from " + b.hz(f)})
	}
	return []plots.Panel{top, below}
}

// all stands the main curves below each other.
func (b *boxPicture) all() []plots.Panel {
	panels := []plots.Panel{b.level(), b.impedance(), b.excursion()}
	if numeric.Given(b.s.Max[0].Level) {
		panels = append(panels, b.maxPanel())
	}
	for i := range panels {
		panels[i].Proportion, panels[i].Height = plots.FreeProportion, 125
	}
	return panels
}
