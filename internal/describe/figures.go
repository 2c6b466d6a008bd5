package describe

import (
	"math"
	"slices"
	"strings"

	"gapline/cabinet/design"
	"gapline/cabinet/sizing"
	"gapline/internal/advice"
	"gapline/internal/figure"
	"gapline/internal/numeric"
	"gapline/internal/result"
	"gapline/internal/study/fit"
	"gapline/internal/study/size"
)

// groups are the tables of all figures: the group of a key and its title.
var groups = []struct{ group, title string }{
	{"gap", "Crossover gap"},
	{"coupling", "Line"},
	{"coupling.open", "Woofer line, bare cones"},
	{"coupling.insert", "Woofer line with the insert"},
	{"coupling.mid", "Mid line"},
	{"horn", "Horn"},
	{"woofers", "Woofers to the sides"},
	{"mids", "Mids to the sides"},
	{"fold", "Folded path"},
	{"box", "Low end of one box"},
	{"line", "Hung line"},
	{"air", "Air"},
}

// Figures lists every figure that a design gives, for the document, in a table for
// each group. data is the id of the design's JSON there; source returns the cell that
// refers to a figure's source.
func Figures(d *design.Design, s *sizing.Sizing, data string, source func(text string) result.Cell) *result.Result {
	r := &result.Result{}
	left := trust
	left.Left = true
	columns := []result.Column{{Key: "value", Data: data}, left, headed(result.Column{Left: true}, "source")}
	r.Add(result.Table{Shown: result.At(result.Page), Title: result.Plain("Crossover gap by level of trust"), Rows: levelRows(d, s, source).Rows(), Columns: columns})
	for _, g := range groups {
		var rows result.List
		for _, f := range size.Group(g.group) {
			if c := size.Cell(s, f); c.Given() {
				row := result.FigureRow(c)
				row.Cells = append(row.Cells, source(f.Source))
				rows.Add(row)
			}
		}
		r.Add(result.Table{Shown: result.At(result.Page), Title: result.Plain(g.title), Rows: rows.Rows(),
			Columns: columns})
	}
	return r
}

// levelRows are the ends of the gap and the gap at each level of trust, and the window that
// both sides serve at all that decide, where there is one.
func levelRows(d *design.Design, s *sizing.Sizing, source func(text string) result.Cell) *result.List {
	rows := &result.List{}
	add := func(levels [sizing.LevelCount]sizing.LevelGap, figures [sizing.LevelCount]figure.GapLevel) {
		for l, g := range levels {
			if !g.Given || math.IsNaN(g.Gap) {
				continue
			}
			fig := figures[l]
			for _, c := range []result.Cell{result.Fig(fig.Low, g.Low.Hz), result.Fig(fig.High, g.High.Hz), result.Fig(fig.Gap, g.Gap)} {
				row := result.FigureRow(c)
				row.Cells = append(row.Cells, source(c.Fig.Source))
				rows.Add(row)
			}
		}
	}
	add(sizing.Levels(d, s), gapLevels)
	add(sizing.MidLevels(d, s), midLevels)
	judged := advice.Judge(d, s, &fit.Fit{}) // what does not fit moves no window
	low, high, crossover := served(&judged)
	for _, c := range []result.Cell{low, high, crossover} {
		if !numeric.Given(c.SI) {
			continue
		}
		row := result.FigureRow(c)
		row.Cells = append(row.Cells, source(c.Fig.Source))
		rows.Add(row)
	}
	return rows
}

// Absentees names the figures that the design does not give enough for, and the parts
// that it does not have.
func Absentees(d *design.Design, s *sizing.Sizing) (keys, parts []string) {
	for _, g := range groups {
		for _, f := range size.Group(g.group) {
			if c := size.Cell(s, f); c.Given() || expected(f, s) {
				continue
			}
			switch part := absentPart(f, d, s); {
			case part == "":
				keys = append(keys, f.Key)
			case !slices.Contains(parts, part):
				parts = append(parts, part)
			}
		}
	}
	return keys, parts
}

