package describe

import (
	"math"
	"strings"
	"testing"

	"gapline/cabinet/design"
	"gapline/cabinet/sizing"
	"gapline/internal/designfile"
	"gapline/internal/quantity"
	"gapline/internal/render/picture"
	"gapline/plots"
)

// box is a design by hand: pitch 250 mm, horn from 25 400/(0.3·90) = 940.74 Hz,
// c = 343.99 m/s at 20 °C and 50 % RH (Cramer 1993), so that bare cones couple
// to 687.97 Hz by the half-wave rule and two mouths to 1375.95 Hz.
const boxText = `title = "By hand"
[cabinet]
height = "250 mm"
[line]
boxes = 4
[horn]
coverage    = "90 deg"
mouth_width = "300 mm"
`

func parse(t *testing.T, text string) Sized {
	t.Helper()
	f, err := designfile.Parse("d.toml", []byte(text), nil)
	if err != nil {
		t.Fatal(err)
	}
	s := sizing.Size(&f.Design)
	return Sized{Design: &f.Design, Sizing: &s, Name: "d"}
}

// strip draws the frequency strip of designs.
func strip(designs ...Sized) plots.Strip {
	return picture.Figure(Strip(designs), quantity.Metric).(plots.Strip)
}

func TestStripShowsTheGap(t *testing.T) {
	s := strip(parse(t, boxText+"[insert]\nmouths = 2\n"))
	// The level above that of the gap's basis stands under it: 1025 Hz by the aperture integral.
	if len(s.Groups) != 3 || s.Groups[0].Title != "bare cones" || s.Groups[1].Title != "with insert, by rule" || s.Groups[2].Title != "by aperture" {
		t.Fatalf("groups %+v", s.Groups)
	}
	if w := s.Groups[2].Window; !w.Overlap || math.Abs(w.Low-1025) > 1 || math.Abs(w.High-1375.95) > 0.1 {
		t.Errorf("window by aperture %+v", w)
	}
	bare, insert := s.Groups[0].Window, s.Groups[1].Window
	if bare.Overlap || math.Abs(bare.Low-687.97) > 0.05 || math.Abs(bare.High-940.74) > 0.01 || bare.Label != "gap 0.45 oct" {
		t.Errorf("window of the bare cones %+v", bare)
	}
	if !insert.Overlap || math.Abs(insert.Low-940.74) > 0.01 || math.Abs(insert.High-1375.95) > 0.1 || insert.Label != "overlap 0.55 oct" {
		t.Errorf("window with the insert %+v", insert)
	}
	if rows := s.Groups[0].Rows; len(rows) != 3 || math.Abs(rows[0].From-343.99) > 0.01 || math.Abs(rows[0].To-687.97) > 0.05 {
		t.Errorf("bars of the bare cones %+v", rows) // from c/(4·0.25)
	}
	if s.Design != "By hand" || !strings.Contains(s.Alt, "bare cones 0.45 oct open, with insert 0.55 oct overlap") {
		t.Errorf("caption %+v", s.Caption)
	}
}

// A design that gives too little has bars that say so, and no window.
func TestStripOfAnEmptyDesign(t *testing.T) {
	d := design.New()
	sized := sizing.Size(&d)
	s := strip(Sized{Design: &d, Sizing: &sized})
	if s.Groups[0].Window != nil {
		t.Errorf("window %+v", s.Groups[0].Window)
	}
	for _, r := range s.Groups[0].Rows {
		if r.Missing == "" {
			t.Errorf("bar %+v", r)
		}
	}
	if s.Design != "untitled design" {
		t.Errorf("title %q", s.Design)
	}
}

func TestStripOfSeveral(t *testing.T) {
	a, b := parse(t, boxText), parse(t, boxText+"[insert]\nmouths = 2\n")
	b.Name = "e"
	s := strip(a, b)
	if len(s.Groups) != 2 || s.Groups[0].Title != "d: bare cones" || s.Groups[1].Title != "e: with insert" || s.Design != "2 designs" {
		t.Errorf("groups %+v of %q", s.Groups, s.Design)
	}
}

// On the lobe basis the solid bar is the lobe's.
func TestStripOnTheLobeBasis(t *testing.T) {
	s := strip(parse(t, boxText+"[targets]\ncoupling = \"lobe\"\n"))
	rows := s.Groups[0].Rows
	if rows[0].Label != "woofers, lobe" || math.Abs(rows[0].To-1375.95) > 0.1 || math.Abs(rows[1].To-687.97) > 0.05 {
		t.Errorf("bars %+v", rows)
	}
}
