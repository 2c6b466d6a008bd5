package screen

import (
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"gapline/cabinet/design"
	"gapline/cabinet/field"
	"gapline/cabinet/filter"
	"gapline/internal/advice"
	"gapline/internal/numeric"
	"gapline/internal/quantity"
	"gapline/internal/study/line"
)

// Crossover writes the summary of a crossover: as the file has it and the best
// found, and the response on axis.
func Crossover(w io.Writer, c *line.Crossover, s *line.Study, sys quantity.System) error {
	v := crossoverView{lineView{&line.Result{Study: s}, sys}, c}
	var b strings.Builder
	b.WriteString(v.heading())
	t := &Table{}
	v.settings(t)
	_, _ = t.WriteTo(&b) // a Builder does not fail
	b.WriteString(v.paste())
	t = &Table{}
	v.response(t)
	_, _ = t.WriteTo(&b)
	for _, f := range CrossoverFindings(c, s, sys) {
		b.WriteString(Wrap(f.Text, lineWidth, signs[f.Severity], "        "))
	}
	_, err := io.WriteString(w, b.String())
	return err
}

type crossoverView struct {
	lineView
	c *line.Crossover
}

// settings puts what the file has beside the best found.
func (v *crossoverView) settings(t *Table) {
	x, best := &v.c.Crossing, v.c.Best
	row := func(name, given string, found func(*filter.Best) string, trust string) {
		cells := []string{"  " + name, given}
		if best != nil {
			cells = append(cells, found(best))
		}
		t.Row(append(cells, trust)...)
	}
	head := []string{fmt.Sprintf("CROSSOVER %s to %s, %s order %d", x.Low, x.High, x.Alignment, x.Order), "as given"}
	if best != nil {
		head = append(head, "best found")
	}
	t.Row(append(head, "trust")...)
	row("frequency", v.hz(x.Frequency), func(b *filter.Best) string { return v.hz(b.Frequency) }, "")
	row("delay of the "+x.Low, milliseconds(x.LowWay.Delay), func(b *filter.Best) string { return milliseconds(math.Max(-b.Delay, 0)) }, "")
	row("delay of the "+x.High, milliseconds(x.HighWay.Delay), func(b *filter.Best) string { return milliseconds(math.Max(b.Delay, 0)) }, "")
	row("polarity", v.polarity(v.c.Given), func(b *filter.Best) string { return v.polarity(b.Sum) }, "")
	row("deepest notch in the coverage", dB(v.c.Given.Deepest.Loss)+" dB", func(b *filter.Best) string { return dB(b.Sum.Deepest.Loss) + " dB" }, "aperture")
	row("  where", v.notch(v.c.Given), func(b *filter.Best) string { return v.notch(b.Sum) }, "")
	row("  against the axis there", dB(v.c.Given.Deepest.Level)+" dB", func(b *filter.Best) string { return dB(b.Sum.Deepest.Level) + " dB" }, "aperture")
	row("largest loss on axis", dB(axisLoss(v.c.Given))+" dB", func(b *filter.Best) string { return dB(axisLoss(b.Sum)) + " dB" }, "aperture")
}

func milliseconds(s float64) string { return fmt.Sprintf("%.3f ms", s*1e3) }

func (v *crossoverView) polarity(s *filter.Sum) string {
	if s.High.Invert != s.Low.Invert {
		return v.c.Crossing.High + " inverted"
	}
	return "alike"
}

// notch words the place of a sum's deepest notch.
func (v *crossoverView) notch(s *filter.Sum) string {
	return v.hz(s.Deepest.Frequency) + ", " + v.place(s.Deepest)
}

func (v *crossoverView) place(n filter.Notch) string {
	sides := [2]string{"up", "down"}
	if n.Plane == field.Horizontal {
		sides = [2]string{"left", "right"}
	}
	switch {
	case math.Abs(n.Angle) < 1e-9:
		return "on axis"
	case n.Angle > 0:
		return v.angle(n.Angle) + " " + sides[0]
	}
	return v.angle(-n.Angle) + " " + sides[1]
}

// axisLoss is the most that the two ways fail to help each other on axis, dB.
func axisLoss(s *filter.Sum) float64 {
	worst := 0.0
	middle := len(s.Vertical.Angle) / 2
	for _, row := range s.Vertical.Loss {
		worst = math.Min(worst, row[middle])
	}
	return worst
}

