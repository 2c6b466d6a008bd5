package screen

import (
	"fmt"
	"io"
	"math"
	"strings"

	"gapline/cabinet/design"
	"gapline/cabinet/section"
	"gapline/cabinet/sizing"
	"gapline/internal/advice"
	"gapline/internal/figure"
	"gapline/internal/quantity"
	"gapline/internal/render/terminal"
)

// planFigures are the figures that the plan section stands beside.
var planFigures = []*figure.Def{figure.HornPatternRule, figure.HornPatternComputed, figure.HornPatternWave,
	figure.HornNarrowest, figure.HornNarrowestAt, figure.HornNarrowestWave, figure.HornNarrowestWaveAt}

// PlanText describes the section in one sentence.
func PlanText(d *design.Design, c *section.PlanCheck, sys quantity.System) string {
	show := func(m float64) string { return quantity.Format(m, quantity.Length, sys) }
	p := &c.Plan
	text := fmt.Sprintf("Plan section in two dimensions: cabinet %s wide and %s deep, ", show(p.Width), show(p.Depth))
	if p.EdgeRadius > 0 {
		text += fmt.Sprintf("front edges rounded to %s, ", show(p.EdgeRadius))
	}
	walls := "straight walls"
	if d.Section.SideWalls == design.ProfileWalls {
		walls = d.Horn.Profile.Name() + " walls"
	}
	text += fmt.Sprintf("horn with %s from a slot %s wide to a mouth %s wide", walls, show(2*p.Horn[0].Across), show(d.Horn.MouthWidth))
	if d.Horn.Sides.Given() {
		text += fmt.Sprintf(", side flares to %s (splitters left out)", show(2*p.Horn[len(p.Horn)-1].Across))
	}
	if c.Driven == section.ByWoofers {
		w := p.Woofers[0]
		return text + fmt.Sprintf("; driven by the woofers' openings, %s wide and %s off the middle on both sides, the slot rigid.",
			show(w.To-w.From), show((w.From+w.To)/2))
	}
	return text + "; driven at the slot, the woofers' openings rigid."
}

// WavePlan writes the screen of wave --of plan. s holds the wave figures.
func WavePlan(w io.Writer, d *design.Design, s *sizing.Sizing, c *section.PlanCheck, sys quantity.System) error {
	v := sizeView{d: d, s: s, sys: sys}
	var b strings.Builder
	b.WriteString(v.heading())
	b.WriteString(Wrap(PlanText(d, c, sys), lineWidth, "", ""))
	t := &Table{}
	if c.Driven == section.ByHorn {
		t.Row("HORIZONTAL PATTERN", "", "trust")
		figureRows(t, []*figure.Def{figure.HornPatternRule, figure.HornPatternComputed, figure.HornPatternWave, figure.HornNarrowest, figure.HornNarrowestWave}, s, sys)
	}
	if _, err := t.WriteTo(&b); err != nil {
		return err
	}
	if _, err := planTable(c, sys).WriteTo(&b); err != nil {
		return err
	}
	b.WriteString(terminal.Findings(advice.PlanFindings(c, stride(len(c.Result.Frequency))), sys))
	_, err := io.WriteString(w, b.String())
	return err
}

// planTable is the −6 dB width against frequency.
func planTable(c *section.PlanCheck, sys quantity.System) *Table {
	t := &Table{}
	r := c.Result
	head := []string{"-6 dB WIDTH AT", "wave"}
	if c.Driven == section.ByHorn {
		head = append(head, "aperture", "rule")
	}
	t.Row(head...)
	for i := 0; i < len(r.Frequency); i += stride(len(r.Frequency)) {
		row := []string{"  " + quantity.Format(r.Frequency[i], quantity.Frequency, sys), degreesText(r.Beamwidth[i])}
		if c.Driven == section.ByHorn {
			row = append(row, degreesText(c.Aperture[i]), degreesText(c.Rule[i]))
		}
		t.Row(row...)
	}
	return t
}

// patternStep thins the angles of the pattern in JSON to two degrees.
const patternStep = 8

// WavePlanObject is the JSON of wave --of plan.
func WavePlanObject(d *design.Design, s *sizing.Sizing, c *section.PlanCheck) *Object {
	r := c.Result
	o := &Object{}
	o.Set("schema_version", SchemaVersion).Set("title", d.Title).Set("of", "plan").Set("driven", drivenWord(c.Driven))
	o.Set("unknowns", mostUnknowns(r.Unknowns)).Set("frequency_hz", Numbers(r.Frequency)).Set("seconds", Numbers(r.Seconds))
	o.Set("unknowns_at", r.Unknowns)
	o.Set("beamwidth_deg", Numbers(multiplied(r.Beamwidth, perRadian)))
	if c.Driven == section.ByHorn {
		o.Set("beamwidth_aperture_deg", Numbers(multiplied(c.Aperture, perRadian)))
		o.Set("beamwidth_rule_deg", Numbers(multiplied(c.Rule, perRadian)))
		figureValues(o, planFigures, s)
	}
	var angles []float64
	for j := 0; j < len(r.Angle); j += patternStep {
		angles = append(angles, r.Angle[j]*perRadian)
	}
	var level [][]Number
	for _, row := range r.Pattern {
		var thin []float64
		for j := 0; j < len(row); j += patternStep {
			thin = append(thin, row[j])
		}
		level = append(level, Numbers(thin))
	}
	o.Path("polar.angle_deg", Numbers(angles))
	o.Path("polar.level_db", level)
	if c.Driven == section.ByHorn {
		o.Path("throat.resistance", Numbers(realParts(r.Throat)))
		o.Path("throat.reactance", Numbers(imagParts(r.Throat)))
	}
	return o.Set("change", changeJSON(r.Change))
}

func drivenWord(d section.Driven) string {
	if d == section.ByWoofers {
		return "woofers"
	}
	return "horn"
}

func realParts(z []complex128) []float64 {
	out := make([]float64, len(z))
	for i, v := range z {
		out[i] = real(v)
	}
	return out
}

func imagParts(z []complex128) []float64 {
	out := make([]float64, len(z))
	for i, v := range z {
		out[i] = imag(v)
	}
	return out
}

// WavePlanCSV writes the widths at every frequency.
func WavePlanCSV(w io.Writer, c *section.PlanCheck) error {
	r := c.Result
	head := []string{"frequency_hz", "beamwidth_deg"}
	if c.Driven == section.ByHorn {
		head = append(head, "beamwidth_aperture_deg", "beamwidth_rule_deg")
	}
	var rows [][]float64
	for i, f := range r.Frequency {
		row := []float64{f, r.Beamwidth[i] * perRadian}
		if c.Driven == section.ByHorn {
			row = append(row, c.Aperture[i]*perRadian, c.Rule[i]*perRadian)
		}
		row = append(row, float64(r.Unknowns[i]), at(r.Change, i))
		rows = append(rows, row)
	}
	return writeCSV(w, append(head, "unknowns", "change"), rows)
}

// at is the i-th value, NaN where there are none.
func at(v []float64, i int) float64 {
	if v == nil {
		return math.NaN()
	}
	return v[i]
}
