package describe

import (
	"context"
	"math"
	"math/cmplx"
	"testing"

	"gapline/cabinet/design"
	"gapline/driver"
	"gapline/internal/designfile"
	"gapline/internal/figure"
	"gapline/internal/numeric"
	"gapline/internal/optional"
	"gapline/internal/quantity"
	"gapline/internal/render/picture"
	"gapline/internal/result"
	"gapline/internal/study/box"
)

// catalogued fails for a number for programs that no figure of the catalogue stands
// behind, and returns how many there are.
func catalogued(t *testing.T, what string, parts []result.Part) int {
	t.Helper()
	n := 0
	var cell func(c *result.Cell, column string)
	cell = func(c *result.Cell, column string) {
		switch c.StateOf() {
		case result.Wording, result.Truth:
			return
		case result.Many:
			for i := range c.List {
				cell(&c.List[i], column)
			}
			return
		}
		if n++; c.Fig == nil || figure.Find(c.Fig.Key) != c.Fig {
			t.Errorf("%s: a number under %q has no entry in the catalogue", what, column)
		}
	}
	for _, p := range parts {
		switch x := p.(type) {
		case result.Section:
			n += catalogued(t, what, x.Parts)
		case result.Grid:
			if n++; figure.Find(x.Fig.Key) != x.Fig {
				t.Errorf("%s: grid %s has no entry in the catalogue", what, x.Name())
			}
		case result.Table:
			for row := range x.Rows {
				for i := range row.Cells {
					cell(&row.Cells[i], row.Key+" "+x.Columns[i].Name())
				}
			}
		}
	}
	return n
}

func starterBox(t *testing.T, starter string) *box.Study {
	t.Helper()
	file, err := designfile.LoadStarter(starter, nil)
	if err != nil {
		t.Fatal(err)
	}
	st, err := box.Run(context.Background(), &file.Design, box.Options{PerOctave: 3, Boxes: []int{1, 2}})
	if err != nil {
		t.Fatal(err)
	}
	return st
}

// fit fits a sweep that follows the model: fs 50 Hz, Qes 0.4, Qms 5, Re 6 Ω.
func exactFit(t *testing.T) *box.Fit {
	t.Helper()
	var s driver.ImpedanceSweep
	for _, f := range driver.Frequencies(10, 500, 60) {
		z := 6 * (1 + 12.5/(1+5i*complex(f/50-50/f, 0)))
		s.Frequency, s.Magnitude, s.Phase = append(s.Frequency, f), append(s.Magnitude, cmplx.Abs(z)), append(s.Phase, cmplx.Phase(z))
	}
	d := design.New()
	f, err := box.RunFit(context.Background(), &d, box.FitOptions{Sweep: box.Sweep{File: "x.txt", Impedance: s}, Inductor: box.NoInductor})
	if err != nil {
		t.Fatal(err)
	}
	return f
}

func TestNumbersOfTheBoxAreInTheCatalogue(t *testing.T) {
	st := starterBox(t, "hatch-insert")
	ranking, err := box.Rank(context.Background(), st.Design, []box.Contender{{File: "x", Design: *st.Design}}, box.ByLevel)
	if err != nil {
		t.Fatal(err)
	}
	for what, r := range map[string]*result.Result{
		"box": Box(st, nil), "fit": BoxFit(exactFit(t), nil), "ranking": BoxRank("", ranking),
	} {
		for _, place := range []result.Place{result.Data, result.Listing} {
			if n := catalogued(t, what, r.Chosen(result.Choice{Place: place})); n < 5 {
				t.Errorf("%s: %d numbers in all", what, n)
			}
		}
	}
}

// A fit draws its residuals under the curves, one panel for the magnitude and one for
// the phase, and a ranking a bar for each driver it ranks.
func TestPicturesOfFitAndRanking(t *testing.T) {
	fit := exactFit(t)
	panels := fitParts{fit}.chart().Panels
	if len(panels) != 4 {
		t.Fatalf("%d panels, want magnitude, phase and both residuals", len(panels))
	}
	for _, p := range panels[2:] {
		for _, y := range p.Curves[0].Y {
			if numeric.Given(y) && math.Abs(y) > 1e-6 {
				t.Errorf("%s: residual %g of a sweep that the model made", p.Y.Label, y)
			}
		}
	}
	st := starterBox(t, "hatch-insert")
	large := *st.Design
	large.Woofer.Size = optional.Of(2.0)
	ranking, err := box.Rank(context.Background(), st.Design, []box.Contender{{File: "fits", Design: *st.Design}, {File: "large", Design: large}, {File: "brick", Reasons: []string{"is a brick"}}}, box.ByLevel)
	if err != nil {
		t.Fatal(err)
	}
	p := rankParts{ranking}
	if n := len(p.chart("").Bars); n != 1 {
		t.Errorf("%d bars, want 1", n)
	}
	if got, want := p.leftOut(0), "left out: misfits large; not usable brick"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
}

// A view is drawn where the study holds what it shows, and only there.
func TestViewsOfTheBox(t *testing.T) {
	for starter, insert := range map[string]bool{"hatch": false, "hatch-insert": true} {
		r := Box(starterBox(t, starter), nil)
		for _, view := range BoxViews {
			_, err := picture.Of(r, quantity.Metric, view)
			if want := view != BoxInsert || insert; want != (err == nil) {
				t.Errorf("%s, %s: %v", starter, view, err)
			}
		}
	}
}
