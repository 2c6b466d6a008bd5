package describe

import (
	"gapline/cabinet/design"
	"gapline/cabinet/sizing"
	"gapline/internal/figure"
	"gapline/internal/numeric"
	"gapline/internal/result"
	"gapline/internal/study/size"
	"math"
)

// sizeRows are the rows of the size screen under one title. Each line of mouths that
// the design has is a column; what is no line's own stands in the first.
type sizeRows struct {
	*sizeParts
	lines []figure.Line
	heads []string
	result.List
}

func (p *sizeParts) rows() *sizeRows {
	k := &p.s.Coupling
	r := &sizeRows{sizeParts: p, lines: []figure.Line{figure.CouplingOpen}, heads: []string{"bare cones"}}
	if k.HasInsert {
		r.lines, r.heads = append(r.lines, figure.CouplingInsert), append(r.heads, "with insert")
	}
	if k.HasMid {
		r.lines, r.heads = append(r.lines, figure.CouplingMid), append(r.heads, "mids")
		if !k.HasInsert {
			r.heads[0] = "woofers"
		}
	}
	return r
}

// table returns the rows under a title; continued leaves out the columns' heads.
func (r *sizeRows) table(title result.Text, continued bool) result.Table {
	t := result.Table{Shown: result.At(result.Screen), Title: title, Rows: r.Rows(), Continued: continued}
	for _, head := range r.heads {
		t.Columns = append(t.Columns, headed(value, head))
	}
	t.Columns = append(t.Columns, headed(trust, "trust"))
	return t
}

// figures adds those of the figures that the design gives enough for.
func (r *sizeRows) figures(list ...*figure.Def) {
	for _, f := range list {
		r.If(result.Plain(f.Name), size.Cell(r.s, f))
	}
}

// flush adds a figure under a name that stands for itself, given or not.
func (r *sizeRows) flush(name string, f *figure.Def) {
	c := size.Cell(r.s, f)
	r.Add(result.Row{Label: result.Plain(name), Flush: true, Cells: []result.Cell{c}, Trust: c.TrustOf()})
}

// perLine adds a figure that each line of mouths has. basis is the one whose
// limit it is, if any.
func (r *sizeRows) perLine(basis design.Basis, of func(figure.Line) *figure.Def) {
	var cells []result.Cell
	for _, l := range r.lines {
		cells = append(cells, size.Cell(r.s, of(l)))
	}
	r.Add(result.Row{Label: result.Plain(of(r.lines[0]).Name), Cells: cells, Trust: cells[0].TrustOf(),
		Marked: basis == r.s.Gap.Basis && !r.chamberBinds()})
}

// measured adds the coupling limit of kept traces in the column of what meets the horn.
func (r *sizeRows) measured() {
	c := size.Cell(r.s, figure.CouplingMeasured)
	if !c.Given() {
		return
	}
	cells := make([]result.Cell, len(r.lines))
	for i := range cells {
		cells[i] = result.None
	}
	cells[len(cells)-1] = c
	r.Add(result.Row{Label: result.Plain(figure.CouplingMeasured.Name), Cells: cells, Trust: c.TrustOf()})
}

// inserts adds figures that only an insert has, in its column.
func (r *sizeRows) inserts(list ...*figure.Def) {
	for _, f := range list {
		c := size.Cell(r.s, f)
		r.Add(result.Row{Label: result.Plain(f.Name), Cells: []result.Cell{result.None, c}, Trust: c.TrustOf(),
			Marked: f == figure.CouplingInsertChamber && r.chamberBinds()})
	}
}

// chamberBinds reports whether the insert's chamber ends the woofers' side of the gap.
func (p *sizeParts) chamberBinds() bool {
	k := &p.s.Coupling
	return k.HasInsert && !k.HasMid && p.s.Gap.Low == k.Insert.Chamber
}

// tables are those of the screen: the lines of mouths, the horn, the gap and the box.
func (p *sizeParts) tables() []result.Part {
	return []result.Part{p.coupling(), p.horn(), p.gap()}
}

