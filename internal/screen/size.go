package screen

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"gapline/cabinet"
	"gapline/internal/numeric"
	"gapline/internal/quantity"
)

// lineWidth is the width of the screen's text, which survives a mail.
const lineWidth = 96

// Size writes the screen of the size command: what a mail needs or, with all,
// every row.
func Size(w io.Writer, d *cabinet.Design, s *cabinet.Sizing, findings []cabinet.Finding, sys quantity.System, all bool) error {
	v := sizeView{d: d, s: s, sys: sys, all: all}
	if !all {
		findings = slices.DeleteFunc(slices.Clone(findings), func(f cabinet.Finding) bool { return f.Detail })
	}
	var b strings.Builder
	b.WriteString(v.heading())
	verdict, rest := splitVerdict(findings)
	b.WriteString(findingText(verdict))
	if _, err := v.table().WriteTo(&b); err != nil {
		return err
	}
	b.WriteString(findingText(rest))
	_, err := io.WriteString(w, b.String())
	return err
}

// splitVerdict takes the judgement of the gap, which stands first on the screen,
// from the other findings.
func splitVerdict(findings []cabinet.Finding) (verdict, rest []cabinet.Finding) {
	if len(findings) > 0 && strings.HasPrefix(findings[0].Key, "gap.") {
		return findings[:1], findings[1:]
	}
	return nil, findings
}

