package plots

import "errors"

// Response shows levels against frequency in the proportions of IEC 60263, with
// further panels below it where wanted: differences, excursion, impedance.
type Response struct {
	Caption
	X      Axis // zero value: 20 Hz to 20 kHz
	Level  Axis // zero value: "Level, dB"
	Curves []Curve
	Marks  []Mark
	Guides []Guide
	Below  []Panel
}

func (r Response) layout() (*sheet, error) {
	if len(r.Curves) == 0 {
		return nil, errors.New("response without curves")
	}
	r.X.Kind = Frequency
	if r.Level.title() == "" {
		r.Level.Label, r.Level.Unit = "Level", "dB"
	}
	top := Panel{Y: r.Level, Curves: r.Curves, Marks: r.Marks, Guides: r.Guides, Proportion: LevelProportion}
	return Chart{Caption: r.Caption, X: r.X, Panels: append([]Panel{top}, r.Below...)}.layout()
}

func (r Response) recaptioned(set func(*Caption)) Figure { set(&r.Caption); return r }

// DifferencePanel shows differences of level, in dB, about a zero line. It goes
// below a Response.
func DifferencePanel(title string, curves ...Curve) Panel {
	return Panel{
		Y:          Axis{Label: title, Unit: "dB"},
		Curves:     curves,
		Guides:     []Guide{{Value: 0, Strong: true}},
		Proportion: LevelProportion,
	}
}
