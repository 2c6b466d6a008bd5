package describe

import (
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

// Size describes the sizing of a design: the verdict on its gap, where woofers and
// horn end, and what would close the gap. all adds the rows and notes that the screen
// leaves out.
func Size(d *design.Design, s *sizing.Sizing, fits *fit.Fit, findings []result.Finding, all bool) *result.Result {
	p := sizeParts{d: d, s: s, fits: fits, judged: advice.Judge(d, s, fits), all: all}
	p.proposed = p.judged.Proposes(d, fits.Links, s)
	verdict, rest := splitVerdict(findings, all)
	r := &result.Result{Title: d.Title, Head: []result.Text{p.head()}}
	r.Add(p.data(), p.levels(), p.midLevels(), p.window(), p.levers(), p.listing())
	r.Add(result.Findings{Shown: result.At(result.Screen), List: verdict})
	r.Add(p.tables()...)
	r.Add(result.Findings{Shown: result.At(result.Screen), List: rest},
		result.Findings{Shown: result.At(result.Data), List: findings},
		Strip([]Sized{{Design: d, Sizing: s}}))
	return r
}

// splitVerdict takes the judgement of the gap, which stands first on the screen, from
// the other findings, and without all those that a row says already.
func splitVerdict(findings []result.Finding, all bool) (verdict, rest []result.Finding) {
	for i, f := range findings {
		switch {
		case i == 0 && strings.HasPrefix(f.Key, "gap."):
			verdict = append(verdict, f)
		case all || !f.Detail:
			rest = append(rest, f)
		}
	}
	return verdict, rest
}

type sizeParts struct {
	d      *design.Design
	s      *sizing.Sizing
	fits   *fit.Fit
	judged advice.Judgement
	// proposed are the changes that would close the gap.
	proposed []advice.Lever
	all      bool
}

func (p *sizeParts) head() result.Text {
	k := &p.s.Coupling
	stack := result.Plain("stack unknown")
	switch {
	case numeric.Given(k.Length):
		stack = result.Say("%s boxes at %s pitch, a line of %s", result.Count(p.d.Line.Boxes), length(k.Pitch), length(k.Length))
	case numeric.Given(k.Pitch):
		stack = result.Say("boxes at %s pitch", length(k.Pitch))
	}
	return result.Say("%s; air %s", stack, Air(p.d, p.s))
}

// data holds every figure under its key; a group that the design does not have is
// null as a whole.
func (p *sizeParts) data() result.Table {
	var rows result.List
	for _, f := range size.Table {
		if absentGroup(f.Def, p.s) {
			rows.Add(result.Row{Key: f.Group(), Cells: []result.Cell{result.None}})
			continue
		}
		if strings.HasPrefix(f.Group(), "gap.by_trust") {
			continue // levels says more of them
		}
		if f.Def == figure.GapOpen {
			rows.Add(result.Row{Key: "gap.basis", Cells: []result.Cell{result.Word(p.s.Gap.Basis.Name())}})
			rows.Add(result.Row{Key: "gap.verdict", Cells: []result.Cell{result.Word(p.judged.Verdict.String())}})
		}
		rows.Add(result.FigureRow(size.Cell(p.s, f.Def)))
	}
	return result.Table{Shown: result.At(result.Data), Columns: []result.Column{value}, Rows: rows.Rows()}
}

// absentGroup reports whether the figure belongs to a part that the design does not
// have.
func absentGroup(f *figure.Def, s *sizing.Sizing) bool {
	switch f.Group() {
	case "coupling.insert":
		return !s.Coupling.HasInsert
	case "coupling.mid", "mids":
		return !s.Coupling.HasMid
	case "fold":
		return !s.Fold.Given
	}
	return false
}

// listing holds every figure with its trust and name.
func (p *sizeParts) listing() result.Table {
	var rows result.List
	for _, f := range size.Table {
		row := result.FigureRow(size.Cell(p.s, f.Def))
		row.Cells = append(row.Cells, result.Word(f.Name))
		rows.Add(row)
	}
	return result.Table{Shown: result.At(result.Listing), Columns: []result.Column{value, trust, {Key: "name"}}, Rows: rows.Rows()}
}
