package outside

import (
	"errors"
	"slices"
	"testing"
)

// Shares that were solved apart join to what one run gives, to the last bit: each of them on
// the surfaces of the whole list. 240 and 500 Hz lie in different octaves.
func TestSharesJoin(t *testing.T) {
	d := starter(t, "hatch-insert")
	task := Task{Frequencies: []float64{240, 300, 500}}
	want := solve(t, d, task)
	var points []Point
	for i, f := range task.Frequencies {
		one := task
		one.Share = func(k int) bool { return k == i }
		w, faults, err := Prepare(t.Context(), d, one)
		if err != nil || faults != nil {
			t.Fatal(faults, err)
		}
		got, err := w.Points(t.Context())
		if err != nil || len(got) != 1 || got[0].Frequency != f {
			t.Fatal(len(got), faults, err)
		}
		points = append(points, got...)
	}
	got, faults, err := Join(t.Context(), d, task, points)
	if err != nil || faults != nil {
		t.Fatal(faults, err)
	}
	for i := range want.Frequency {
		if !slices.Equal(got.Vertical[i], want.Vertical[i]) || !slices.Equal(got.Horizontal[i], want.Horizontal[i]) || !slices.Equal(got.Element[i], want.Element[i]) ||
			!slices.Equal(got.Flow[i], want.Flow[i]) || !slices.Equal(got.Load[i][0], want.Load[i][0]) || !slices.Equal(got.Mouths[i], want.Mouths[i]) {
			t.Errorf("at %g Hz the joined shares differ from one run", want.Frequency[i])
		}
	}
	if !slices.Equal(got.Out, want.Out) || !slices.Equal(got.Cones, want.Cones) || !slices.Equal(got.Unknowns, want.Unknowns) || !slices.Equal(got.Parts, want.Parts) {
		t.Error("the joined shares differ from one run")
	}
	empty := task
	empty.Share = func(int) bool { return false }
	w, faults, err := Prepare(t.Context(), d, empty)
	if err != nil || faults != nil {
		t.Fatal(faults, err)
	}
	if got, err := w.Points(t.Context()); err != nil || len(got) != 0 {
		t.Errorf("an empty share: %d points, %v", len(got), err)
	}
	for what, change := range map[string]func(p []Point) []Point{
		"one too few":     func(p []Point) []Point { return p[1:] },
		"none":            func([]Point) []Point { return nil },
		"another order":   func(p []Point) []Point { p[0], p[1] = p[1], p[0]; return p },
		"fewer angles":    func(p []Point) []Point { p[1].Vertical = p[1].Vertical[1:]; return p },
		"no level plane":  func(p []Point) []Point { p[1].Horizontal = nil; return p },
		"no element":      func(p []Point) []Point { p[1].Element = nil; return p },
		"no mouths":       func(p []Point) []Point { p[2].Mouths = nil; return p },
		"a mouth more":    func(p []Point) []Point { p[2].Mouths = append(slices.Clone(p[2].Mouths), 1); return p },
		"another set":     func(p []Point) []Point { p[0].Flow = append(slices.Clone(p[0].Flow), 1); return p },
		"no loads":        func(p []Point) []Point { p[0].Load = nil; return p },
		"a ragged matrix": func(p []Point) []Point { p[0].Load = [][]complex128{{1, 2}}; return p },
		"no unknowns":     func(p []Point) []Point { p[0].Unknowns = 0; return p },
	} {
		if _, _, err := Join(t.Context(), d, task, change(slices.Clone(points))); !errors.Is(err, ErrForeign) {
			t.Errorf("%s: error %v", what, err)
		}
	}
}
