package describe

import (
	"gapline/cabinet/design"
	"gapline/internal/numeric"
	"gapline/internal/quantity"
	"gapline/internal/result"
)

// condition is something that a comparison takes for granted and that designs may have
// each their own.
type condition struct {
	name string
	of   func(d Sized) result.Cell
}

// The conditions of overlaid pictures.
var (
	airConditions = []condition{
		{"air", func(d Sized) result.Cell { return result.Num(d.Design.Air.Temperature, quantity.Temperature) }},
		{"humidity", func(d Sized) result.Cell { return result.Num(d.Design.Air.Humidity, quantity.Fraction) }},
		{"pressure", func(d Sized) result.Cell { return result.Num(d.Design.Air.Pressure, quantity.Pressure) }},
	}
	gapConditions = append([]condition{
		{"criterion", func(d Sized) result.Cell {
			if d.Sizing.Gap.Basis == design.Lobe {
				return result.Word("lobe")
			}
			return result.Word("half-wave rule")
		}},
		{"highest lobe allowed", func(d Sized) result.Cell { return lobeAllowed(d) }},
	}, airConditions...)
	levelConditions = append([]condition{
		{"compared at", func(d Sized) result.Cell { return hertz(d.Sizing.Box.LevelAt) }},
	}, airConditions...)
)

// lobeAllowed is the target of the lobe criterion.
func lobeAllowed(d Sized) result.Cell {
	return level(numeric.DB(d.Design.LobeTarget()))
}

// unlike words the conditions in which designs differ, each with the value of every
// design; empty where they agree.
func unlike(designs []Sized, conditions []condition) result.Text {
	var out result.Text
	for _, c := range conditions {
		cells := make([]result.Cell, len(designs))
		same := true
		for i, d := range designs {
			cells[i] = c.of(d)
			same = same && alike(cells[i], cells[0])
		}
		if same {
			continue
		}
		text := result.Plain("not alike: " + c.name + " (")
		if !out.Empty() {
			text = result.Plain(", " + c.name + " (")
		}
		out = out.And(text)
		for i, d := range designs {
			form := "%s %s"
			if i > 0 {
				form = ", %s %s"
			}
			out = out.And(result.Say(form, d.Name, cells[i]))
		}
		out = out.And(result.Plain(")"))
	}
	return out
}

// withUnlike adds to a caption what is not alike.
func withUnlike(c result.Caption, designs []Sized, conditions []condition) result.Caption {
	if text := unlike(designs, conditions); !text.Empty() {
		c.Subtitle = c.Subtitle.And(result.Plain("; ")).And(text)
	}
	return c
}
