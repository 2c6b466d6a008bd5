package plots

import (
	"bytes"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// A narrow sheet is shown at 360 pixels, 270 points of 1/72 inch; its smallest text is
// then at least 7 points large, as on the usual sheet.
func TestNarrowSheet(t *testing.T) {
	for name, fig := range gallery() {
		s, err := Narrow(fig).layout()
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		checkTexts(t, name, s)
		if got := s.width * s.zoom; got < 269.99 || got > 270.01 {
			t.Errorf("%s: shown %g points wide, want 270", name, float64(got))
		}
		for _, l := range s.texts {
			if l.size*s.zoom < footerSize {
				t.Errorf("%s: %q is shown at %g points", name, l.text, float64(l.size*s.zoom))
			}
		}
		var b bytes.Buffer
		if err := WriteSVG(&b, "x", Narrow(fig)); err != nil || !strings.Contains(b.String(), `width="270pt"`) {
			t.Errorf("%s: the file is not 270 points wide (%v)", name, err)
		}
	}
}

// The proportion of a level chart is one of IEC 60263 on either sheet: a decade is as
// long as 10, 25 or 50 dB.
func TestNarrowKeepsProportions(t *testing.T) {
	r := responseExample()
	r.X.Kind = Frequency
	for _, narrow := range []bool{false, true} {
		c := Chart{Caption: r.Caption, X: Axis{Kind: Frequency}, Panels: []Panel{{Y: Axis{Low: 60, High: 110}, Curves: r.Curves, Proportion: LevelProportion}}}
		c.narrow = narrow
		plan := planPanel(c.Panels[0], c.Caption)
		xs, err := c.xScale()
		if err != nil {
			t.Fatal(err)
		}
		if err := plan.settleY(xs); err != nil {
			t.Fatal(err)
		}
		width := c.bodyWidth() - 40
		plan.settle(xs, width, 1)
		decade := float64(width) / 3 // 20 Hz to 20 kHz
		db := 50 / float64(plan.height) * decade
		if d := db - 25; d > 1e-6 || d < -1e-6 {
			if d := db - 50; d > 1e-6 || d < -1e-6 {
				t.Errorf("narrow %v: a decade is as long as %g dB", narrow, db)
			}
		}
	}
}

// Random charts hold on a narrow sheet too.
func TestNarrowTextsNeverCollide(t *testing.T) {
	for name, random := range map[string]func(*rapid.T) Figure{
		"strip": randomStrip, "chart": randomChart, "lever": randomLever, "map": randomMap, "bars": randomBars,
		"scatter": randomScatter, "polar": randomPolar, "drawing": randomDrawing,
	} {
		t.Run(name, func(t *testing.T) {
			rapid.Check(t, func(t *rapid.T) {
				s, err := Narrow(random(t)).layout()
				if err != nil {
					t.Fatal(err)
				}
				checkTexts(t, name, s)
				s.render(finiteWriter{t})
			})
		})
	}
}