func (p *sizeParts) coupling() result.Table {
	r := p.rows()
	lower := size.Cell(p.s, figure.CouplingLower)
	r.Row(result.Plain(figure.CouplingLower.Name), lower)
	r.perLine(0, func(l figure.Line) *figure.Def { return l.Spacing })
	r.perLine(design.HalfWave, func(l figure.Line) *figure.Def { return l.HalfWave })
	r.perLine(design.Lobe, func(l figure.Line) *figure.Def { return l.Lobe })
	r.measured()
	r.perLine(0, func(l figure.Line) *figure.Def { return l.FirstLobe })
	if p.all {
		r.perLine(0, func(l figure.Line) *figure.Def { return l.Share })
		r.perLine(0, func(l figure.Line) *figure.Def { return l.Efficiency })
	}
	if p.s.Coupling.HasInsert {
		r.inserts(figure.CouplingInsertChamber, figure.CouplingInsertAreaRatio, figure.CouplingInsertInPhase)
	}
	return r.table(result.Plain("COUPLING"), false)
}

func (p *sizeParts) horn() result.Table {
	r := p.rows()
	r.figures(figure.HornPatternRule, figure.HornPatternComputed, figure.HornPatternWave, figure.HornPatternMeasured, figure.HornNarrowest, figure.HornNarrowestWave)
	if p.all {
		r.figures(figure.HornCutoff)
	}
	r.limit(figure.HornLower)
	if p.all {
		r.figures(figure.HornSagitta)
	}
	for _, f := range []*figure.Def{figure.HornFlatTo, figure.HornFlatLobe} {
		if p.all || !math.IsInf(size.Of(p.s, f), 1) { // that there is no limit is among the findings
			r.figures(f)
		}
	}
	r.figures(figure.FoldFlatToWave)
	if p.all {
		r.figures(figure.FoldDepth, figure.FoldDepthSaved)
	}
	r.across(figure.WoofersAcross, &p.s.Woofers)
	r.across(figure.MidsAcross, &p.s.Mids)
	return r.table(p.hornTitle(), true)
}

// across adds how far to the sides a band below the horn radiates. Where it covers what
// the horn covers up to the crossover, the short screen says up to where and no more.
func (r *sizeRows) across(a figure.Across, h *sizing.Horizontal) {
	r.figures(a.CoversTo)
	if !r.all && h.Covers() {
		return
	}
	r.figures(a.Width, a.Dip)
}

// limit adds the figure that is the horn's side of the gap, if it is given.
func (r *sizeRows) limit(f *figure.Def) {
	if c := size.Cell(r.s, f); c.Given() {
		row := result.FigureRow(c)
		row.Marked = true
		r.Add(row)
	}
}

func (p *sizeParts) hornTitle() result.Text {
	h := &p.d.Horn
	if !numeric.Given(h.ExitCoverage()) || !numeric.Given(h.ExitWidth()) {
		return result.Plain("HORN")
	}
	exit := "a mouth"
	if h.Sides.Given() {
		exit = "side flares"
	}
	text := result.Say("HORN, %s from "+exit+" %s wide", angle(h.ExitCoverage()), length(h.ExitWidth()))
	if h.MouthHeight.Given() {
		text = text.And(result.Say(", %s high", length(h.MouthHeight.Value())))
	}
	return text
}

// gap lists the gap of each pair of neighbours in frequency that the design has, and
// what the file gives of the low end and the price of one box.
func (p *sizeParts) gap() result.Table {
	r := p.rows()
	k := &p.s.Coupling
	basis := ", " + p.s.Gap.Basis.Name() + " basis"
	switch {
	case k.HasMid:
		r.flush("GAP woofers to mids"+basis, figure.GapWooferMid)
	case k.HasInsert:
		r.flush("GAP without insert"+basis, figure.GapOpen)
	}
	r.byTrust()
	maximum := "ONE BOX, maximum level"
	if k.HasInsert {
		maximum += " without insert"
	}
	r.flushIf("ONE BOX, low end at half power", figure.BoxF3)
	r.flushIf(maximum, figure.BoxMaxSPL)
	if p.all {
		r.flushIf("ONE BOX, cost", figure.BoxCost)
	}
	return r.table(result.Text{}, true)
}

// flushIf is flush for a figure that may not be there.
func (r *sizeRows) flushIf(name string, f *figure.Def) {
	if c := size.Cell(r.s, f); c.Given() {
		r.flush(name, f)
	}
}
