package advice

import (
	"strings"
	"testing"

	"gapline/cabinet/design"
	"gapline/internal/designtest"
	"gapline/internal/optional"
	"gapline/internal/quantity"
	"gapline/internal/render/terminal"
	"gapline/internal/study/fit"
)

// apartBy is a box of two woofers of 240 mm side by side, so far apart, with a horn of
// 270 mm, in a cabinet 740 mm wide in which none can stand above the other.
func apartBy(lateral float64) design.Design {
	d := designtest.Box()
	d.Insert = design.Insert{}
	d.Cabinet.Width, d.Horn.MouthWidth = optional.Of(0.74), optional.Of(0.27)
	d.Woofer.PerBox, d.Bands.Woofer.Columns, d.Bands.Woofer.Lateral = 2, 2, optional.Of(lateral)
	return d
}

// What stands between two woofers is said to stand there, and what finds no room there too.
func TestTwinsAndWhatIsBetweenThem(t *testing.T) {
	for _, x := range []struct {
		name    string
		lateral float64
		mids    float64 // m; 0: none
		want    string
	}{
		{"a horn that fits between", 0.52, 0, "The woofers with the horn between them need 760.0 mm, cabinet.width is 740.0 mm"},
		{"a horn that does not", 0.46, 0, "The woofers leave 220.0 mm between them, in which there is no room for the horn, and beside each other they need 970.0 mm"},
		{"mids that find room beside only", 0.52, 0.2, "The woofers with the horn between them, and the mids beside them, need 960.0 mm"},
		{"woofers that touch", 0.24, 0, "Woofers and horn need 750.0 mm beside each other"},
	} {
		d := apartBy(x.lateral)
		if x.mids > 0 {
			d.Mid.Size, d.Mid.PerBox = optional.Of(x.mids), 1
		}
		found := Misfits(&d, fit.Of(&d, nil))
		if len(found) == 0 {
			t.Fatalf("%s: no misfit", x.name)
		}
		if got := terminal.Text(found[0].Text, quantity.Metric); !strings.HasPrefix(got, x.want) {
			t.Errorf("%s: %q, want %q", x.name, got, x.want)
		}
	}
}
