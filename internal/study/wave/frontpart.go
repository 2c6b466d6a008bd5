package wave

import (
	"context"
	"encoding/json"
	"errors"

	"gapline/cabinet/design"
	"gapline/cabinet/outside"
)

// FrontPoints are what each solution of a run gave at some frequencies, ascending; empty of those
// that RunFront has not.
type FrontPoints [frontRuns][]outside.Point

// FrontPart solves the share of a run, for JoinFront. The error is as RunFront's.
func FrontPart(ctx context.Context, d *design.Design, o FrontOptions) (*FrontPoints, error) {
	_, tasks := newFront(d, &o)
	for k := range tasks {
		tasks[k].Share = o.Share
	}
	out := new(FrontPoints)
	return out, o.each(ctx, d, tasks, func(t *frontTask, w *outside.Work) (err error) {
		out[t.of], err = w.Points(ctx)
		return err
	})
}

// JoinFront makes of all frequencies of a run what RunFront gives. Nothing is solved. The
// error wraps outside.ErrForeign where the points are not of this run, or is as RunFront's.
func JoinFront(ctx context.Context, d *design.Design, o FrontOptions, points *FrontPoints) (*Front, error) {
	st, tasks := newFront(d, &o)
	var wanted [frontRuns]bool
	for _, t := range tasks {
		wanted[t.of] = true
		r, err := solved(outside.Join(ctx, d, t.Task, points[t.of]))(d)
		if err != nil {
			return nil, err
		}
		*st.result(t.of) = r
	}
	for of, list := range points {
		if len(list) > 0 && !wanted[of] {
			return nil, outside.ErrForeign
		}
	}
	return st.whole(nil)
}

// frontPoint is a point as text: complex numbers as pairs, and every digit.
type frontPoint struct {
	Hz         float64        `json:"hz"`
	Unknowns   int            `json:"unknowns"`
	Steps      int            `json:"steps"`
	Seconds    float64        `json:"seconds"`
	Vertical   [][2]float64   `json:"vertical"`
	Horizontal [][2]float64   `json:"horizontal"`
	Element    [][2]float64   `json:"element"`
	Load       [][][2]float64 `json:"load"`
	Flow       [][2]float64   `json:"flow"`
	Mouths     [][2]float64   `json:"mouths"`
	Baffled    [][2]float64   `json:"baffled"`
	Pressed    [2]float64     `json:"pressed"`
	Cones      [2]float64     `json:"cones"`
	Held       [2]float64     `json:"held"`
	Sphere     [][2]float64   `json:"sphere"`
}

// EncodeFrontPoint writes a point as one line of JSON.
func EncodeFrontPoint(p *outside.Point) ([]byte, error) {
	return json.Marshal(frontPoint{p.Frequency, p.Unknowns, p.Steps, p.Seconds, pairs(p.Vertical), pairs(p.Horizontal), pairs(p.Element),
		mapped(p.Load, pairs), pairs(p.Flow), pairs(p.Mouths), pairs(p.Baffled), pair(p.Pressed), pair(p.Cones), pair(p.Held), pairs(p.Sphere)})
}

// DecodeFrontPoint reads what EncodeFrontPoint wrote, to the last bit.
func DecodeFrontPoint(text []byte) (outside.Point, error) {
	var p frontPoint
	if err := json.Unmarshal(text, &p); err != nil {
		return outside.Point{}, err
	}
	if !(p.Hz > 0) {
		return outside.Point{}, errors.New("a solution has no frequency")
	}
	return outside.Point{Frequency: p.Hz, Unknowns: p.Unknowns, Steps: p.Steps, Seconds: p.Seconds, Vertical: numbers(p.Vertical), Horizontal: numbers(p.Horizontal),
		Element: numbers(p.Element), Load: mapped(p.Load, numbers), Flow: numbers(p.Flow), Mouths: numbers(p.Mouths), Baffled: numbers(p.Baffled), Pressed: number(p.Pressed), Cones: number(p.Cones), Held: number(p.Held), Sphere: numbers(p.Sphere)}, nil
}

func pair(z complex128) [2]float64   { return [2]float64{real(z), imag(z)} }
func number(p [2]float64) complex128 { return complex(p[0], p[1]) }

func pairs(list []complex128) [][2]float64   { return mapped(list, pair) }
func numbers(list [][2]float64) []complex128 { return mapped(list, number) }

// mapped keeps nil.
func mapped[A, B any](list []A, f func(A) B) []B {
	if list == nil {
		return nil
	}
	out := make([]B, len(list))
	for i, x := range list {
		out[i] = f(x)
	}
	return out
}