// PasteCrossover returns the lines of a design file that set the best crossover.
func PasteCrossover(c *line.Crossover) []PasteLine {
	low, high := wayTables[c.Crossing.Low], wayTables[c.Crossing.High]
	frequency := "crossover.frequency"
	if c.Crossing.High == "mids" {
		frequency = "crossover.low_frequency"
	}
	b := c.Best
	polarity := design.Normal
	if b.Invert {
		polarity = design.Inverted
	}
	milli := func(s float64) string { return strconv.Quote(plainNumber(math.Max(s, 0)*1e3) + " ms") }
	return []PasteLine{
		{frequency, strconv.Quote(strconv.FormatFloat(math.Round(b.Frequency), 'f', -1, 64) + " Hz")},
		{low + ".delay", milli(-b.Delay)}, {high + ".delay", milli(b.Delay)}, {high + ".polarity", strconv.Quote(polarity)},
	}
}

// wayTables are the tables of the file that hold each band's keys.
var wayTables = map[string]string{"woofers": "woofer", "mids": "mid", "horn": "horn"}

func (v *crossoverView) paste() string {
	out := ""
	for _, text := range v.pasteTexts() {
		out += Wrap(text, lineWidth, "  ", "  ")
	}
	return out
}

func (v *crossoverView) pasteTexts() []string {
	if v.c.Best == nil {
		return nil
	}
	var parts []string
	for _, p := range PasteCrossover(v.c) {
		parts = append(parts, p.Key+" = "+p.Value)
	}
	return []string{"to paste: " + strings.Join(parts, "; "),
		fmt.Sprintf("searched from %s to %s; coverage %s by %s", v.hz(v.c.From), v.hz(v.c.To), v.angle(v.c.Horizontal), v.angle(v.c.Vertical))}
}

// response lists the level on axis.
func (v *crossoverView) response(t *Table) {
	x := &v.c.Crossing
	row := []string{"ON AXIS, dB", "sum", x.Low, x.High, "phase"}
	if v.c.Best != nil {
		row = append(row, "best sum")
	}
	t.Row(row...)
	g := v.c.Given
	step := max(1, len(g.Frequency)/14)
	for i := 0; i < len(g.Frequency); i += step {
		row := []string{"  " + v.hz(Nominal(g.Frequency[i])), dB(g.OnAxis[i]), dB(g.LowAxis[i]), dB(g.HighAxis[i]), fmt.Sprintf("%.0f°", g.OnAxisPhase[i]*degrees)}
		if v.c.Best != nil {
			row = append(row, dB(v.c.Best.Sum.OnAxis[i]))
		}
		t.Row(row...)
	}
}

// bandsApart is the horizontal distance between the middles of the two bands, m.
func bandsApart(c *line.Crossover, s *line.Study) float64 {
	middle := func(name string) float64 {
		b := &s.Model.Bands[s.Model.Band(name)]
		sum := 0.0
		for _, m := range b.Mouths {
			sum += m.Position.Y
		}
		return sum / float64(len(b.Mouths))
	}
	return math.Abs(middle(c.Crossing.Low) - middle(c.Crossing.High))
}

// CrossoverFindings are the notes and cautions of a crossover.
func CrossoverFindings(c *line.Crossover, s *line.Study, sys quantity.System) []advice.Finding {
	var out []advice.Finding
	add := func(sev advice.Severity, key, format string, args ...any) {
		out = append(out, advice.Finding{Severity: sev, Key: key, Text: fmt.Sprintf(format, args...)})
	}
	for _, n := range s.Model.Notes {
		add(advice.Note, "crossover", "%s", n)
	}
	add(advice.Note, "crossover.frequency", "A notch is how far the sum lies below both ways in phase. It counts within the coverage, in both planes, over the frequencies computed.")
	if apart := bandsApart(c, s); apart > 0.25*s.SoundSpeed()/c.Crossing.Frequency {
		add(advice.Note, c.Crossing.High, "The %s and the %s stand %s apart across, %.2f λ at %s: no delay helps both sides alike. Nearer to each other, or one between two columns of the other, the notch goes.",
			c.Crossing.Low, c.Crossing.High, quantity.Format(apart, quantity.Length, sys), apart*c.Crossing.Frequency/s.SoundSpeed(),
			quantity.Format(c.Crossing.Frequency, quantity.Frequency, sys))
	}
	if l := s.Design.Horn.Length; c.Crossing.High == "horn" && numeric.Given(l) {
		add(advice.Note, "horn.length", "Delays count at the mouths. The horn's own path of %s takes %s: delay the other bands by that much more.",
			quantity.Format(l, quantity.Length, sys), milliseconds(l/s.SoundSpeed()))
	}
	if s.Model.Absolute {
		add(advice.Caution, "drive.voltage", "%s", advice.LoudnessCaution)
	}
	add(advice.Caution, "line.boxes", advice.SuspensionCaution)
	return out
}
