package screen

import (
	"fmt"
	"io"
	"math"
	"strings"

	"gapline/cabinet/design"
	"gapline/internal/advice"
	"gapline/internal/cleantext"
	"gapline/internal/figure"
	"gapline/internal/measured"
	"gapline/internal/numeric"
	"gapline/internal/quantity"
	"gapline/internal/render/terminal"
	"gapline/internal/study/trace"
)

// Trace writes the screen of the trace command: what the traces are laid over,
// statistics per octave, and where pairs part.
func Trace(w io.Writer, d *design.Design, v *trace.Overlay, sys quantity.System) error {
	var b strings.Builder
	b.WriteString(traceHeading(d, v, sys))
	for i := range v.Curves {
		curveText(&b, v, &v.Curves[i], sys)
	}
	for i := range v.Pairs {
		pairText(&b, v, &v.Pairs[i], sys)
	}
	b.WriteString(terminal.Findings(advice.TraceCautions(len(v.Pairs) > 0), sys))
	_, err := io.WriteString(w, b.String())
	return err
}

func hertz(f float64, sys quantity.System) string { return quantity.Format(f, quantity.Frequency, sys) }

func traceHeading(d *design.Design, v *trace.Overlay, sys quantity.System) string {
	title := d.Title
	if title == "" {
		title = "untitled design"
	}
	var b strings.Builder
	b.WriteString(title + "\n")
	if p := v.Prediction; p != nil {
		b.WriteString(Wrap(fmt.Sprintf("laid over: %s, trust: %s", p.Name, p.Trust), lineWidth, "", "  "))
		b.WriteString(Wrap(fmt.Sprintf("%s; shown up to %s (%s)", p.Conditions, hertz(p.Limit, sys), p.LimitWhy), lineWidth, "  ", "  "))
	} else {
		b.WriteString(Wrap("laid over no prediction: "+v.Why, lineWidth, "", "  "))
	}
	b.WriteString("smoothing: " + v.Options.Smoothing.String() + "; levels: " + AlignText(v, sys) + "\n")
	return b.String()
}

// AlignText says what was done to the levels.
func AlignText(v *trace.Overlay, sys quantity.System) string {
	if v.Band[1] == 0 {
		return "as measured"
	}
	return fmt.Sprintf("moved to match %s from %s to %s", v.Reference, hertz(v.Band[0], sys), hertz(v.Band[1], sys))
}

// MovedText says by how much a trace was moved.
func MovedText(v *trace.Overlay, c *trace.Curve) string {
	switch {
	case v.Band[1] == 0 || c.Difference == nil:
		return ""
	case !numeric.Given(c.Moved):
		return "not moved: it does not cover the band"
	}
	return fmt.Sprintf("moved by %+.1f dB", c.Moved)
}

// farApart is a mean difference that a hint is given at.
const farApart = 20 // dB

func curveText(b *strings.Builder, v *trace.Overlay, c *trace.Curve, sys quantity.System) {
	head := "\nTRACE " + c.Name
	if text := MovedText(v, c); text != "" {
		head += ", " + text
	}
	b.WriteString(head + "\n")
	for _, n := range c.Notes {
		b.WriteString(Wrap(n, lineWidth, "  ", "    "))
	}
	switch {
	case c.Octaves == nil:
		b.WriteString("  no frequency in common with " + v.Reference + "\n")
	case c.Difference != nil:
		if far := c.Octaves[len(c.Octaves)-1].Mean; v.Band[1] == 0 && math.Abs(far) > farApart {
			b.WriteString("  levels far apart: --align LOW:HIGH brings them together\n")
		}
		bandTable(b, "minus "+v.Reference+", octave", c.Octaves, true, sys)
	default:
		bandTable(b, "level, octave", c.Octaves, false, sys)
	}
}

// bandTable writes statistics per octave, in dB. The worst value makes sense of
// differences only.
func bandTable(b *strings.Builder, what string, bands []measured.Band, difference bool, sys quantity.System) {
	_, _ = bandRows(what, bands, difference, sys).WriteTo(b) // a strings.Builder does not fail
}

func bandRows(what string, bands []measured.Band, difference bool, sys quantity.System) *Table {
	t := &Table{}
	head := []string{"  " + what, "mean dB", "std dB"}
	if difference {
		head = append(head, "worst dB", "at")
	}
	t.Row(append(head, "covered")...)
	number := func(x float64) string { return fmt.Sprintf("%.1f", x) }
	if difference {
		number = signedText
	}
	for _, x := range bands {
		row := []string{"  " + bandName(x, sys), number(x.Mean), fmt.Sprintf("%.1f", x.Deviation)}
		if difference {
			row = append(row, signedText(x.Worst), hertz(x.WorstAt, sys))
		}
		covered := ""
		if x.Covered < 0.95 {
			covered = fmt.Sprintf("%.0f %%", 100*x.Covered)
		}
		t.Row(append(row, covered)...)
	}
	return t
}

// signedText writes a difference in dB: "+1.2", "-0.3", "0.0".
func signedText(x float64) string {
	if math.Abs(x) < 0.05 {
		return "0.0"
	}
	return fmt.Sprintf("%+.1f", x)
}

func bandName(x measured.Band, sys quantity.System) string {
	if !numeric.Given(x.Nominal) {
		return fmt.Sprintf("%s to %s", hertz(x.Low, sys), hertz(x.High, sys))
	}
	if x.Nominal >= 1000 {
		return fmt.Sprintf("%g kHz", x.Nominal/1000)
	}
	return fmt.Sprintf("%g Hz", x.Nominal)
}

