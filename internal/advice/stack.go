package advice

import (
	"strings"

	"gapline/cabinet/design"
	"gapline/cabinet/source"
	"gapline/internal/check"
	"gapline/internal/quantity"
	"gapline/internal/result"
)

// assumed words what the model of a stack assumes, under a key.
func (l *list) assumed(key string, d *design.Design, m *source.Model) {
	for _, a := range m.Assumed {
		l.add(result.Note, key, "%s", assumption(d, a))
	}
}

// assumption is one of them in words, which name keys of the design file.
func assumption(d *design.Design, a source.Assumption) result.Text {
	switch a.What {
	case source.MouthOfBox:
		return result.Say("horn.mouth_height is not given: the mouth is taken as high as the box, %s.", length(a.Value))
	case source.SideBySide:
		return result.Say("cabinet.width is not given: %s is taken, the mouths side by side.", length(a.Value))
	case source.WindowMiddle:
		key := "crossover.frequency"
		if a.High == source.Mids {
			key = "crossover.low_frequency"
		}
		return result.Say("%s is not given: %s is taken, the middle of the gap's window.", key, hertz(a.Value).As(quantity.Style{Verb: "%.0f", Unit: "Hz"}))
	case source.InsertLeftOut:
		return result.Say("The insert's filter is left out: it needs %s.", strings.Join(check.InsertLacks(d), ", "))
	}
	return result.Plain("No level is known (woofer parameters with enclosure.volume, or a sensitivity): levels are relative.")
}
