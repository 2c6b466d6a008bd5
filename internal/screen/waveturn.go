package screen

import (
	"fmt"
	"io"
	"math"
	"math/cmplx"
	"strings"

	"gapline/cabinet/design"
	"gapline/cabinet/section"
	"gapline/cabinet/sizing"
	"gapline/internal/advice"
	"gapline/internal/figure"
	"gapline/internal/numeric"
	"gapline/internal/quantity"
	"gapline/internal/render/terminal"
)

// TurnText describes the turn in one sentence.
func TurnText(c *section.TurnCheck, sys quantity.System) string {
	show := func(m float64) string { return quantity.Format(m, quantity.Length, sys) }
	return fmt.Sprintf("Section through the turn between the layers: layers %s thick, a plate of %s between them; plain corners, and filleted: plate end half round, outer corners rounded about it.",
		show(c.Layer), show(c.Plate))
}

// WaveTurn writes the screen of wave --of fold --view bend.
func WaveTurn(w io.Writer, d *design.Design, s *sizing.Sizing, c *section.TurnCheck, sys quantity.System) error {
	v := sizeView{d: d, s: s, sys: sys}
	var b strings.Builder
	b.WriteString(v.heading())
	b.WriteString(Wrap(TurnText(c, sys), lineWidth, "", ""))
	for _, t := range []*Table{turnLimits(c, sys), turnTable(c, sys)} {
		if _, err := t.WriteTo(&b); err != nil {
			return err
		}
	}
	b.WriteString(terminal.Findings(advice.TurnFindings(c, stride(len(c.Plain().Result.Frequency))), sys))
	_, err := io.WriteString(w, b.String())
	return err
}

// turnLimits tells for each thickness how far up the turn stays quiet.
func turnLimits(c *section.TurnCheck, sys quantity.System) *Table {
	t := &Table{}
	t.Row("REFLECTS UNDER A TENTH OF THE POWER UP TO", "plain", "filleted", "cross mode", "trust")
	for i := 0; i+1 < len(c.Turns); i += 2 {
		plain, filleted := &c.Turns[i], &c.Turns[i+1]
		mode := c.CrossMode * c.Layer / plain.Bend.Thickness
		mark := ""
		if plain == c.Plain() {
			mark = ", fold.layer"
		}
		t.Row("  layers "+quantity.Format(plain.Bend.Thickness, quantity.Length, sys)+mark, quietText(plain, sys), quietText(filleted, sys),
			quantity.Format(mode, quantity.Frequency, sys), figure.Wave.String())
	}
	return t
}

func quietText(t *section.Turn, sys quantity.System) string {
	limit := t.QuietTo()
	switch {
	case !numeric.Given(limit):
		return "-"
	case math.IsInf(limit, 1):
		f := t.Result.Frequency
		return "beyond " + quantity.Format(f[len(f)-1], quantity.Frequency, sys)
	}
	return quantity.Format(limit, quantity.Frequency, sys)
}

// turnTable is reflection and transmission of the design's turn against
// frequency.
func turnTable(c *section.TurnCheck, sys quantity.System) *Table {
	t := &Table{}
	plain, fillet := c.Plain().Result, c.Fillet().Result
	t.Row("LEVEL AT", "reflected, plain", "filleted", "passed, plain", "filleted")
	db := func(z complex128) string {
		level := numeric.DB(cmplx.Abs(z))
		if math.Abs(level) < 0.05 {
			level = 0 // no minus sign before a zero
		}
		return quantity.Format(level, quantity.Level, sys)
	}
	for i := 0; i < len(plain.Frequency); i += stride(len(plain.Frequency)) {
		t.Row("  "+quantity.Format(plain.Frequency[i], quantity.Frequency, sys), db(plain.Reflection[i]), db(fillet.Reflection[i]),
			db(plain.Transmission[i]), db(fillet.Transmission[i]))
	}
	return t
}

// decibels returns the levels of pressure ratios.
func decibels(z []complex128) []float64 {
	out := make([]float64, len(z))
	for i, v := range z {
		out[i] = numeric.DB(cmplx.Abs(v))
	}
	return out
}

// WaveTurnObject is the JSON of wave --of fold --view bend. The head's
// frequencies and seconds are those of the design's own turns, plain and
// filleted together.
func WaveTurnObject(d *design.Design, c *section.TurnCheck) *Object {
	o := &Object{}
	plain, fillet := c.Plain().Result, c.Fillet().Result
	seconds := make([]float64, len(plain.Seconds))
	for i := range seconds {
		seconds[i] = plain.Seconds[i] + fillet.Seconds[i]
	}
	most := 0
	var turns []*Object
	for i := range c.Turns {
		t := &c.Turns[i]
		r := t.Result
		if r == nil {
			continue
		}
		most = max(most, mostUnknowns(r.Unknowns))
		quiet := &Object{}
		quiet.Set("thickness_m", Number(t.Bend.Thickness)).Set("filleted", t.Filleted).Set("quiet_to_hz", Number(t.QuietTo()))
		quiet.Set("frequency_hz", Numbers(r.Frequency)).Set("reflection_db", Numbers(decibels(r.Reflection)))
		quiet.Set("transmission_db", Numbers(decibels(r.Transmission))).Set("power_imbalance", Numbers(r.Imbalance))
		turns = append(turns, quiet.Set("change", changeJSON(r.Change)))
	}
	o.Set("schema_version", SchemaVersion).Set("title", d.Title).Set("of", "fold").Set("view", "bend")
	o.Set("unknowns", most).Set("frequency_hz", Numbers(plain.Frequency)).Set("seconds", Numbers(seconds))
	o.Set("plate_m", Number(c.Plate)).Set("layer_m", Number(c.Layer)).Path(figure.FoldCrossMode.Key, Number(c.CrossMode))
	return o.Set("turns", turns)
}

// WaveTurnCSV writes reflection and transmission of every turn, one row for each
// turn and frequency.
func WaveTurnCSV(w io.Writer, c *section.TurnCheck) error {
	var rows [][]float64
	for i := range c.Turns {
		t := &c.Turns[i]
		if t.Result == nil {
			continue
		}
		filleted := 0.0
		if t.Filleted {
			filleted = 1
		}
		for j, f := range t.Result.Frequency {
			rows = append(rows, []float64{t.Bend.Thickness, filleted, f,
				numeric.DB(cmplx.Abs(t.Result.Reflection[j])), numeric.DB(cmplx.Abs(t.Result.Transmission[j])), t.Result.Imbalance[j], at(t.Result.Change, j)})
		}
	}
	return writeCSV(w, []string{"thickness_m", "filleted", "frequency_hz", "reflection_db", "transmission_db", "power_imbalance", "change"}, rows)
}