// PartingText says in one sentence where a pair parts.
func PartingText(v *trace.Overlay, p *trace.Pair, sys quantity.System) string {
	db := v.Options.PartLevel
	switch q := p.Parting; {
	case !numeric.Given(q.From):
		return fmt.Sprintf("Nowhere within ±%g dB over an octave or more: no coupling limit can be read.", db)
	case !numeric.Given(q.Limit):
		return fmt.Sprintf("Within ±%g dB from %s to the end of the data at %s: the pair does not part.", db, hertz(q.From, sys), hertz(q.Until, sys))
	default:
		return fmt.Sprintf("Within ±%g dB from %s to %s: measured coupling limit %s.", db, hertz(q.From, sys), hertz(q.Limit, sys), hertz(q.Limit, sys))
	}
}

// partingRule says what counts as parting.
const partingRule = "The limit is the upper end of the lowest range at least an octave wide in which the pair agrees; partings narrower than 1/6 octave are set aside."

func pairText(b *strings.Builder, v *trace.Overlay, p *trace.Pair, sys quantity.System) {
	head := fmt.Sprintf("\nPAIR %s minus %s", p.With, p.Without)
	if p.Moved != 0 {
		head += fmt.Sprintf(", the second moved by %+.1f dB", p.Moved)
	}
	b.WriteString(head + "\n")
	b.WriteString(Wrap(PartingText(v, p, sys), lineWidth, "  ", "  "))
	b.WriteString(Wrap(partingRule, lineWidth, "  ", "  "))
	if t := limitRows(p, sys); t != nil {
		_, _ = t.WriteTo(b) // a strings.Builder does not fail
	}
	bandTable(b, "difference, octave", p.Octaves, true, sys)
}

// limitRows sets the predicted limits beside the measured one; nil without any.
func limitRows(p *trace.Pair, sys quantity.System) *Table {
	if len(p.Limits) == 0 {
		return nil
	}
	t := &Table{}
	t.Row("  predicted limits", "", "trust", "measured is")
	for _, l := range p.Limits {
		t.Row("  "+limitName(l.Figure), hertz(l.Value, sys), l.Trust.String(), aboveText(l.Octaves))
	}
	return t
}

// limitName tells the lines of mouths apart, whose figures share their names.
func limitName(f *figure.Def) string {
	of := map[string]string{"coupling.open": "bare cones", "coupling.insert": "with insert", "coupling.mid": "mids"}
	return of[f.Group()] + ": " + f.Name
}

func aboveText(octaves float64) string {
	switch {
	case math.IsNaN(octaves):
		return "-"
	case octaves >= 0:
		return quantity.Format(octaves, quantity.Octaves, quantity.Metric) + " above"
	}
	return quantity.Format(-octaves, quantity.Octaves, quantity.Metric) + " below"
}

// TraceCSV writes the statistics: a row for each octave of each trace and pair.
func TraceCSV(w io.Writer, v *trace.Overlay) error {
	out := cleantext.NewCSV(w)
	rows := [][]string{{"trace", "of", "octave_hz", "low_hz", "high_hz", "mean_db", "std_db", "worst_db", "worst_hz", "covered"}}
	add := func(name, of string, bands []measured.Band) {
		for _, x := range bands {
			rows = append(rows, append([]string{name, of}, cellsOf(x.Nominal, x.Low, x.High, x.Mean, x.Deviation, x.Worst, x.WorstAt, x.Covered)...))
		}
	}
	for i := range v.Curves {
		c := &v.Curves[i]
		of := "level"
		if c.Difference != nil {
			of = "difference to " + v.Reference
		}
		add(c.Name, of, c.Octaves)
	}
	for i := range v.Pairs {
		add(pairName(&v.Pairs[i]), "difference of the pair", v.Pairs[i].Octaves)
	}
	return out.WriteAll(rows)
}

func pairName(p *trace.Pair) string { return p.With + " minus " + p.Without }

// CurvesCSV writes the curves: a row for each frequency.
func CurvesCSV(w io.Writer, v *trace.Overlay) error {
	out := cleantext.NewCSV(w)
	head, columns := []string{"frequency_hz"}, [][]float64{v.Frequency}
	add := func(name string, values []float64) {
		if values != nil {
			head, columns = append(head, name), append(columns, values)
		}
	}
	if v.Prediction != nil {
		add("predicted_db", v.Prediction.Level)
	}
	for i := range v.Curves {
		c := &v.Curves[i]
		add(c.Name+" level_db", c.Level)
		add(c.Name+" difference_db", c.Difference)
	}
	for i := range v.Pairs {
		add(pairName(&v.Pairs[i])+" db", v.Pairs[i].Difference)
	}
	rows := [][]string{head}
	for i := range v.Frequency {
		var row []float64
		for _, c := range columns {
			row = append(row, c[i])
		}
		rows = append(rows, cellsOf(row...))
	}
	return out.WriteAll(rows)
}

// cellsOf writes numbers for CSV, empty where there is none.
func cellsOf(xs ...float64) []string {
	out := make([]string, len(xs))
	for i, x := range xs {
		if numeric.Given(x) {
			out[i] = fmt.Sprintf("%.6g", x)
		}
	}
	return out
}
