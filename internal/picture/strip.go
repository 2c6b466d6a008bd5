package picture

import (
	"fmt"
	"math"
	"strings"

	"gapline/cabinet/design"
	"gapline/cabinet/sizing"
	"gapline/internal/quantity"
	"gapline/internal/screen"
	"gapline/plots"
)

// Sized is a design with its sizing, as the strip of one or several shows it.
type Sized struct {
	Design *design.Design
	Sizing sizing.Sizing
	Name   string // heading when several designs stand below each other
}

// Strip draws the frequency strip of one or more designs: where the woofers
// couple, where the horn holds its pattern, and the gap or overlap between.
func Strip(designs []Sized, sys quantity.System) plots.Strip {
	first := designs[0]
	var alt []string
	strip := plots.Strip{}
	for _, d := range designs {
		groups := stripGroups(d)
		if len(designs) > 1 {
			// Side by side, each design stands as it is given.
			groups = groups[len(groups)-1:]
			groups[0].Title = d.Name + ": " + groups[0].Title
		}
		strip.Groups = append(strip.Groups, groups...)
		alt = append(alt, stripAlt(d))
	}
	title := "Where the woofers couple and where the horn holds its pattern"
	subtitle := "gap on the half-wave rule (solid); light: lobe criterion of a straight line"
	if first.Sizing.Gap.Basis == design.Lobe {
		subtitle = "gap on the lobe criterion of a straight line (solid); light: half-wave rule"
	}
	strip.Caption = caption(title, subtitle, first.Design, &first.Sizing, trustOf(&first.Sizing), strings.Join(alt, " "), sys)
	if len(designs) > 1 {
		strip.Design = fmt.Sprintf("%d designs", len(designs))
	}
	return strip
}

// trustOf names the levels of trust on the strip.
func trustOf(s *sizing.Sizing) string {
	if s.Gap.Basis == design.Lobe {
		return "aperture"
	}
	return "rule, aperture where light"
}

// stripGroups returns one group for the bare cones and one for what stands in
// front of them or beside them; the last is the design as given.
func stripGroups(d Sized) []plots.StripGroup {
	s := &d.Sizing
	k := &s.Coupling
	open := lineOfMouths{title: "bare cones", what: "woofers", ceiling: &k.Open, from: k.Lower, cap: math.Inf(1)}
	groups := []plots.StripGroup{}
	if !k.HasMid {
		groups = append(groups, open.group(s))
	}
	if k.HasInsert {
		l := lineOfMouths{title: "with insert", what: "insert mouths", ceiling: &k.Insert.CouplingLimit, from: k.Lower, cap: k.Insert.Chamber}
		if k.HasMid {
			open = l
		} else {
			groups = append(groups, l.group(s))
		}
	}
	if k.HasMid {
		mids := lineOfMouths{title: "woofers, mids and horn", what: "mids", ceiling: &k.Mid, from: d.Design.Mid.Lowest, cap: math.Inf(1)}
		g := mids.group(s)
		g.Rows = append(open.bars(s), g.Rows...)
		groups = append(groups, g)
	}
	return groups
}

// lineOfMouths is one line against the horn. cap is a ceiling that holds on
// either basis; NaN is none.
type lineOfMouths struct {
	title, what string
	ceiling     *sizing.CouplingLimit
	from, cap   float64
}

// limits are the upper ends on the gap's basis and on the other one.
func (l *lineOfMouths) limits(s *sizing.Sizing) (basis, other float64) {
	basis, other = l.ceiling.HalfWave, l.ceiling.Lobe
	if s.Gap.Basis == design.Lobe {
		basis, other = other, basis
	}
	return capped(basis, l.cap), capped(other, l.cap)
}

func capped(limit, ceiling float64) float64 {
	if ceiling < limit {
		return ceiling
	}
	return limit
}

// bars are the two bars of the line: the gap's basis and the other limit.
func (l *lineOfMouths) bars(s *sizing.Sizing) []plots.StripRow {
	basis, other := l.limits(s)
	names := []string{"half-wave", "lobe"}
	if s.Gap.Basis == design.Lobe {
		names = []string{"lobe", "half-wave"}
	}
	from := l.from
	if math.IsNaN(from) {
		from = 0
	}
	note := func(limit float64) string {
		if limit == l.cap && !math.IsInf(limit, 1) {
			return "chamber corner"
		}
		return ""
	}
	return []plots.StripRow{
		bar(l.what+", "+names[0], from, basis, plots.SolidBar, 1, note(basis)),
		bar(l.what+", "+names[1], from, other, plots.LightBar, 1, note(other)),
	}
}

func (l *lineOfMouths) group(s *sizing.Sizing) plots.StripGroup {
	basis, _ := l.limits(s)
	return plots.StripGroup{
		Title:  l.title,
		Rows:   append(l.bars(s), bar("horn", s.Horn.Lower, math.Inf(1), plots.HatchedBar, 2, "")),
		Window: window(basis, s.Horn.Lower),
	}
}

func bar(label string, from, to float64, fill plots.BarStyle, colour int, note string) plots.StripRow {
	row := plots.StripRow{Label: label, From: from, To: to, Fill: fill, Colour: colour, Note: note}
	if math.IsNaN(from) || math.IsNaN(to) {
		row = plots.StripRow{Label: label, Missing: "not enough given"}
	}
	return row
}

// window is the gap or overlap between the coupling limit and the horn.
func window(couple, horn float64) *plots.StripWindow {
	switch oct := math.Log2(horn / couple); {
	case math.IsNaN(oct) || math.IsInf(oct, 0):
		return nil
	case oct > 0:
		return &plots.StripWindow{Low: couple, High: horn, Label: fmt.Sprintf("gap %.2f oct", oct)}
	default:
		return &plots.StripWindow{Low: horn, High: couple, Label: fmt.Sprintf("overlap %.2f oct", -oct), Overlap: true}
	}
}

func stripAlt(d Sized) string {
	g := &d.Sizing.Gap
	text := fmt.Sprintf("Frequency strip of %s: bare cones %s", d.Design.Title, screen.OctaveText(g.Open))
	if d.Sizing.Coupling.HasInsert {
		text += ", with insert " + screen.OctaveText(g.Insert)
	}
	return text + "."
}
