package layout

import (
	"math"

	"gapline/cabinet/design"
	"gapline/internal/numeric"
	"gapline/internal/optional"
)

// group is the parts of one band that stand on the front in rows and columns, before
// they have a place.
type group struct {
	band          Band
	place         *design.Place
	columns, rows int
	lateral       float64 // between columns, m; NaN with one column
	spacing       float64 // between rows, m; NaN with one row
	one           float64 // width of one column, m
	high          float64 // height of one part, m
	width         float64 // of the whole group, m
	middle, rise  float64 // of the group, m
	coaxial       bool
	behind        bool // stands behind the others and takes no room beside them
	cornered      bool // no place on the front holds it beside what is stated
	rests         []Assumed
}

// bands lists what stands on the front, from left to right where nothing is said.
func (l *Layout) bands() []group {
	d := l.design
	var out []group
	if d.HasWoofer() || d.HasInsert() {
		out = append(out, l.woofers())
	}
	if d.HasMid() {
		m := &d.Mid
		g := l.cones(Mids, &d.Bands.Mid, m.Size.Or(m.Diameter()), d.MidColumns(), d.MidRows(), d.MidSpacing())
		g.sizeless(l, m.Size)
		g.rowless(l, m.Spacing)
		out = append(out, g)
	}
	if h := &d.Horn; h.MouthWidth.Given() || h.MouthHeight.Given() || h.Coverage.Given() {
		g := group{band: Horn, place: &d.Bands.Horn, columns: 1, rows: 1, lateral: numeric.Absent, spacing: numeric.Absent,
			one: numeric.Or(h.ExitWidth(), 0), high: h.MouthHeight.Or(l.Height)}
		if !h.MouthHeight.Given() {
			g.rests = append(g.rests, MouthOfBox)
			l.assume(MouthOfBox, Horn, g.high)
		}
		g.width = g.one
		out = append(out, g)
	}
	for i := range out {
		g := &out[i]
		g.coaxial = g.place.Mounting == design.Coaxial && i > 0
		g.rise = g.place.Rise.Or(0)
	}
	return out
}

// woofers are the cones, with the room of an insert's mouths or stated plate where those
// are wider.
func (l *Layout) woofers() group {
	d := l.design
	w := &d.Woofer
	g := l.cones(Woofers, &d.Bands.Woofer, w.Size.Or(w.Diameter()), d.WooferColumns(), d.WooferRows(), d.WooferSpacing())
	g.sizeless(l, w.Size)
	g.rowless(l, w.Spacing)
	if d.HasInsert() {
		wide := math.Max(g.one, math.Max(d.Insert.MouthWidth.Or(0), d.Insert.PlateWidth.Or(0)))
		g.width += wide - g.one
		g.one = wide
	}
	return g
}

// cones is a group of drivers of the given size.
func (l *Layout) cones(band Band, place *design.Place, size float64, columns, rows int, spacing float64) group {
	g := group{band: band, place: place, columns: columns, rows: rows, spacing: spacing, lateral: numeric.Absent, one: numeric.Or(size, 0)}
	g.high, g.width = g.one, g.one
	if columns > 1 {
		g.lateral = place.Lateral.Or(g.one)
		g.width = float64(columns-1)*g.lateral + g.one
		if !place.Lateral.Given() {
			g.rests = append(g.rests, ColumnSpacing)
			l.assume(ColumnSpacing, band, g.lateral)
		}
	}
	g.behind = place.Setback.Or(0) > 0 && columns > 1
	return g
}

func (g *group) sizeless(l *Layout, size optional.Float) {
	if !size.Given() && g.one > 0 {
		l.assume(ConeSize, g.band, g.one)
	}
}

func (g *group) rowless(l *Layout, spacing optional.Float) {
	if g.rows > 1 && !spacing.Given() {
		g.rests = append(g.rests, RowSpacing)
		l.assume(RowSpacing, g.band, g.spacing)
	}
}

// straddle is the free width between two columns, m; 0 where there is none.
func (g *group) straddle() float64 {
	if g.columns != 2 {
		return 0
	}
	return math.Max(g.lateral-g.one, 0)
}

// y returns the middle of a column, counted from the left.
func (g *group) y(column int) float64 {
	if g.columns == 1 {
		return g.middle
	}
	return g.middle - (float64(column)-float64(g.columns-1)/2)*g.lateral
}

// z returns the middle of a row, counted from the bottom.
func (g *group) z(row int) float64 {
	if g.rows == 1 {
		return g.rise
	}
	return g.rise + (float64(row)-float64(g.rows-1)/2)*g.spacing
}
