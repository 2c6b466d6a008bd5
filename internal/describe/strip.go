package describe

import (
	"fmt"
	"math"

	"gapline/cabinet/design"
	"gapline/cabinet/sizing"
	"gapline/internal/advice"
	"gapline/internal/figure"
	"gapline/internal/quantity"
	"gapline/internal/result"
)

// Sized is a design with its sizing, as several stand beside each other.
type Sized struct {
	Design *design.Design
	Sizing *sizing.Sizing
	Name   string // heading where several designs stand together
}

// Strip is the frequency strip of one or more designs: where the woofers couple, where
// the horn holds its pattern, and the gap or overlap between.
func Strip(designs []Sized) result.Strip {
	first := designs[0]
	out := result.Strip{Shown: result.At(result.Drawn | result.Page)}
	var alt result.Text
	above := false
	for i, d := range designs {
		groups := stripGroups(d)
		if len(designs) > 1 {
			// Side by side, each design stands as it is given.
			groups = groups[len(groups)-1:]
			groups[0].Title = d.Name + ": " + groups[0].Title
		} else {
			n := len(groups)
			groups = append(groups, levelGroups(d, &groups[n-1])...)
			above = len(groups) > n
		}
		out.Groups = append(out.Groups, groups...)
		if i > 0 {
			alt = alt.And(result.Plain(" "))
		}
		alt = alt.And(stripAlt(d))
	}
	c := result.Caption{ID: "strip", Title: "Where the woofers couple and where the horn holds its pattern", Alt: alt,
		Page:     "Where the woofers couple, where the horn holds its pattern, and the gap or overlap between",
		Subtitle: result.Plain("gap on the half-wave rule (solid); light: lobe criterion of a straight line"), Trust: "rule, aperture where light"}
	if first.Sizing.Gap.Basis == design.Lobe {
		c.Subtitle, c.Trust = result.Plain("gap on the lobe criterion of a straight line (solid); light: half-wave rule"), "aperture"
	}
	if above { // the groups name their levels of trust
		c.Trust = "as headed"
		if first.Sizing.Gap.Basis != design.Lobe {
			c.Trust += ", aperture where light"
		}
	}
	if !unlike(designs, gapConditions[:1]).Empty() {
		c.Subtitle, c.Trust = result.Plain("gap on the criterion of each design (solid); light: on the other one"), "rule, aperture"
	}
	out.Caption = captionedAll(withUnlike(c, designs, gapConditions), designs)
	return out
}

// captionedAll adds the design, or how many there are, and the air, where all have the
// same.
func captionedAll(c result.Caption, designs []Sized) result.Caption {
	c = captioned(c, designs[0].Design, designs[0].Sizing)
	if len(designs) > 1 {
		c.Design = fmt.Sprintf("%d designs", len(designs))
		if !unlike(designs, airConditions).Empty() {
			c.Air = result.Plain("of each design")
		}
	}
	return c
}

// stripGroups returns one group for the bare cones and one for what stands in front of
// them or beside them; the last is the design as given.
func stripGroups(d Sized) []result.StripGroup {
	s := d.Sizing
	k := &s.Coupling
	open := lineOfMouths{title: "bare cones", what: "woofers", limit: &k.Open, from: k.Lower, chamber: math.Inf(1)}
	insert := lineOfMouths{title: "with insert", what: "insert mouths", limit: &k.Insert.CouplingLimit, from: k.Lower, chamber: least(s.Gap.Basis.Choose(k.Insert.Chamber, k.Insert.Coupled), s.Gap.Basis.Choose(k.Insert.InPhase, k.Insert.Part))}
	if !k.HasMid {
		groups := []result.StripGroup{open.group(s)}
		if k.HasInsert {
			groups = append(groups, insert.group(s))
		}
		return groups
	}
	woofers := open
	if k.HasInsert {
		woofers = insert
	}
	mids := lineOfMouths{title: "woofers, mids and horn", what: "mids", limit: &k.Mid, from: d.Design.Mid.Lowest.Value(), chamber: math.Inf(1)}
	g := mids.group(s)
	g.Rows = append(woofers.bars(s), g.Rows...)
	return []result.StripGroup{g}
}

// levelGroups are the levels of trust above that of the gap's basis, for the design as
// given, one under the other; given, its group on the basis, is told its level.
func levelGroups(d Sized, given *result.StripGroup) []result.StripGroup {
	s := d.Sizing
	basis, what, from := sizing.ByRule, "woofers", s.Coupling.Lower
	if s.Gap.Basis == design.Lobe {
		basis = sizing.ByAperture
	}
	switch {
	case s.Coupling.HasMid:
		what, from = "mids", d.Design.Mid.Lowest.Value()
	case s.Coupling.HasInsert:
		what = "insert mouths"
	}
	if math.IsNaN(from) {
		from = 0
	}
	levels := sizing.Levels(d.Design, s)
	var out []result.StripGroup
	for l := basis + 1; l < sizing.LevelCount; l++ {
		g := &levels[l]
		if !g.Given || math.IsNaN(g.Gap) {
			continue
		}
		below, horn := bar(what, from, g.Low.Hz, result.SolidFill, 1), bar("horn", g.High.Hz, math.Inf(1), result.HatchedFill, 2)
		below.Within, horn.Within = uncertain(&g.Low), uncertain(&g.High)
		if g.Low.By > sizing.Lobe {
			below.Note = result.Plain(advice.LimitWords[g.Low.By])
		}
		if g.High.By > sizing.PatternWave {
			horn.Note = result.Plain(advice.LimitWords[g.High.By])
		}
		out = append(out, result.StripGroup{Title: advice.By(l), Window: window(g.Low.Hz, g.High.Hz), Rows: []result.StripRow{below, horn}})
	}
	if len(out) > 0 {
		given.Title += ", " + advice.By(basis)
	}
	return out
}

