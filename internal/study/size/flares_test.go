package size

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"gapline/cabinet/design"
	"gapline/internal/figure"
	"gapline/internal/optional"
	"gapline/internal/reftable"
)

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
	formula := figure.HornFlaresFilled.Formula
	words, err := strconv.ParseFloat(formula[:strings.Index(formula, "·")], 64)
	if err != nil {
		t.Fatal(err)
	}
	reftable.Within(t, "constant of the words", words, low, 5e-6) // five digits
	d := design.New()
	d.Horn.MouthWidth, d.Horn.Coverage, d.Horn.Sides.Length = optional.Of(0.3), optional.Of(1.4), optional.Of(0.2)
	reftable.Near(t, "frequency", d.Horn.FlaresFilledTo(343), low*343/(0.3*math.Sin(0.7)), 1e-12)
}
