package screen

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"gapline/cabinet/design"
	"gapline/cabinet/sizing"
	"gapline/internal/figure"
	"gapline/internal/numeric"
	"gapline/internal/quantity"
	"gapline/internal/render/terminal"
	"gapline/internal/result"
	"gapline/internal/study/size"
)

// lineWidth is the width of the screen's text, which fits a message.
const lineWidth = 96

// Size writes the screen of the size command: what fits a screen or, with all,
// every row.
func Size(w io.Writer, d *design.Design, s *sizing.Sizing, findings []result.Finding, sys quantity.System, all bool) error {
	v := sizeView{d: d, s: s, sys: sys, all: all}
	if !all {
		findings = slices.DeleteFunc(slices.Clone(findings), func(f result.Finding) bool { return f.Detail })
	}
	var b strings.Builder
	b.WriteString(v.heading())
	verdict, rest := splitVerdict(findings)
	b.WriteString(terminal.Findings(verdict, sys))
	if _, err := v.table().WriteTo(&b); err != nil {
		return err
	}
	b.WriteString(terminal.Findings(rest, sys))
	_, err := io.WriteString(w, b.String())
	return err
}

// splitVerdict takes the judgement of the gap, which stands first on the screen,
// from the other findings.
func splitVerdict(findings []result.Finding) (verdict, rest []result.Finding) {
	if len(findings) > 0 && strings.HasPrefix(findings[0].Key, "gap.") {
		return findings[:1], findings[1:]
	}
	return nil, findings
}

type sizeView struct {
	d   *design.Design
	s   *sizing.Sizing
	sys quantity.System
	all bool
}

func (v *sizeView) show(si float64, k quantity.Kind) string { return quantity.Format(si, k, v.sys) }

func (v *sizeView) heading() string {
	title := v.d.Title
	if title == "" {
		title = "untitled design"
	}
	k := &v.s.Coupling
	stack := "stack unknown"
	if numeric.Given(k.Length) {
		stack = fmt.Sprintf("%d boxes at %s pitch, a line of %s", v.d.Line.Boxes, v.show(k.Pitch, quantity.Length), v.show(k.Length, quantity.Length))
	} else if numeric.Given(k.Pitch) {
		stack = fmt.Sprintf("boxes at %s pitch", v.show(k.Pitch, quantity.Length))
	}
	return fmt.Sprintf("%s\n%s; air %s\n", title, stack, AirText(v.d, v.s, v.sys))
}

// AirText describes the air in one line.
func AirText(d *design.Design, s *sizing.Sizing, sys quantity.System) string {
	return fmt.Sprintf("%s, %s RH, c = %s", quantity.Format(d.Air.Temperature, quantity.Temperature, sys),
		quantity.Format(d.Air.Humidity, quantity.Fraction, sys), quantity.Format(s.Air.SoundSpeed, quantity.Speed, sys))
}

// columns are the lines of mouths that the design has.
func (v *sizeView) columns() (lines []figure.Line, titles []string) {
	lines, titles = []figure.Line{figure.CouplingOpen}, []string{"bare cones"}
	if v.s.Coupling.HasInsert {
		lines, titles = append(lines, figure.CouplingInsert), append(titles, "with insert")
	}
	if v.s.Coupling.HasMid {
		lines, titles = append(lines, figure.CouplingMid), append(titles, "mids")
		if !v.s.Coupling.HasInsert {
			titles[0] = "woofers"
		}
	}
	return lines, titles
}

func (v *sizeView) table() *Table {
	t := &Table{}
	lines, titles := v.columns()
	blank := make([]string, len(lines)-1)
	t.Row(cells("COUPLING", titles, "trust")...)
	v.row(t, figure.CouplingLower, blank)
	v.limitRow(t, lines, 0, func(l figure.Line) *figure.Def { return l.Spacing })
	v.limitRow(t, lines, design.HalfWave, func(l figure.Line) *figure.Def { return l.HalfWave })
	v.limitRow(t, lines, design.Lobe, func(l figure.Line) *figure.Def { return l.Lobe })
	v.limitRow(t, lines, 0, func(l figure.Line) *figure.Def { return l.FirstLobe })
	if v.all {
		v.limitRow(t, lines, 0, func(l figure.Line) *figure.Def { return l.Share })
		v.limitRow(t, lines, 0, func(l figure.Line) *figure.Def { return l.Efficiency })
	}
	if v.s.Coupling.HasInsert {
		v.insertRows(t, len(lines))
	}
	t.Row(v.hornTitle())
	v.rows(t, blank, figure.HornPatternRule, figure.HornPatternComputed, figure.HornPatternWave, figure.HornNarrowest, figure.HornNarrowestWave)
	if v.all {
		v.rows(t, blank, figure.HornCutoff)
	}
	v.rows(t, blank, figure.HornLower)
	if v.all {
		v.rows(t, blank, figure.HornSagitta)
	}
	v.rows(t, blank, figure.HornFlatTo, figure.HornFlatLobe, figure.FoldFlatToWave)
	if v.all {
		v.rows(t, blank, figure.FoldDepth, figure.FoldDepthSaved)
	}
	v.gapRows(t, blank)
	v.boxRows(t, blank)
	return t
}