// uncertain is between what an end lies where its level leaves it uncertain.
func uncertain(b *sizing.Bound) (out [2]float64) {
	if b.From < b.To {
		out = [2]float64{b.From, b.To}
	}
	return out
}

// lineOfMouths is one line against the horn. chamber is a limit that holds on either
// basis, in Hz.
type lineOfMouths struct {
	title, what   string
	limit         *sizing.CouplingLimit
	from, chamber float64
}

// limits are the upper ends on the gap's basis and on the other one.
func (l *lineOfMouths) limits(s *sizing.Sizing) (basis, other float64) {
	basis, other = l.limit.HalfWave, l.limit.Lobe
	if s.Gap.Basis == design.Lobe {
		basis, other = other, basis
	}
	return l.capped(basis), l.capped(other)
}

func (l *lineOfMouths) capped(limit float64) float64 {
	if l.chamber < limit {
		return l.chamber
	}
	return limit
}

// bars are the two bars of the line: the gap's basis and the other limit.
func (l *lineOfMouths) bars(s *sizing.Sizing) []result.StripRow {
	basis, other := l.limits(s)
	names := []string{"half-wave", "lobe"}
	if s.Gap.Basis == design.Lobe {
		names = []string{"lobe", "half-wave"}
	}
	from := l.from
	if math.IsNaN(from) {
		from = 0
	}
	return []result.StripRow{
		l.bar(names[0], from, basis, result.SolidFill),
		l.bar(names[1], from, other, result.LightFill),
	}
}

func (l *lineOfMouths) bar(name string, from, to float64, fill result.Fill) result.StripRow {
	row := bar(l.what+", "+name, from, to, fill, 1)
	if to == l.chamber && !math.IsInf(to, 1) {
		row.Note = result.Plain("chamber corner")
	}
	return row
}

func (l *lineOfMouths) group(s *sizing.Sizing) result.StripGroup {
	basis, _ := l.limits(s)
	return result.StripGroup{Title: l.title, Window: window(basis, s.Horn.Lower),
		Rows: append(l.bars(s), bar("horn", s.Horn.Lower, math.Inf(1), result.HatchedFill, 2))}
}

// least is the lower of two limits that are known.
func least(a, b float64) float64 {
	switch {
	case math.IsNaN(a):
		return b
	case math.IsNaN(b):
		return a
	}
	return math.Min(a, b)
}

func bar(label string, from, to float64, fill result.Fill, colour int) result.StripRow {
	if math.IsNaN(from) || math.IsNaN(to) {
		return result.StripRow{Label: label, Missing: "not enough given"}
	}
	return result.StripRow{Label: label, From: from, To: to, Fill: fill, Colour: colour}
}

// hundredths is a gap or an overlap in octaves.
func hundredths(oct float64) result.Cell {
	return result.Num(oct, quantity.Octaves).As(quantity.Style{Verb: "%.2f"})
}

// window is the gap or overlap between the coupling limit and the horn, in Hz.
func window(couple, horn float64) *result.StripWindow {
	switch oct := math.Log2(horn / couple); {
	case math.IsNaN(oct) || math.IsInf(oct, 0):
		return nil
	case oct > 0:
		return &result.StripWindow{Low: couple, High: horn, Label: result.Say("gap %s", hundredths(oct))}
	default:
		return &result.StripWindow{Low: horn, High: couple, Label: result.Say("overlap %s", hundredths(-oct)), Overlap: true}
	}
}

func stripAlt(d Sized) result.Text {
	g := &d.Sizing.Gap
	text := result.Say("Frequency strip of %s: bare cones %s", d.Design.Title, result.Fig(figure.GapOpen, g.Open))
	if d.Sizing.Coupling.HasInsert {
		text = text.And(result.Say(", with insert %s", result.Fig(figure.GapInsert, g.Insert)))
	}
	return text.And(result.Plain("."))
}

// StripSince is the strip of a design with its bars as they stood in an earlier state
// outlined: those of the same line of mouths or the horn, under the same title.
func StripSince(now, before Sized) result.Strip {
	out, old := Strip([]Sized{now}), Strip([]Sized{before})
	out.Alt = result.Text{} // the picture's own words tell of both states
	was := map[[2]string]*result.StripRow{}
	for _, g := range old.Groups {
		for i := range g.Rows {
			was[[2]string{g.Title, g.Rows[i].Label}] = &g.Rows[i]
		}
	}
	for _, g := range out.Groups {
		for i := range g.Rows {
			r := &g.Rows[i]
			if b := was[[2]string{g.Title, r.Label}]; b != nil && b.Missing == "" && r.Missing == "" && b.To > b.From && (b.From != r.From || b.To != r.To) {
				r.Was = [2]float64{b.From, b.To}
			}
		}
	}
	return out
}
