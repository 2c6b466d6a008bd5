package plots

import (
	"errors"
	"math"
)

// LogPanel shows a positive quantity, such as impedance or excursion, on a
// logarithmic axis in the proportions of IEC 60263.
func LogPanel(title, unit string, curves ...Curve) Panel {
	return Panel{Y: Axis{Label: title, Unit: unit, Kind: Logarithmic}, Curves: curves, Proportion: LogProportion}
}

// Beamwidth shows coverage angles against frequency, with the nominal angle as a
// line.
type Beamwidth struct {
	Caption
	X       Axis    // zero value: 20 Hz to 20 kHz
	Curves  []Curve // Y in degrees; such as one per plane
	Nominal float64 // degrees; zero or NaN: not shown
	Marks   []Mark  // such as the control frequency, the narrowest point
}

func (b Beamwidth) layout() (*sheet, error) {
	if len(b.Curves) == 0 {
		return nil, errors.New("beamwidth chart without curves")
	}
	b.X.Kind = Frequency
	p := Panel{Y: Axis{Label: "Beamwidth (−6 dB)", Unit: "degrees"}, Curves: b.Curves, Marks: b.Marks}
	high := 0.0
	for _, c := range b.Curves {
		for _, y := range c.Y {
			if finite(y) {
				high = math.Max(high, y)
			}
		}
	}
	if b.Nominal > 0 && finite(b.Nominal) {
		high = math.Max(high, b.Nominal)
		p.Guides = []Guide{{Value: b.Nominal, Text: "nominal " + plain(b.Nominal) + "°"}}
	}
	p.Y.Low, p.Y.High, p.Y.Step = 0, math.Max(30, math.Ceil(high/30)*30), 30
	return Chart{Caption: b.Caption, X: b.X, Panels: []Panel{p}}.layout()
}
