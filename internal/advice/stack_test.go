package advice

import (
	"testing"

	"gapline/cabinet/design"
	"gapline/cabinet/source"
	"gapline/internal/optional"
	"gapline/internal/quantity"
	"gapline/internal/render/terminal"
)

// Assumptions read in the reader's units, and name the keys that would do without them.
func TestAssumptionsInWords(t *testing.T) {
	d := design.New()
	d.Insert.Mouths, d.Insert.MouthHeight = 1, optional.Of(0.1)
	for _, c := range []struct {
		a            source.Assumption
		metric, inch string
	}{
		{source.Assumption{What: source.MouthOfBox, Value: 0.254}, "horn.mouth_height is not given: the mouth is taken as high as the box, 254 mm.", "horn.mouth_height is not given: the mouth is taken as high as the box, 10 in."},
		{source.Assumption{What: source.SideBySide, Value: 0.508}, "cabinet.width is not given: 508 mm is taken, the mouths side by side.", "cabinet.width is not given: 20 in is taken, the mouths side by side."},
		{source.Assumption{What: source.WindowMiddle, Value: 12345.6, High: source.Horn}, "crossover.frequency is not given: 12346 Hz is taken, the middle of the gap's window.", ""},
		{source.Assumption{What: source.WindowMiddle, Value: 400, High: source.Mids}, "crossover.low_frequency is not given: 400 Hz is taken, the middle of the gap's window.", ""},
		{source.Assumption{What: source.InsertLeftOut}, "The insert's filter is left out: it needs insert.mouth_width, insert.slot_depth, insert.chamber_volume.", ""},
		{source.Assumption{What: source.NoLevel}, "No level is known (woofer parameters with enclosure.volume, or a sensitivity): levels are relative.", ""},
	} {
		text := assumption(&d, c.a)
		if got := terminal.Text(text, quantity.Metric); got != c.metric {
			t.Errorf("%q, want %q", got, c.metric)
		}
		if got := terminal.Text(text, quantity.Inch); c.inch != "" && got != c.inch {
			t.Errorf("%q, want %q", got, c.inch)
		}
	}
}