// gapRows add the gap of each pair of neighbours in frequency that the design
// has.
func (v *sizeView) gapRows(t *Table, blank []string) {
	k := &v.s.Coupling
	basis := ", " + v.s.Gap.Basis.Name() + " basis"
	switch {
	case k.HasMid:
		v.named(t, "GAP woofers to mids"+basis, figure.GapWooferMid, blank)
		v.named(t, "GAP mids to horn"+basis, figure.GapOpen, blank)
	case k.HasInsert:
		v.named(t, "GAP without insert"+basis, figure.GapOpen, blank)
		v.named(t, "GAP with insert"+basis, figure.GapInsert, blank)
	default:
		v.named(t, "GAP woofers to horn"+basis, figure.GapOpen, blank)
	}
}

// boxRows add what the file gives of the low end and the price of one box.
func (v *sizeView) boxRows(t *Table, blank []string) {
	v.namedIf(t, "ONE BOX, low end at half power", figure.BoxF3, blank)
	maximum := "ONE BOX, maximum level"
	if v.s.Coupling.HasInsert {
		maximum += " without insert"
	}
	v.namedIf(t, maximum, figure.BoxMaxSPL, blank)
	if v.all {
		v.namedIf(t, "ONE BOX, cost", figure.BoxCost, blank)
	}
}

func cells(first string, middle []string, last string) []string {
	return append(append([]string{first}, middle...), last)
}

// row adds a figure that has one value.
func (v *sizeView) row(t *Table, f *figure.Def, blank []string) {
	v.named(t, v.mark(f)+f.Name, f, blank)
}

// rows adds those of the figures that the design gives enough for.
func (v *sizeView) rows(t *Table, blank []string, figures ...*figure.Def) {
	for _, f := range figures {
		v.namedIf(t, v.mark(f)+f.Name, f, blank)
	}
}

// named adds a figure under a name that fits the design.
func (v *sizeView) named(t *Table, name string, f *figure.Def, blank []string) {
	t.Row(cells(name, append([]string{v.value(f)}, blank...), v.trust(f))...)
}

// namedIf is named for a figure that may not be there.
func (v *sizeView) namedIf(t *Table, name string, f *figure.Def, blank []string) {
	if v.value(f) != "-" {
		v.named(t, name, f, blank)
	}
}

// limitRow adds a figure that each line of mouths has.
func (v *sizeView) limitRow(t *Table, lines []figure.Line, basis design.Basis, of func(figure.Line) *figure.Def) {
	var values []string
	for _, l := range lines {
		values = append(values, v.value(of(l)))
	}
	f := of(lines[0])
	mark := "  "
	if basis == v.s.Gap.Basis && !v.chamberBinds() {
		mark = "> "
	}
	t.Row(cells(mark+f.Name, values, v.trust(f))...)
}

// insertRows adds what only an insert has, in its column.
func (v *sizeView) insertRows(t *Table, columns int) {
	for _, f := range []*figure.Def{figure.CouplingInsertChamber, figure.CouplingInsertAreaRatio, figure.CouplingInsertInPhase} {
		values := make([]string, columns)
		values[1] = v.value(f)
		t.Row(cells(v.mark(f)+f.Name, values, v.trust(f))...)
	}
}

// chamberBinds reports whether the insert's chamber ends the woofers' side of the
// gap.
func (v *sizeView) chamberBinds() bool {
	k := &v.s.Coupling
	return k.HasInsert && !k.HasMid && v.s.Gap.Low == k.Insert.Chamber
}

// mark points out the two sides of the gap.
func (v *sizeView) mark(f *figure.Def) string {
	if f == figure.HornLower || f == figure.CouplingInsertChamber && v.chamberBinds() {
		return "> "
	}
	return "  "
}

// trust returns the level of a figure; one that follows the basis takes the
// basis's.
func (v *sizeView) trust(f *figure.Def) string { return size.Trust(v.s, f).String() }

func (v *sizeView) hornTitle() string {
	h := &v.d.Horn
	if !numeric.Given(h.ExitCoverage()) || !numeric.Given(h.ExitWidth()) {
		return "HORN"
	}
	exit := "a mouth"
	if h.Sides.Given() {
		exit = "side flares"
	}
	text := fmt.Sprintf("HORN, %s from %s %s wide", v.show(h.ExitCoverage(), quantity.Angle), exit, v.show(h.ExitWidth(), quantity.Length))
	if numeric.Given(h.MouthHeight) {
		text += fmt.Sprintf(", %s high", v.show(h.MouthHeight, quantity.Length))
	}
	return text
}

// value is a figure as text: words where a number would mislead.
func (v *sizeView) value(f *figure.Def) string {
	return FigureText(f, v.s, v.sys)
}

// FigureText returns a figure's value with its unit, and words for values that
// are limits: an exact cancellation, a limit that does not exist, an open or
// closed gap.
func FigureText(f *figure.Def, s *sizing.Sizing, sys quantity.System) string {
	return terminal.Cell(size.Cell(s, f), sys)
}

// OctaveText says whether a gap is open or closed: "0.51 oct open".
func OctaveText(x float64) string {
	switch {
	case math.IsNaN(x):
		return "-"
	case math.IsInf(x, -1):
		return "unlimited overlap"
	case x > 0:
		return quantity.Format(x, quantity.Octaves, quantity.Metric) + " open"
	}
	return quantity.Format(math.Abs(x), quantity.Octaves, quantity.Metric) + " overlap"
}
