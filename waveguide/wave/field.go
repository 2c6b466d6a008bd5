package wave

import (
	"context"
	"slices"

	"gapline/internal/bem"
)

// Field is the pressure over a rectangle of the plane at one frequency.
type Field struct {
	Frequency float64 // Hz
	Unknowns  int
	X, Y      []float64      // columns and rows, ascending, m
	Pressure  [][]complex128 // [row][column], Pa; NaN where there is no air
	Outlines  [][]bem.Point  // walls, as connected lines
}

// Window is a rectangle of the plane in m, and how far apart the points in it
// are.
type Window struct {
	X0, X1, Y0, Y1 float64
	Step           float64
}

// axis returns evenly spaced values from a to b, no more than step apart.
func axis(a, b, step float64) []float64 {
	n := max(2, int((b-a)/step)+2)
	out := make([]float64, n)
	for i := range out {
		out[i] = a + (b-a)*float64(i)/float64(n-1)
	}
	return out
}

// points returns the window's points row by row.
func (w Window) points() (x, y []float64, points []bem.Point) {
	x, y = axis(w.X0, w.X1, w.Step), axis(w.Y0, w.Y1, w.Step)
	for _, v := range y {
		for _, u := range x {
			points = append(points, bem.Point{X: u, Y: v})
		}
	}
	return x, y, points
}

// Field solves the section at f, Hz, and returns the pressure in the window; X
// counts to the right and Y forward, from the middle of the front. For a symmetric
// section the window lies on the right half, X0 >= 0, and Mirrored makes the left
// half of it.
func (p Plan) Field(ctx context.Context, a Air, f float64, w Window, o bem.Options) (*Field, error) {
	problem, err := p.Problem(a)
	if err != nil {
		return nil, err
	}
	fields, err := fields(ctx, problem, f, w, o, "air")
	if err != nil {
		return nil, err
	}
	return fields[0], nil
}

// Field solves the guide at f, Hz, and returns the pressure in the first and
// second layer.
func (g Fold) Field(ctx context.Context, a Air, f float64, w Window, o bem.Options) (first, second *Field, err error) {
	problem, err := g.Problem(a)
	if err != nil {
		return nil, nil, err
	}
	both, err := fields(ctx, problem, f, w, o, First, Second)
	if err != nil {
		return nil, nil, err
	}
	return both[0], both[1], nil
}

// fields solves once and evaluates the window in each of the domains.
func fields(ctx context.Context, p *bem.Problem, f float64, w Window, o bem.Options, domains ...string) ([]*Field, error) {
	s, err := p.Solve(ctx, f, o)
	if err != nil {
		return nil, err
	}
	var out []*Field
	for i, name := range domains {
		x, y, points := w.points()
		values, err := s.At(ctx, name, points)
		if err != nil {
			return nil, err
		}
		field := &Field{Frequency: f, Unknowns: s.Unknowns, X: x, Y: y, Outlines: chains(p.Domains[i].Outlines)}
		for j := range y {
			field.Pressure = append(field.Pressure, values[j*len(x):(j+1)*len(x)])
		}
		out = append(out, field)
	}
	return out, nil
}

// chains samples outlines: each becomes one connected line.
func chains(outlines [][]bem.Edge) [][]bem.Point {
	var out [][]bem.Point
	for _, edges := range outlines {
		var line []bem.Point
		for _, e := range edges {
			line = append(line, sampled(e)...)
		}
		out = append(out, line)
	}
	return out
}

// curvePoints is the number of steps in which a curved edge is drawn.
const curvePoints = 48

func sampled(e bem.Edge) []bem.Point {
	n := curvePoints
	if _, straight := e.Curve.(bem.Line); straight {
		n = 1
	}
	out := make([]bem.Point, n+1)
	for i := range out {
		at, _ := e.Curve.At(float64(i) / float64(n))
		if e.Flip {
			out[n-i] = at
		} else {
			out[i] = at
		}
	}
	return out
}

// Mirrored returns the field with its mirror image at X = 0, where it must
// begin. Each outline runs on into its image.
func (f *Field) Mirrored() *Field {
	n := len(f.X)
	out := &Field{Frequency: f.Frequency, Unknowns: f.Unknowns, Y: f.Y}
	for i := n - 1; i > 0; i-- {
		out.X = append(out.X, -f.X[i])
	}
	out.X = append(out.X, f.X...)
	for _, row := range f.Pressure {
		var whole []complex128
		for i := n - 1; i > 0; i-- {
			whole = append(whole, row[i])
		}
		out.Pressure = append(out.Pressure, append(whole, row...))
	}
	for _, line := range f.Outlines {
		whole := slices.Clone(line)
		for i := len(line) - 1; i >= 0; i-- {
			whole = append(whole, bem.Point{X: -line[i].X, Y: line[i].Y})
		}
		out.Outlines = append(out.Outlines, whole)
	}
	return out
}
