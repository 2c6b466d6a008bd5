package plots

import "math"

// FieldMap shows a level over a side view or plan in metres, both axes to one
// scale, with seating, boxes and other outlines on top.
type FieldMap struct {
	Caption
	X, Y     Axis        // labels; the unit is normally m
	XValues  []float64   // increasing
	YValues  []float64   // increasing
	Level    [][]float64 // Level[i] belongs to YValues[i]; NaN: no value
	Value    Axis        // such as "Level", "dB re 20 µPa"; Low and High limit the colours
	Levels   []float64   // contour levels; nil: round steps
	Overlays []Overlay
	Marks    []Mark
}

func (f FieldMap) layout() (*sheet, error) {
	return Map{
		Caption: f.Caption, X: f.X, Y: f.Y, XValues: f.XValues, YValues: f.YValues, Z: f.Level,
		Value: f.Value, Levels: f.Levels, Overlays: f.Overlays, Marks: f.Marks, EqualAxes: true,
	}.layout()
}

// AngleMap shows relative level over frequency and angle, with the −6 dB
// contours bold.
type AngleMap struct {
	Caption
	FrequencyHz []float64
	AngleDeg    []float64
	Level       [][]float64 // dB; Level[i] belongs to AngleDeg[i]
	Range       float64     // dB shown below the highest level; zero: 30
	Marks       []Mark
	Overlays    []Overlay
}

func (a AngleMap) layout() (*sheet, error) {
	if err := checkGrid(a.FrequencyHz, a.AngleDeg, a.Level, true, false); err != nil {
		return nil, err
	}
	depth := a.Range
	if depth <= 0 {
		depth = 30
	}
	_, high := valueRange(a.Level)
	top := math.Ceil(high/3-1e-9) * 3
	levels := []float64{-6}
	for v := top; v > top-depth; v -= 3 {
		levels = append(levels, v)
	}
	return Map{
		Caption: a.Caption,
		X:       Axis{Kind: Frequency, Low: a.FrequencyHz[0], High: a.FrequencyHz[len(a.FrequencyHz)-1]},
		Y:       Axis{Label: "Angle", Unit: "degrees", Step: angleStep(a.AngleDeg)},
		XValues: a.FrequencyHz, YValues: a.AngleDeg, Z: a.Level,
		Value:  Axis{Label: "Relative level", Unit: "dB", Low: top - depth, High: top},
		Levels: levels, Bold: []BoldLevel{{Value: -6}}, BoldOnly: true, Marks: a.Marks, Overlays: a.Overlays,
	}.layout()
}

// angleStep is the step between labels of an axis of angles.
func angleStep(deg []float64) float64 {
	span := deg[len(deg)-1] - deg[0]
	for _, step := range []float64{5, 10, 15, 30, 45} {
		if span/step <= 12 {
			return step
		}
	}
	return 90
}
