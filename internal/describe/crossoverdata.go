package describe

import (
	"gapline/cabinet/field"
	"gapline/cabinet/filter"
	"gapline/internal/figure"
	"gapline/internal/result"
	"gapline/internal/study/line"
)

// data is stack, crossover and sums for programs.
func (x crossoverParts) data() []result.Part {
	c := x.c
	cross := &c.Crossing
	out := append(x.hung.data(),
		group("crossing", object(under("low", result.Word(cross.Low)), under("high", result.Word(cross.High)), fact(figure.CrossingFrequency, cross.Frequency),
			fact(figure.CrossingOrder, float64(cross.Order)), under("alignment", result.Word(cross.Alignment.String())),
			under("frequency_from_file", result.Yes(cross.FromFile)))),
		object(fact(figure.CrossoverLowest, cross.Handover.Lowest), fact(figure.CoverageVertical, c.Vertical), fact(figure.CoverageHorizontal, c.Horizontal), fact(figure.CrossoverDistance, c.Distance),
			list(figure.CrossoverWindow, []float64{c.From, c.To}), list(figure.CrossoverFrequency, c.Hz)),
		way("low_way", c.Low, figure.LowWay), way("high_way", c.High, figure.HighWay), group("given", append(x.given().data(), x.outputs(x.given()))...))
	if b := c.Best; b != nil {
		out = append(out, group("best", object(fact(figure.BestFrequency, b.Frequency), fact(figure.BestDelay, b.Delay), under("inverted", result.Yes(b.Invert)), under("least_bad", result.Yes(c.LeastBad())),
			fact(figure.BestTried, float64(b.Evaluations))), group("sum", append(x.best().data(), x.outputs(x.best()))...)))
	}
	return out
}

func way(key string, w line.Way, f figure.Way) result.Section {
	return group(key, object(fact(f.Inside, w.Inside), fact(f.InsideTime, w.Time()), fact(f.Setback, w.Setback), fact(f.SetbackTime, w.SetbackTime())))
}

// outputs are the delays of a sum at the processor's outputs.
func (x crossoverParts) outputs(s summed) result.Part {
	low, high := x.c.Outputs(s.Sum)
	return object(fact(s.figs.LowOutput, low), fact(s.figs.HighOutput, high))
}

func (s summed) data() []result.Part {
	f, n := s.figs, s.Deepest
	plane := "vertical"
	if n.Plane == field.Horizontal {
		plane = "horizontal"
	}
	return []result.Part{
		object(list(f.OnAxis, s.OnAxis), list(f.Low, s.LowAxis), list(f.High, s.HighAxis), list(f.Phase, s.OnAxisPhase), fact(f.AxisLoss, s.Axis),
			fact(f.Mean, s.Mean), fact(f.Cost, s.Cost())),
		group("notch", object(fact(f.Notch, n.Loss), fact(f.NotchRelative, n.Level), fact(f.NotchAt, n.Frequency), fact(f.NotchAngle, n.Angle),
			under("plane", result.Word(plane)))),
		mapData("vertical", &s.Vertical, s.vertical), mapData("horizontal", &s.Horizontal, s.horizontal),
	}
}

func mapData(key string, m *filter.Map, f figure.SumMap) result.Section {
	return group(key, object(list(f.Angle, m.Angle)), levels(f.Level, m.Level), levels(f.Relative, m.Normalised), levels(f.Loss, m.Loss))
}
