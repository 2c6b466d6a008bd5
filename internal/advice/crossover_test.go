package advice

import (
	"math"
	"strings"
	"testing"

	"gapline/cabinet/sizing"
	"gapline/internal/quantity"
	"gapline/internal/render/terminal"
	"gapline/internal/result"
)

// A crossover under the lowest contradicts; outside what both bands cover it is worth a
// word; inside, or beyond by less than is printed, it is not.
func TestCrossoverFrequencyThatTheFileGives(t *testing.T) {
	closed := sizing.Handover{From: 900, To: 1200.3, Lowest: 800, Limit: sizing.LowestOfDriver}
	open := sizing.Handover{From: 640, To: 900, Open: true, Lowest: 600, Limit: sizing.LowestOfFlare}
	unknown := sizing.Handover{From: math.NaN(), To: math.NaN(), Lowest: math.NaN()}
	for _, c := range []struct {
		hz       float64
		handover sizing.Handover
		severity result.Severity
		text     string // empty: none
	}{
		{1000, closed, 0, ""},
		{900, closed, 0, ""},
		{1201, closed, 0, ""},
		{1300, closed, result.Note, "lies above 1200 Hz, to which the woofers couple: both bands cover 900 Hz to 1200 Hz"},
		{850, closed, result.Note, "lies under 900 Hz, from which the horn can be used"},
		{700, closed, result.Contradiction, "lies under 800 Hz, the compression driver's lowest crossover (horn.lowest)"},
		{700, open, 0, ""},
		{620, open, result.Note, "lies under 640 Hz, to which the woofers couple"},
		{1000, open, result.Note, "lies above 900 Hz, from which the horn can be used"},
		{500, open, result.Contradiction, "lies under 600 Hz, 1.2 times the flare's cutoff"},
		{500, unknown, 0, ""},
	} {
		var l list
		l.crossedAt(handed{"woofers", "horn", c.hz, &c.handover})
		if c.text == "" {
			if len(l.out) > 0 {
				t.Errorf("%g Hz in %+v: %s", c.hz, c.handover, terminal.Text(l.out[0].Text, quantity.Metric))
			}
			continue
		}
		if len(l.out) != 1 || l.out[0].Severity != c.severity || !strings.Contains(terminal.Text(l.out[0].Text, quantity.Metric), c.text) {
			t.Errorf("%g Hz in %+v: %v, want %q", c.hz, c.handover, l.out, c.text)
		}
	}
}
