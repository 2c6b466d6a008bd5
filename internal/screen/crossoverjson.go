package screen

import (
	"encoding/csv"
	"io"

	"gapline/cabinet/field"
	"gapline/cabinet/filter"
	"gapline/internal/study/line"
)

// CrossoverObject is the JSON of the crossover command.
func CrossoverObject(c *line.Crossover, s *line.Study) *Object {
	o := &Object{}
	x := &c.Crossing
	o.Set("schema_version", SchemaVersion).Set("title", s.Design.Title)
	o.Set("conditions", conditionsObject(s)).Set("stack", hungObject(s)).Set("bands", drivenObjects(s))
	crossing := &Object{}
	o.Set("crossing", crossing.Set("low", x.Low).Set("high", x.High).Set("frequency_hz", x.Frequency).Set("order", x.Order).
		Set("alignment", x.Alignment.String()).Set("frequency_from_file", x.FromFile))
	o.Set("coverage_vertical_deg", inDegrees(c.Vertical)).Set("coverage_horizontal_deg", inDegrees(c.Horizontal))
	o.Set("distance_m", Number(c.Distance)).Set("window_hz", Numbers([]float64{c.From, c.To})).Set("frequency_hz", Numbers(c.Hz))
	o.Set("given", sumObject(c.Given))
	if c.Best != nil {
		best := &Object{}
		best.Set("frequency_hz", Number(c.Best.Frequency)).Set("delay_s", Number(c.Best.Delay)).Set("inverted", c.Best.Invert).
			Set("evaluations", c.Best.Evaluations).Set("sum", sumObject(c.Best.Sum))
		o.Set("best", best)
	}
	return o.Set("findings", CrossoverFindings(c, s, 0))
}

func sumObject(s *filter.Sum) *Object {
	o := &Object{}
	o.Set("on_axis_db", Numbers(s.OnAxis)).Set("low_db", Numbers(s.LowAxis)).Set("high_db", Numbers(s.HighAxis)).
		Set("phase_deg", allDegrees(s.OnAxisPhase, 1)).Set("largest_axis_loss_db", Number(axisLoss(s)))
	n := &Object{}
	plane := "vertical"
	if s.Deepest.Plane == field.Horizontal {
		plane = "horizontal"
	}
	o.Set("notch", n.Set("loss_db", Number(s.Deepest.Loss)).Set("relative_db", Number(s.Deepest.Level)).
		Set("frequency_hz", Number(s.Deepest.Frequency)).Set("angle_deg", inDegrees(s.Deepest.Angle)).Set("plane", plane))
	return o.Set("vertical", mapObject(&s.Vertical)).Set("horizontal", mapObject(&s.Horizontal))
}

func mapObject(m *filter.Map) *Object {
	o := &Object{}
	return o.Set("angle_deg", allDegrees(m.Angle, 1)).Set("level_db", rows(m.Level)).Set("relative_db", rows(m.Normalised)).Set("loss_db", rows(m.Loss))
}

// CrossoverCSV writes one view of a sum as a table.
func CrossoverCSV(w io.Writer, c *line.Crossover, s *filter.Sum, view line.CrossoverView) error {
	t := &table{w: csv.NewWriter(w)}
	if view == line.ResponseView {
		t.row("frequency_hz", "on_axis_db", "low_db", "high_db", "phase_deg")
		for i, f := range c.Hz {
			t.numbers(f, s.OnAxis[i], s.LowAxis[i], s.HighAxis[i], float64(inDegrees(s.OnAxisPhase[i])))
		}
		return t.flush()
	}
	m := &s.Vertical
	if view == line.AcrossView {
		m = &s.Horizontal
	}
	t.row("frequency_hz", "angle_deg", "relative_db", "level_db", "loss_db")
	for i, f := range c.Hz {
		for j, a := range m.Angle {
			t.numbers(f, float64(inDegrees(a)), m.Normalised[i][j], m.Level[i][j], m.Loss[i][j])
		}
	}
	return t.flush()
}
