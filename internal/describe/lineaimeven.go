package describe

import (
	"gapline/cabinet/field"
	"gapline/internal/figure"
	"gapline/internal/quantity"
	"gapline/internal/result"
)

// byOctave sets the spreads by octave of the stacks side by side.
func (v lineParts) byOctave() result.Table {
	a := v.r.Aimed
	t := result.Table{Shown: result.At(result.Screen), Title: result.Plain("  spread by octave, dB")}
	for _, b := range a.Octave {
		t.Columns = append(t.Columns, result.Column{Head: band(b.Mid)})
	}
	zone := len(a.Even.Zone) > 0
	if zone {
		t.Columns = append(t.Columns, headed(value, "quiet zone"))
	}
	var rows result.List
	stack := func(name string, c *field.Candidate, f figure.Candidate) {
		if c == nil || c.Bands == nil {
			return
		}
		cells := result.Figs(f.Bands, c.Bands).List
		if zone {
			cells = append(cells, result.Fig(f.Zone, c.Zone))
		}
		rows.Row(result.Plain(name), cells...)
	}
	stack("as the file hangs it", a.Before, figure.AimBefore)
	stack("best found", &a.Best, figure.AimBest)
	stack("best uniform arc", &a.BestArc, figure.AimArc)
	t.Rows = rows.Rows()
	return t
}

// evenNote says what evenness means to the search.
func (v lineParts) evenNote() result.Text {
	e := &v.r.Aimed.Even
	var text result.Text
	if e.Octaves > 0 {
		text = result.Say("Beside dBA the mean spread of the octaves from %s up counts, dB for dB (--even dba leaves it out). ",
			result.Fig(figure.AimOctaves, e.From))
	}
	if e.Fall != 0 {
		text = text.And(result.Say("Spreads are against a fall of %s from the nearest seat to the farthest. ", level(e.Fall)))
	}
	if len(e.Zone) > 0 {
		text = text.And(result.Say("Sound in the quiet zone counts from %s against the mean of the seats. ", level(e.ZoneMost).As(quantity.Style{Verb: "%+.1f"})))
		if v.r.Aimed.Best.Zone > e.ZoneMost {
			text = text.And(result.Plain("That is not reached. "))
		}
	}
	return text
}
