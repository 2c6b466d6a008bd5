package space

import (
	"context"
	"strings"
	"testing"

	"gapline/cabinet/layout"
	"gapline/internal/check"
	"gapline/internal/schema"
)

// Samples that cannot exist and those that cannot be built are counted apart: each count is
// that of the designs built here one by one and put to the check and the layout themselves.
func TestMisfitsOfASearchAreCountedApart(t *testing.T) {
	base := load(t, `[cabinet]
height = "300 mm"
width = "762 mm"
[line]
boxes = 6
[woofer]
size = "240 mm"
per_box = 2
columns = 2
[horn]
coverage = "90 deg"
mouth_width = "270 mm"
mouth_height = "280 mm"
[search]
goals = ["minimise gap.open_oct"]
designs = 300
[search.vary]
"horn.mouth_width" = "200:280 mm"
"woofer.lateral_spacing" = "500:530 mm"
"cabinet.rear_height" = "250:310 mm"
`)
	h, err := NewSearch(base, 0, -1)
	if err != nil {
		t.Fatal(err)
	}
	impossible, misfits, first := 0, 0, -1
	u, values := make([]float64, 3), make([]schema.Value, 3)
	for i := range h.Plan.Designs {
		h.Plan.At(i, u)
		h.Values(u, values)
		d := base.Design
		for _, v := range values {
			v.Apply(&d)
		}
		switch {
		case len(check.Design(&d)) > 0:
			impossible++
		case !layout.New(&d).Fits():
			if misfits++; misfits == 1 {
				first = i
			}
		}
	}
	whole, err := h.Sample(context.Background(), 0, h.Plan.Designs, func(int) {})
	if err != nil {
		t.Fatal(err)
	}
	half, _ := h.Sample(context.Background(), 0, 100, func(int) {})
	rest, _ := h.Sample(context.Background(), 100, h.Plan.Designs, func(int) {})
	half.Merge(rest)
	for name, a := range map[string]struct{ impossible, misfits, first, samples int }{
		"in one run": {whole.Impossible, whole.Misfits, whole.FirstMisfit, whole.Samples()},
		"in slices":  {half.Impossible, half.Misfits, half.FirstMisfit, half.Samples()},
	} {
		if a.impossible != impossible || a.misfits != misfits || a.first != first || a.samples != 300 || impossible == 0 || misfits == 0 {
			t.Errorf("%s: %+v, want %d, %d and %d of 300", name, a, impossible, misfits, first)
		}
	}
	f := h.Found(whole)
	if !strings.Contains(f.Unfit, "misfit: ") || strings.Contains(f.First, "misfit") {
		t.Errorf("cannot exist: %q; cannot be built: %q", f.First, f.Unfit)
	}
}
