package filter

import (
	"cmp"
	"math"
	"slices"

	"gapline/cabinet/field"
)

// table is a pair of filters on the points of a lattice, ready for any delay and
// polarity: the square of the share at a point is
//
//	even + turned·cos ωτ − aside·sin ωτ
//
// with τ the delay of the high path against that in the filters, and turned and aside
// with the other sign where it is inverted as well.
type table struct {
	first, last int // rows
	omega       []float64
	planes      [2]sheet
	// Sums over all points of each row.
	even, turned, aside []float64
	points              int
}

// sheet is one plane of a table, by row and column.
type sheet struct {
	columns             int
	stride              int // every how manyeth column of the lattice
	even, turned, aside []float64
	axis                int // column of the axis
}

// Every how manyeth row of the lattice a coarse table holds, and about how many columns
// to one side of the axis.
const (
	coarseRows    = 2
	coarseColumns = 40
)

// tableOf makes the table of two paths over a range: of every point or, if it is to be
// coarse, of some of them.
func (l *lattice) tableOf(low, high Path, from, to float64, coarse bool) *table {
	t := &table{}
	t.first, t.last = l.rows(from, to)
	rows := 1
	if coarse {
		rows = coarseRows
	}
	for p := range l.planes {
		half, stride := l.planes[p].half, 1
		if coarse {
			stride = max(2, (half+coarseColumns-1)/coarseColumns)
		}
		axis := half / stride
		n := (2*axis + 1) * ((t.last-t.first)/rows + 1)
		t.planes[p] = sheet{axis: axis, columns: 2*axis + 1, stride: stride,
			even: make([]float64, 0, n), turned: make([]float64, 0, n), aside: make([]float64, 0, n)}
	}
	for i := t.first; i <= t.last; i += rows {
		t.omega = append(t.omega, 2*math.Pi*l.hz[i])
		a, b := low.Response(l.hz[i]), high.Response(l.hz[i])
		t.row(l, i, a, b)
	}
	return t
}

// row adds row i of the lattice, in which the paths have the responses a and b.
func (t *table) row(l *lattice, i int, a, b complex128) {
	sizeA, sizeB := math.Hypot(real(a), imag(a)), math.Hypot(real(b), imag(b))
	w := a * complex(real(b), -imag(b))
	even, turned, aside := 0.0, 0.0, 0.0
	for p := range l.planes {
		f, s := &l.planes[p], &t.planes[p]
		start := i*f.angles + f.half + 1 - s.axis*s.stride
		for j := range s.columns {
			at := start + j*s.stride
			x, y := sizeA*f.lowSize[at], sizeB*f.highSize[at]
			e, c, d := 1.0, 0.0, 0.0
			if full := x + y; full > 0 {
				inv := 1 / (full * full)
				z := w * f.cross[at]
				e, c, d = (x*x+y*y)*inv, 2*real(z)*inv, 2*imag(z)*inv
			}
			s.even = append(s.even, e)
			s.turned = append(s.turned, c)
			s.aside = append(s.aside, d)
			even, turned, aside = even+e, turned+c, aside+d
		}
		t.points += s.columns
	}
	t.even, t.turned, t.aside = append(t.even, even), append(t.turned, turned), append(t.aside, aside)
}

// costs prices a delay of the high path by the points alone, alike and inverted: see
// Loss.Cost, and the same without the deepest notch, which may lie between the points.
func (t *table) costs(delay float64) (whole, rest [2]float64) {
	worst, axis := [2]float64{2, 2}, [2]float64{2, 2}
	sum, swing := 0.0, 0.0
	for i, w := range t.omega {
		sin, cos := math.Sincos(w * delay)
		sum += t.even[i]
		swing += t.turned[i]*cos - t.aside[i]*sin
		for p := range t.planes {
			s := &t.planes[p]
			n := i * s.columns
			even, turned, aside := s.even[n:n+s.columns], s.turned[n:n+s.columns], s.aside[n:n+s.columns]
			for j, e := range even {
				x := turned[j]*cos - aside[j]*sin
				worst[0], worst[1] = min(worst[0], e+x), min(worst[1], e-x)
			}
		}
		s := &t.planes[field.Vertical]
		n := i*s.columns + s.axis
		x := s.turned[n]*cos - s.aside[n]*sin
		axis[0], axis[1] = min(axis[0], s.even[n]+x), min(axis[1], s.even[n]-x)
	}
	for k, all := range [2]float64{sum + swing, sum - swing} {
		rest[k] = -(powerLoss(axis[k]) + meanWeight*powerLoss(all/float64(t.points)))
		whole[k] = rest[k] - powerLoss(worst[k])
	}
	return whole, rest
}

// powerLoss is the square of a share as a loss, dB.
func powerLoss(square float64) float64 {
	return 10 * math.Log10(math.Max(square, floorShare*floorShare))
}

// squares are the squares of the shares at every point of a plane for a delay of the
// high path and the sign of it.
func (t *table) squares(p field.Plane, delay, sign float64) squares {
	s := &t.planes[p]
	out := squares{table: t, sheet: s, at: make([]float64, len(s.even))}
	for i, w := range t.omega {
		sin, cos := math.Sincos(w * delay)
		sin, cos = sign*sin, sign*cos
		for n := i * s.columns; n < (i+1)*s.columns; n++ {
			out.at[n] = s.even[n] + s.turned[n]*cos - s.aside[n]*sin
		}
	}
	return out
}

// squares are those of one plane at one delay. The table holds every point.
type squares struct {
	*table
	*sheet
	at []float64
}

// pit is a point of the lattice that no neighbour lies below.
type pit struct {
	row, column int
	square      float64
}

// lowest returns the points from which the deepest notch can be reached: the lowest of
// those that no neighbour lies below, in the columns from first to last.
func (s *squares) lowest(first, last int) []pit {
	least := math.Inf(1)
	for i := range s.omega {
		least = min(least, slices.Min(s.at[i*s.columns+first:i*s.columns+last+1]))
	}
	var out []pit
	for i := range s.omega {
		for j := first; j <= last; j++ {
			if q := s.at[i*s.columns+j]; q <= least+seedSlack && q <= s.around(i, j, first, last) {
				out = append(out, pit{s.first + i, 1 + j, q})
			}
		}
	}
	slices.SortStableFunc(out, func(a, b pit) int { return cmp.Compare(a.square, b.square) })
	return out[:min(len(out), seeds)]
}

// around is the lowest square beside a point, in the columns from first to last.
func (s *squares) around(row, column, first, last int) float64 {
	low := math.Inf(1)
	for i := max(row-1, 0); i <= min(row+1, len(s.omega)-1); i++ {
		for j := max(column-1, first); j <= min(column+1, last); j++ {
			if i != row || j != column {
				low = min(low, s.at[i*s.columns+j])
			}
		}
	}
	return low
}

// mean is the mean of all squares as a level, dB.
func (t *table) mean(delay, sign float64) float64 {
	sum := 0.0
	for i, w := range t.omega {
		sin, cos := math.Sincos(w * delay)
		sum += t.even[i] + sign*(t.turned[i]*cos-t.aside[i]*sin)
	}
	return powerLoss(sum / float64(t.points))
}
