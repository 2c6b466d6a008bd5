package check

import (
	"context"
	"errors"
	"slices"
	"strings"
	"testing"

	"gapline/cabinet/design"
	"gapline/cabinet/layout"
	"gapline/cabinet/surface"
	"gapline/internal/optional"
)

// Whatever a surface lacks or cannot be is said in keys of the file, whichever part it is
// about.
func TestSurfaceWordsEveryReason(t *testing.T) {
	l := &layout.Layout{}
	for kind := layout.Cone; kind <= layout.Radiator; kind++ {
		for band := layout.Woofers; band <= layout.Enclosure; band++ {
			l.Parts = append(l.Parts, layout.Part{Kind: kind, Band: band})
		}
	}
	d := design.New()
	for of := range surface.ReasonCount {
		for part := -1; part < len(l.Parts); part++ {
			band := layout.Enclosure
			if part >= 0 {
				band = l.Parts[part].Band
			}
			f := surface.Fault{Of: of, Band: band, Part: part, Values: []float64{3}, Err: errors.New("no reason")}
			problems := Surface(&d, l, []surface.Fault{f})
			if len(problems) != 1 || len(problems[0].Keys) == 0 || problems[0].Text == "" || strings.Contains(problems[0].Text, "%!") {
				t.Errorf("reason %d, part %d: %+v", of, part, problems)
			}
		}
	}
}

func TestSurfaceNamesTheKeys(t *testing.T) {
	box := design.New()
	box.Cabinet.Height, box.Cabinet.Width, box.Cabinet.Depth = optional.Of(0.3), optional.Of(0.6), optional.Of(0.4)
	box.Woofer.Size, box.Bands.Woofer.Offset = optional.Of(0.24), optional.Of(0.1)
	for _, c := range []struct {
		change func(*design.Design)
		key    string
		text   string
	}{
		{func(d *design.Design) { d.Cabinet.Depth = optional.Float{} }, "cabinet.depth", "is needed"},
		{func(d *design.Design) { d.Bands.Woofer.Offset = optional.Of(0.25) }, "woofer.offset", "woofer 1 reaches"},
		{func(d *design.Design) {
			d.Horn.MouthWidth, d.Horn.MouthHeight, d.Bands.Horn.Offset = optional.Of(0.2), optional.Of(0.2), optional.Of(0)
		}, "woofer.size", "the horn's exit and woofer 1 share room"},
		{func(d *design.Design) { d.Bands.Woofer.Turn = optional.Of(0.3) }, "woofer.turn", "in front of the face"},
		{func(d *design.Design) { d.Bands.Woofer.Setback = optional.Of(0.5) }, "cabinet.depth", "reaches out of the cabinet"},
	} {
		d := box
		c.change(&d)
		_, faults, _ := surface.New(context.Background(), &d, surface.Options{Frequency: 1000})
		problems := Surface(&d, layout.New(&d), faults)
		if len(problems) != 1 || !slices.Contains(problems[0].Keys, c.key) || !strings.Contains(problems[0].Text, c.text) {
			t.Errorf("%+v, want one about %s with %q", problems, c.key, c.text)
		}
	}
}