type sizeView struct {
	d   *cabinet.Design
	s   *cabinet.Sizing
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
func AirText(d *cabinet.Design, s *cabinet.Sizing, sys quantity.System) string {
	return fmt.Sprintf("%s, %s RH, c = %s", quantity.Format(d.Air.Temperature, quantity.Temperature, sys),
		quantity.Format(d.Air.Humidity, quantity.Fraction, sys), quantity.Format(s.Air.SoundSpeed, quantity.Speed, sys))
}

// columns are the lines of mouths that the design has.
func (v *sizeView) columns() (groups, titles []string) {
	groups, titles = []string{"coupling.open"}, []string{"bare cones"}
	if v.s.Coupling.HasInsert {
		groups, titles = append(groups, "coupling.insert"), append(titles, "with insert")
	}
	if v.s.Coupling.HasMid {
		groups, titles = append(groups, "coupling.mid"), append(titles, "mids")
		if !v.s.Coupling.HasInsert {
			titles[0] = "woofers"
		}
	}
	return groups, titles
}

func (v *sizeView) table() *Table {
	t := &Table{}
	groups, titles := v.columns()
	blank := make([]string, len(groups)-1)
	t.Row(cells("COUPLING", titles, "trust")...)
	v.row(t, "coupling.lower_hz", blank)
	v.ceilingRow(t, groups, "spacing_m", "")
	v.ceilingRow(t, groups, "half_wave_hz", cabinet.HalfWave)
	v.ceilingRow(t, groups, "lobe_hz", cabinet.Lobe)
	v.ceilingRow(t, groups, "first_lobe_db", "")
	if v.all {
		v.ceilingRow(t, groups, "share", "")
		v.ceilingRow(t, groups, "efficiency", "")
	}
	if v.s.Coupling.HasInsert {
		v.insertRows(t, len(groups))
	}
	t.Row(v.hornTitle())
	v.rows(t, blank, "horn.pattern_rule_hz", "horn.pattern_computed_hz", "horn.pattern_wave_hz", "horn.narrowest_deg", "horn.narrowest_wave_deg")
	if v.all {
		v.rows(t, blank, "horn.cutoff_hz")
	}
	v.rows(t, blank, "horn.lower_hz")
	if v.all {
		v.rows(t, blank, "horn.sagitta_m")
	}
	v.rows(t, blank, "horn.flat_to_hz", "horn.flat_lobe_hz", "fold.flat_to_wave_hz")
	if v.all {
		v.rows(t, blank, "fold.depth_m", "fold.depth_saved_m")
	}
	v.gapRows(t, blank)
	v.boxRows(t, blank)
	return t
}

// gapRows add the gap of each pair of neighbours in frequency that the design
// has.
func (v *sizeView) gapRows(t *Table, blank []string) {
	k := &v.s.Coupling
	basis := ", " + v.s.Gap.Basis + " basis"
	switch {
	case k.HasMid:
		v.named(t, "GAP woofers to mids"+basis, "gap.woofer_mid_oct", blank)
		v.named(t, "GAP mids to horn"+basis, "gap.open_oct", blank)
	case k.HasInsert:
		v.named(t, "GAP without insert"+basis, "gap.open_oct", blank)
		v.named(t, "GAP with insert"+basis, "gap.insert_oct", blank)
	default:
		v.named(t, "GAP woofers to horn"+basis, "gap.open_oct", blank)
	}
}

// boxRows add what the file gives of the low end and the price of one box.
func (v *sizeView) boxRows(t *Table, blank []string) {
	v.namedIf(t, "ONE BOX, low end at half power", "box.f3_hz", blank)
	maximum := "ONE BOX, maximum level"
	if v.s.Coupling.HasInsert {
		maximum += " without insert"
	}
	v.namedIf(t, maximum, "box.max_spl_db", blank)
	if v.all {
		v.namedIf(t, "ONE BOX, cost", "box.cost", blank)
	}
}

func cells(first string, middle []string, last string) []string {
	return append(append([]string{first}, middle...), last)
}

// row adds a figure that has one value.
func (v *sizeView) row(t *Table, key string, blank []string) {
	v.named(t, v.mark(key)+cabinet.FindFigure(key).Name, key, blank)
}

// rows adds those of the figures that the design gives enough for.
func (v *sizeView) rows(t *Table, blank []string, keys ...string) {
	for _, key := range keys {
		v.namedIf(t, v.mark(key)+cabinet.FindFigure(key).Name, key, blank)
	}
}

// named adds a figure under a name that fits the design.
func (v *sizeView) named(t *Table, name, key string, blank []string) {
	t.Row(cells(name, append([]string{v.value(key)}, blank...), v.trust(cabinet.FindFigure(key)))...)
}

// namedIf is named for a figure that may not be there.
func (v *sizeView) namedIf(t *Table, name, key string, blank []string) {
	if v.value(key) != "-" {
		v.named(t, name, key, blank)
	}
}

// ceilingRow adds a figure that each line of mouths has.
func (v *sizeView) ceilingRow(t *Table, groups []string, leaf, basis string) {
	var values []string
	for _, g := range groups {
		key := g + "." + leaf
		if leaf == "first_lobe_db" && g == "coupling.insert" {
			key = g + ".residual_lobe_db"
		}
		values = append(values, v.value(key))
	}
	f := cabinet.FindFigure(groups[0] + "." + leaf)
	mark := "  "
	if basis == v.s.Gap.Basis && !v.chamberBinds() {
		mark = "> "
	}
	t.Row(cells(mark+f.Name, values, v.trust(f))...)
}

// insertRows adds what only an insert has, in its column.
func (v *sizeView) insertRows(t *Table, columns int) {
	for _, key := range []string{"coupling.insert.chamber_hz", "coupling.insert.area_ratio", "coupling.insert.in_phase_hz"} {
		f := cabinet.FindFigure(key)
		values := make([]string, columns)
		values[1] = v.value(key)
		t.Row(cells(v.mark(key)+f.Name, values, v.trust(f))...)
	}
}

// chamberBinds reports whether the insert's chamber ends the woofers' side of the
// gap.
func (v *sizeView) chamberBinds() bool {
	k := &v.s.Coupling
	return k.HasInsert && !k.HasMid && v.s.Gap.Low == k.Insert.Chamber
}

// mark points out the two sides of the gap.
func (v *sizeView) mark(key string) string {
	if key == "horn.lower_hz" || key == "coupling.insert.chamber_hz" && v.chamberBinds() {
		return "> "
	}
	return "  "
}

// trust returns the level of a figure; one that follows the basis takes the
// basis's.
func (v *sizeView) trust(f *cabinet.Figure) string { return string(v.s.LevelOf(f)) }

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
func (v *sizeView) value(key string) string {
	return FigureText(cabinet.FindFigure(key), v.s, v.sys)
}

// FigureText returns a figure's value with its unit, and words for values that
// are limits: an exact cancellation, a limit that does not exist, an open or
// closed gap.
func FigureText(f *cabinet.Figure, s *cabinet.Sizing, sys quantity.System) string {
	x := f.Value(s)
	switch {
	case f.Key == "fold.flat_to_wave_hz" && math.IsNaN(x) && numeric.Given(s.Wave.FlatBeyond):
		return "beyond " + quantity.Format(s.Wave.FlatBeyond, f.Kind, sys)
	case math.IsNaN(x) && noControl(f.Key, s):
		return "none"
	case math.IsNaN(x):
		return "-"
	case f.Kind == quantity.Frequency && math.IsInf(x, 1):
		return "no limit"
	case f.Kind == quantity.Level && x <= -100:
		return "no lobe"
	case f.Kind == quantity.Octaves:
		return OctaveText(x)
	case strings.HasPrefix(f.Key, "fold.tolerance_"):
		return fineLength(x, sys)
	case f.Key == "horn.narrowest_deg":
		return fmt.Sprintf("%s at %s", quantity.Format(x, f.Kind, sys), quantity.Format(s.Horn.NarrowestAt, quantity.Frequency, sys))
	case f.Key == "box.max_spl_db":
		return fmt.Sprintf("%s at %s", quantity.Format(x, f.Kind, sys), quantity.Format(s.Box.LevelAt, quantity.Frequency, sys))
	case f.Key == "horn.narrowest_wave_deg":
		return fmt.Sprintf("%s at %s", quantity.Format(x, f.Kind, sys), quantity.Format(s.Wave.NarrowestAt, quantity.Frequency, sys))
	case x == 0 && (f.Key == "horn.sagitta_m" || f.Key == "fold.path_spread_m"):
		return "flat"
	}
	return noMinusZero(quantity.Format(x, f.Kind, sys))
}

// noControl reports whether a figure of the pattern does not exist because a mouth
// of that coverage does not narrow to it; the rule gives a frequency all the same.
func noControl(key string, s *cabinet.Sizing) bool {
	switch key {
	case "horn.pattern_computed_hz", "horn.rule_deviation", "horn.narrowest_deg":
		return numeric.Given(s.Horn.PatternRule)
	}
	return false
}

// noMinusZero takes the sign off a level that rounds to nothing.
func noMinusZero(s string) string {
	if s == "-0.0 dB" {
		return s[1:]
	}
	return s
}

// fineLength writes a length to a hundredth of a millimetre, as a workshop needs
// it.
func fineLength(m float64, sys quantity.System) string {
	if sys == quantity.Inch {
		return fmt.Sprintf("%.4f in", m/0.0254)
	}
	return fmt.Sprintf("%.2f mm", m*1e3)
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

// signs mark the severities in front of findings.
var signs = map[cabinet.Severity]string{
	cabinet.Miss:    "MISSED  ",
	cabinet.Met:     "MET     ",
	cabinet.Advice:  "  try   ",
	cabinet.Doubt:   "DOUBT   ",
	cabinet.Note:    "note    ",
	cabinet.Caution: "CAUTION ",
}

func findingText(findings []cabinet.Finding) string {
	var b strings.Builder
	for _, f := range findings {
		b.WriteString(Wrap(f.Text, lineWidth, signs[f.Severity], "        "))
	}
	return b.String()
}
