package layout

import (
	"math"
	"slices"
	"testing"

	"gapline/cabinet/design"
)

// bandRow is a band on the front as the oracle sees it: columns that move together.
type bandRow struct {
	band    Band
	columns []float64 // left edge of each, counted from that of the first, m
	one     float64   // width of a column, m
	tall    float64   // height of all rows, m
	between float64   // height free between two rows, m
	flat    bool      // stands in the front, looking forward
}

// rowsOf are the bands that stand beside each other.
func rowsOf(d *design.Design) []bandRow {
	var out []bandRow
	cones := func(band Band, at *design.Place, n int, size, spacing float64) {
		if n == 0 || at.Mounting == design.Coaxial || at.Setback.Value() > 0 && at.Columns > 1 {
			return
		}
		g := bandRow{band: band, one: size, tall: size, flat: at.Setback.Value() == 0 && at.Turn.Value() == 0}
		for i := range at.Columns {
			g.columns = append(g.columns, float64(i)*at.Lateral.Or(0))
		}
		if rows := n / at.Columns; rows > 1 {
			g.tall, g.between = float64(rows-1)*spacing+size, spacing-size
		}
		out = append(out, g)
	}
	cones(Woofers, &d.Bands.Woofer, d.Woofer.PerBox, d.Woofer.Size.Value(), d.Woofer.Spacing.Value())
	cones(Mids, &d.Bands.Mid, d.Mid.PerBox, d.Mid.Size.Value(), d.Mid.Spacing.Value())
	if h := &d.Horn; d.Bands.Horn.Mounting != design.Coaxial {
		wide := h.MouthWidth.Value()
		if h.Sides.Length.Given() {
			wide += 2*h.Sides.Length.Value()*math.Tan(h.Sides.Angle.Or(h.Coverage.Value())/2) + float64(h.Sides.Splitters)*h.Sides.SplitterWidth.Or(0)
		}
		out = append(out, bandRow{band: Horn, columns: []float64{0}, one: wide, tall: h.MouthHeight.Value(), flat: true})
	}
	return out
}

// canStack reports whether two bands find room above each other, or one between the rows
// of the other.
func canStack(a, b bandRow, height float64) bool {
	return a.tall+b.tall <= height || b.tall <= a.between || a.tall <= b.between
}

// findRoom tries to stand the rest of the bands beside those that are placed, pushed to
// the left: each touches the side of the cabinet or a column to its left.
func findRoom(placed []interval, rest []bandRow, width float64) bool {
	if len(rest) == 0 {
		return true
	}
	edges := []float64{0}
	for _, p := range placed {
		edges = append(edges, p.right)
	}
	for i, g := range rest {
		others := slices.Delete(slices.Clone(rest), i, i+1)
		for _, edge := range edges {
			for _, touching := range g.columns {
				now := slices.Clone(placed)
				free := true
				for _, c := range g.columns {
					left := edge - touching + c
					free = free && left > -rounding && left+g.one < width+rounding
					for _, p := range placed {
						free = free && !(left < p.right-rounding && left+g.one > p.left+rounding)
					}
					now = append(now, interval{left: left, right: left + g.one})
				}
				if free && findRoom(now, others, width) {
					return true
				}
			}
		}
	}
	return false
}

// compareWidths compares what is said of bands beside each other with a search for room,
// and returns the bands that are said to be too wide.
func compareWidths(t *testing.T, i int, l *Layout, d *design.Design, s *seen) map[Band]bool {
	t.Helper()
	wide := map[Band]bool{}
	for _, c := range l.Conflicts {
		if c.Of != TooWide {
			continue
		}
		for _, b := range c.Bands {
			wide[b] = true
		}
		if !inTheWay(s.may, c.Bands) {
			t.Errorf("box %d: bands %v are said to be too wide, and none is in the way of another", i, c.Bands)
		}
		bands := slices.DeleteFunc(rowsOf(d), func(g bandRow) bool { return !slices.Contains(c.Bands, g.band) })
		if findRoom(nil, bands, d.Cabinet.Width.Value()) {
			t.Errorf("box %d: bands %v are said to need %.1f mm and find room in %.1f", i, c.Bands, 1e3*c.Needs, 1e3*c.Has)
		}
	}
	all := slices.DeleteFunc(rowsOf(d), func(g bandRow) bool { return !g.flat })
	for a := range all {
		for b := range a {
			pair := []bandRow{all[b], all[a]}
			if canStack(pair[0], pair[1], d.Cabinet.Height.Value()) || findRoom(nil, pair, d.Cabinet.Width.Value()) {
				continue
			}
			told := map[finding]bool{}
			findings, _ := said(l)
			for _, f := range findings {
				told[f] = true
			}
			if bands := []Band{pair[0].band, pair[1].band}; !wide[bands[0]] && !inTheWay(told, bands) {
				t.Errorf("box %d: bands %v find no room beside each other; the check does not say so", i, bands)
			}
		}
	}
	return wide
}

// inTheWay reports whether two of the bands share room or one leaves the cabinet's width.
func inTheWay(found map[finding]bool, bands []Band) bool {
	for f := range found {
		switch {
		case f.of == Overlaps && f.a != f.b && slices.Contains(bands, f.a) && slices.Contains(bands, f.b):
			return true
		case f.of == LeavesWidth && slices.Contains(bands, f.a):
			return true
		}
	}
	return false
}
