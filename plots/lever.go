package plots

import (
	"errors"
	"math"
)

// Lever shows the gap in octaves against one lever of the design, with the open
// side above the zero line and the closed side below it.
type Lever struct {
	Caption
	Lever   Axis    // what is varied, with its unit
	Curves  []Curve // Y in octaves; such as one per number of mouths
	Present *Mark   // the design as it stands; nil: not shown
}

func (l Lever) layout() (*sheet, error) {
	if len(l.Curves) == 0 {
		return nil, errors.New("gap curve without data")
	}
	p := Panel{
		Y:      Axis{Label: "Gap", Unit: "octaves"},
		Curves: l.Curves,
		Guides: []Guide{{Value: 0, Strong: true}},
		Zones: []Zone{
			{Low: 0, High: math.Inf(1), Text: "open: no frequency is served by both", Open: true},
			{Low: math.Inf(-1), High: 0, Text: "closed: both serve the overlap"},
		},
	}
	if l.Present != nil {
		p.Marks = append(p.Marks, *l.Present)
	}
	p.Y.Low, p.Y.High = l.octaveRange()
	return Chart{Caption: l.Caption, X: l.Lever, Panels: []Panel{p}}.layout()
}

// octaveRange covers all curves and some of both sides of the zero line.
func (l Lever) octaveRange() (low, high float64) {
	const side = 0.3 // octaves: room for a word
	low, high = -side, side
	all := scale{low: math.Inf(-1), high: math.Inf(1)}
	for _, c := range l.Curves {
		if c.check(false, false) == nil { // broken ones are reported by the chart
			low, high = c.extent(low, high, all)
		}
	}
	if l.Present != nil && finite(l.Present.Y) {
		low, high = math.Min(low, l.Present.Y), math.Max(high, l.Present.Y)
	}
	return automaticRange(Linear, low, high, 6)
}
