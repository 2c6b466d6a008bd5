package cabinet

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"gapline/internal/reftable"
)

// L²f/(2c) as tabulated (column d_half) for whole lines.
func TestNearFieldAgainstTable(t *testing.T) {
	for _, r := range reftable.Read(t, "line_transition") {
		d := New()
		d.Line.Boxes, d.Cabinet.Pitch = 8, r.Get("L_m")/8
		// The figure is at 1 kHz and grows in proportion to frequency.
		got := sizeLine(&d, r.Get("c_m_s")).NearField * r.Get("f_Hz") / 1000
		reftable.Near(t, r.Name, got, r.Get("d_half_m"), 1e-9)
	}
}

func TestTotalSplay(t *testing.T) {
	d := New()
	if s := sizeLine(&d, 343); !math.IsNaN(s.Turn) || !math.IsNaN(s.NearField) {
		t.Errorf("nothing given: %+v", s)
	}
	d.Line.Boxes, d.Line.Splay = 4, []float64{0.01, 0.02, 0.03}
	if s := sizeLine(&d, 343); math.Abs(s.Turn-0.06) > 1e-15 {
		t.Errorf("turn %g, want 0.06", s.Turn)
	}
}

// The constant in the words is that of the computation: the q with
// sin(πq)/(πq) = 10^(−6/20), found here by halving.
func TestFlaresFilledWordsAndCodeAgree(t *testing.T) {
	low, high := 0.5, 0.7
	for range 60 {
		q := (low + high) / 2
		if math.Sin(math.Pi*q)/(math.Pi*q) > math.Pow(10, -6.0/20) {
			low = q
		} else {
			high = q
		}
	}
	formula := FindFigure("horn.flares_filled_hz").Formula
	words, err := strconv.ParseFloat(formula[:strings.Index(formula, "·")], 64)
	if err != nil {
		t.Fatal(err)
	}
	reftable.Within(t, "constant of the words", words, low, 5e-6) // five digits
	d := New()
	d.Horn.MouthWidth, d.Horn.Coverage, d.Horn.Sides.Length = 0.3, 1.4, 0.2
	reftable.Near(t, "frequency", d.Horn.FlaresFilledTo(343), low*343/(0.3*math.Sin(0.7)), 1e-12)
}