// absentPart names the part that the figure belongs to when the design does not have
// it.
func absentPart(f *figure.Def, d *design.Design, s *sizing.Sizing) string {
	k := &s.Coupling
	switch {
	case !k.HasInsert && (f.Group() == "coupling.insert" || f == figure.GapInsert):
		return "insert"
	case !k.HasMid && (f.Group() == "coupling.mid" || f.Group() == "mids" || f == figure.GapWooferMid):
		return "mid band"
	case !s.Fold.Given && f.Group() == "fold":
		return "folded path"
	case f == figure.HornFlaresFilled && !d.Horn.Sides.Given():
		return "side flares"
	}
	return ""
}

// expected reports whether nothing is missing although a figure has no value: an open
// gap has no place for a crossover, and studies and stored runs have sections of their
// own.
func expected(f *figure.Def, s *sizing.Sizing) bool {
	if f.Group() == "fold" && !s.Fold.Given {
		return false
	}
	return f == figure.GapCrossover && s.Gap.AsGiven() > 0 || f.Trust == figure.Wave || slices.Contains(ofStudies, f)
}

// ofStudies are the figures that only the studies of horn and fold work out; size
// --json has none of them.
var ofStudies = []*figure.Def{figure.HornRipple, figure.HornHalfLoaded, figure.HornEfficiency,
	figure.FoldToleranceAxial, figure.FoldToleranceLateral, figure.FoldToleranceProfile}

// TrustLevels sets figures that exist at several levels of trust beside each other.
// stored tells whether any of the wave level is there.
func TrustLevels(s *sizing.Sizing, data string) (r *result.Result, stored bool) {
	var rows result.List
	for _, x := range []struct {
		name                 string
		rule, aperture, wave *figure.Def
	}{
		{"horn holds its coverage from", figure.HornPatternRule, figure.HornPatternComputed, figure.HornPatternWave},
		{"free of lobes up to", nil, advice.Below(s).Lobe, figure.CouplingLobeWave},
		{"corner of the insert's chamber", figure.CouplingInsertChamber, figure.CouplingInsertCoupled, figure.CouplingInsertChamberWave},
		{"mouths of the insert in phase up to", figure.CouplingInsertInPhase, figure.CouplingInsertPart, figure.CouplingInsertPartWave},
		{"narrowest width above it", nil, figure.HornNarrowest, figure.HornNarrowestWave},
		{"folded front flat to a quarter wave up to", figure.FoldFlatTo, nil, figure.FoldFlatToWave},
	} {
		if !s.Coupling.HasInsert && x.aperture != nil && x.aperture.Group() == "coupling.insert" {
			continue
		}
		row := result.Row{Label: result.Plain(x.name)}
		for _, f := range []*figure.Def{x.rule, x.aperture, x.wave} {
			c := result.Cell{State: result.Absent}
			if f != nil {
				c = size.Cell(s, f)
			}
			row.Cells = append(row.Cells, c)
		}
		stored = stored || row.Cells[2].Given()
		rows.Add(row)
	}
	t := result.Table{Shown: result.At(result.Page), Title: result.Plain("One figure at each level of trust"), Rows: rows.Rows()}
	for _, l := range []figure.Trust{figure.Rule, figure.Aperture, figure.Wave} {
		c := headed(value, l.String())
		c.Data = data
		t.Columns = append(t.Columns, c)
	}
	return &result.Result{Parts: []result.Part{t}}, stored
}

// Differences lists for the document the keys and figures in which designs differ;
// data are the ids of their JSON there. It is empty where they do not differ.
func Differences(designs []Sized, data []string) *result.Result {
	r := &result.Result{}
	keys := slices.DeleteFunc(filled(keysAcross(designs), false), func(x across) bool { return strings.HasPrefix(x.key, "review.") })
	if len(keys) > 0 {
		r.Add(comparedPage("Where the designs differ: keys", "key", keys, designs, nil))
	}
	if figures := filled(figuresAcross(designs), false); len(figures) > 0 {
		r.Add(comparedPage("Where the designs differ: figures", "figure", figures, designs, data))
	}
	return r
}
