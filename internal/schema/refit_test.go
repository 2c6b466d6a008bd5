package schema

import (
	"slices"
	"testing"

	"gapline/cabinet/design"

	"pgregory.net/rapid"
)

// The rule as it is told: entry i of the list that fits is entry i of the old one, or its
// last where that has no entry i. Lists that are not given stay so, and the old list keeps
// its entries.
func TestListsFollowTheBoxes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		boxes := rapid.IntRange(1, 12).Draw(t, "boxes")
		d := design.New()
		d.Line.Boxes = boxes
		gains := rapid.SliceOfN(rapid.Float64Range(-40, 10), 1, 12).Draw(t, "gains")
		angles := rapid.SliceOfN(rapid.Float64Range(-0.1, 0.5), 1, 11).Draw(t, "angles")
		d.Hanging.Shading, d.Line.Splay = gains, angles
		oldGains, oldAngles := slices.Clone(gains), slices.Clone(angles)

		for _, r := range Refitted(&d, nil) {
			if r.Boxes != boxes || len(r.List) == r.Had {
				t.Errorf("%s: %+v for %d boxes", r.Key.Path, r, boxes)
			}
		}
		if len(d.Hanging.Shading) != boxes || len(d.Line.Splay) != boxes-1 || d.Hanging.Delays != nil {
			t.Fatalf("%d boxes: %d gains, %d angles, %d delays", boxes, len(d.Hanging.Shading), len(d.Line.Splay), len(d.Hanging.Delays))
		}
		for i, x := range d.Hanging.Shading {
			if x != oldGains[min(i, len(oldGains)-1)] {
				t.Errorf("gain %d is %v of %v", i, x, oldGains)
			}
		}
		for i, x := range d.Line.Splay {
			if x != oldAngles[min(i, len(oldAngles)-1)] {
				t.Errorf("angle %d is %v of %v", i, x, oldAngles)
			}
		}
		if !slices.Equal(gains, oldGains) || !slices.Equal(angles, oldAngles) {
			t.Error("the old lists were written into")
		}
		if again := Refitted(&d, nil); again != nil {
			t.Errorf("lists that fit were made to fit: %v", again)
		}
	})
}

// Every list of one entry a box is told apart: check names just these as of a wrong length.
func TestListsOfEachBox(t *testing.T) {
	var got []string
	for i := range Keys {
		if Keys[i].PerBox() {
			got = append(got, Keys[i].Path)
		}
	}
	if want := []string{"line.splay", "line.shading", "line.delays"}; !slices.Equal(got, want) {
		t.Errorf("got %v, want %v", got, want)
	}
}
