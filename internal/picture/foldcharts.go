package picture

import (
	"fmt"
	"math"

	"gapline/cabinet/design"
	"gapline/cabinet/sizing"
	"gapline/internal/quantity"
	"gapline/internal/study/fold"
	"gapline/plots"
)

// FoldFront charts the front over the mouth: how far each ray lags the shortest,
// and its level.
func FoldFront(st *fold.Study, sys quantity.System) plots.Chart {
	p := newFoldPicture(st, sys)
	shortest := math.Inf(1)
	for _, r := range st.Rays {
		shortest = math.Min(shortest, r.Path)
	}
	var y, lag, level []float64
	for _, r := range st.Rays {
		y = append(y, r.MouthY*p.perMetre)
		lag = append(lag, (r.Path-shortest)*p.perMetre)
		level = append(level, r.Level)
	}
	f := &st.Fold
	budget := f.SpreadBudget()
	top := 1.25 * math.Max(budget, st.Sizing.Fold.PathSpread) * p.perMetre
	c := plots.Chart{
		X: plots.Axis{Label: "Height over the mouth's middle", Unit: p.unit},
		Panels: []plots.Panel{
			{
				Y:      plots.Axis{Label: "Lag of the front", Unit: p.unit, Low: 0, High: top},
				Curves: []plots.Curve{{Label: "lag", X: y, Y: lag}},
				Guides: []plots.Guide{{Value: budget * p.perMetre, Text: "a quarter wave at " + quantity.Format(f.Spec.TopFrequency, quantity.Frequency, sys)}},
				Height: 150,
			},
			{
				Y:      plots.Axis{Label: "Level", Unit: "dB re middle", Low: math.Min(-3, math.Floor(st.Sizing.Fold.Taper)), High: 1},
				Curves: []plots.Curve{{Label: "level", X: y, Y: level, Colour: 2}},
				Height: 110,
			},
		},
	}
	c.Caption = caption("Front over the folded mouth", fmt.Sprintf("by rays; %s; %s", p.pathText(), p.flatText()), &st.Design, &st.Sizing, "rule",
		fmt.Sprintf("Lag and level over a mouth %s high: %s.", p.show(f.Spec.MouthHeight), p.flatText()), sys)
	return c
}

// FoldStack charts the strongest lobe of the line of mouths against frequency,
// with this front and with a perfect one, and what the bulge costs on axis. rows
// run over frequency.
func FoldStack(st *fold.Study, rows []fold.StackRow, sys quantity.System) plots.Chart {
	const floor = -40.0
	shown := func(x float64) float64 {
		if math.IsInf(x, -1) {
			return math.NaN() // no lobe to be seen
		}
		return math.Max(x, floor)
	}
	var f, front, plane, loss []float64
	for _, r := range rows {
		f, front = append(f, r.Frequency), append(front, shown(r.FrontLobe))
		plane, loss = append(plane, shown(r.PlaneLobe)), append(loss, r.AxisChange)
	}
	s := st.Stack
	target := quantity.Format(s.Target, quantity.Level, sys)
	lobes := plots.Panel{
		Y:      plots.Axis{Label: "Strongest lobe", Unit: "dB re axis", Low: floor, High: 0},
		Curves: []plots.Curve{{Label: "this front", X: f, Y: front}, {Label: "perfect front", X: f, Y: plane}},
		Guides: []plots.Guide{{Value: s.Target, Text: "target " + target}},
		Height: 190,
	}
	if s.RibbonTo < f[len(f)-1] {
		lobes.Marks = []plots.Mark{{X: s.RibbonTo, Y: s.Target, Text: "one ribbon up to " + plots.Hz(s.RibbonTo)}}
	}
	least := 0.0
	for _, x := range loss {
		least = math.Min(least, x)
	}
	c := plots.Chart{
		X: plots.Axis{Kind: plots.Frequency, Low: f[0], High: f[len(f)-1]},
		Panels: []plots.Panel{lobes, {
			Y:      plots.Axis{Label: "On axis", Unit: "dB", Low: math.Min(-3, math.Floor(least)), High: 1},
			Curves: []plots.Curve{{Label: "change from the bulge", X: f, Y: loss, Colour: 3}},
			Height: 100,
		}},
	}
	p := newFoldPicture(st, sys)
	c.Caption = caption("The line of mouths against one ribbon",
		fmt.Sprintf("endless straight line at %s, radiating share %.2f; %s; lobes from %s up", p.show(s.Front.Pitch), s.Front.Share(), p.pathText(),
			plots.Hz(s.Front.SoundSpeed/s.Front.Pitch)),
		&st.Design, &st.Sizing, "aperture", "Strongest lobe of an endless line of mouths against frequency, with this front and with a perfect one.", sys)
	return c
}

// InsertPlate draws the insert's plate with its mouths, from the front.
func InsertPlate(d *design.Design, s *sizing.Sizing, sys quantity.System) plots.Drawing {
	p := newFoldPicture(&fold.Study{Design: *d, Sizing: *s}, sys)
	plate := d.InsertPlate()
	x, y := plots.Axis{Label: "x, across", Unit: p.unit}, plots.Axis{Label: "y, up", Unit: p.unit}
	out := plots.Drawing{X: x, Y: y}
	outlines, err := plate.Outlines()
	if err != nil {
		return out // the caller has checked; an empty drawing says that it is empty
	}
	for i, o := range outlines {
		kind := plots.Outline
		if i > 0 {
			kind = plots.Layer
		}
		out.Shapes = append(out.Shapes, p.shape(o, kind, o.Part))
	}
	w, h := plate.Width/2, plate.Height/2
	out.Dimensions = []plots.Dimension{
		p.dimension(w, -h, w, h, -26, "plate"),
		p.dimension(-w, -h, w, -h, -16, "plate"),
	}
	first := -plate.Spacing * float64(plate.Mouths-1) / 2
	if plate.Mouths == 1 {
		first = 0
	}
	out.Dimensions = append(out.Dimensions,
		p.dimension(-plate.MouthWidth/2, first-plate.MouthHeight/2, plate.MouthWidth/2, first-plate.MouthHeight/2, 12, ""),
		p.dimension(-plate.MouthWidth/2, first-plate.MouthHeight/2, -plate.MouthWidth/2, first+plate.MouthHeight/2, 14, ""))
	if plate.Mouths > 1 {
		out.Dimensions = append(out.Dimensions, p.dimension(-w, first, -w, first+plate.Spacing, 18, "spacing"))
	}
	out.Caption = caption("Insert plate, from the front", fmt.Sprintf("%d mouths; plate %s thick", plate.Mouths, p.show(d.Insert.SlotDepth)), d, s, "geometry",
		fmt.Sprintf("Plate of %s by %s with %d mouths.", p.show(plate.Width), p.show(plate.Height), plate.Mouths), sys)
	return out
}
