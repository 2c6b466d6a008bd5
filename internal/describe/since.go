package describe

import (
	"slices"
	"strings"

	"gapline/cabinet/design"
	"gapline/cabinet/sizing"
	"gapline/internal/advice"
	"gapline/internal/figure"
	"gapline/internal/numeric"
	"gapline/internal/result"
	"gapline/internal/schema"
	"gapline/internal/study/fit"
	"gapline/internal/study/size"
)

// Sinced is what changed from one revision to the next.
type Sinced struct {
	Sentences []result.Text // of what the verdict rests on: now, was, and the key that explains it
	Keys      result.Table  // that changed
	Figures   result.Table  // all that changed, with the key that explains each
	None      bool          // nothing that is computed has changed
}

// Since describes what changed from then to now. A key explains a figure where the design
// as it was, with that key alone as it is now and what follows it by the links of the file
// as it was, has the figure of now; so do all changed keys of one table, or of a few tables,
// together. data are
// the ids of both designs' JSON.
func Since(then, now Sized, links []schema.Link, data [2]string) Sinced {
	both := []Sized{then, now}
	x := explainer{then: then, now: now, links: links}
	keys := slices.DeleteFunc(keysAcross(both), func(x across) bool { return !x.differ() })
	for _, k := range keys {
		if key := schema.FindKey(k.key); key.Table() != "review" && key.Path != "title" {
			x.keys = append(x.keys, key)
		}
	}
	x.roots()
	x.size()
	figures := slices.DeleteFunc(filled(figuresAcross(both), true), func(x across) bool { return !x.differ() })
	out := Sinced{None: len(figures) == 0, Sentences: x.verdict()}
	for _, f := range decisive(now.Sizing) {
		if i := slices.IndexFunc(figures, func(a across) bool { return a.figure == f }); i >= 0 {
			out.Sentences = append(out.Sentences, x.sentence(&figures[i]))
		}
	}
	t := comparedPage("Keys that changed", "key", keys, []Sized{{Name: "now"}, {Name: "was"}}, nil)
	var rows result.List
	for row := range t.Rows {
		slices.Reverse(row.Cells)
		rows.Add(row)
	}
	t.Rows = rows.Rows()
	for i := range t.Columns {
		t.Columns[i].Left = true
	}
	out.Keys = t
	out.Figures = x.table(figures, data)
	return out
}

// decisive are the figures that are told in words.
func decisive(s *sizing.Sizing) []*figure.Def {
	var out []*figure.Def
	for _, l := range gapLevels {
		out = append(out, l.Gap)
	}
	for _, l := range gapLevels {
		out = append(out, l.Low, l.High)
	}
	return append(out, figure.BoxMaxSPL, figure.BoxF3, figure.WoofersAcross.CoversTo, figure.MidsAcross.CoversTo, figure.BoxDrivers, figure.BoxCrossovers, figure.BoxCost)
}

// explainer looks for the keys that explain changes.
type explainer struct {
	then, now Sized
	links     []schema.Link
	keys      []*schema.Key // that changed and can move a figure
	tables    []string      // of those keys
	alone     []sizing.Sizing
	together  []sizing.Sizing // of each table
	without   []sizing.Sizing // of all keys but those of each table
	some      map[string]sizing.Sizing
}

// roots leaves out keys that are as now because another one is: what follows it by a link,
// and the pitch that height and gap make.
func (x *explainer) roots() {
	var out []*schema.Key
	for _, k := range x.keys {
		if !slices.ContainsFunc(x.keys, func(other *schema.Key) bool { return x.follows(k, other) }) {
			out = append(out, k)
		}
	}
	x.keys = out
}

// follows reports whether a key has its value of now once another alone has.
func (x *explainer) follows(k, other *schema.Key) bool {
	if k == other || other.Path == "cabinet.pitch" && k.Path == "cabinet.height" {
		return false
	}
	d := x.as(other)
	return alike(keyCell(k.ValueIn(&d)), keyCell(k.ValueIn(x.now.Design)))
}

// size sizes the design as it was with each key, and with the keys of each table, as now.
func (x *explainer) size() {
	for _, k := range x.keys {
		x.alone = append(x.alone, x.with(k))
		if t := k.Table(); !slices.Contains(x.tables, t) {
			x.tables = append(x.tables, t)
		}
	}
	x.some = map[string]sizing.Sizing{}
	for i, t := range x.tables {
		x.together = append(x.together, x.with(x.of(t)...))
		x.without = append(x.without, x.with(x.of(slices.Delete(slices.Clone(x.tables), i, i+1)...)...))
	}
}

// of are the changed keys of some tables.
func (x *explainer) of(tables ...string) []*schema.Key {
	return slices.DeleteFunc(slices.Clone(x.keys), func(k *schema.Key) bool { return !slices.Contains(tables, k.Table()) })
}

// with is the sizing of the design as it was with some keys as now, and what follows them.
func (x *explainer) with(keys ...*schema.Key) sizing.Sizing {
	d := x.as(keys...)
	return sizing.Size(&d)
}

func (x *explainer) as(keys ...*schema.Key) design.Design {
	d := *x.then.Design
	for _, k := range keys {
		take(k, x.now.Design, &d)
	}
	for _, l := range schema.Acting(x.links, keys) {
		l.Apply(&d)
	}
	return d
}

// take puts a key of one design into another, or takes it away there.
func take(k *schema.Key, from, into *design.Design) {
	v := k.ValueIn(from)
	switch {
	case k.Numeric() && !numeric.Given(v.Number), v.Key.Type == schema.List && len(v.List) == 0:
		k.Clear(into)
	default:
		v.Apply(into)
	}
}

// why names the one key, or the one table of keys, that explains a figure; empty where none
// does, or where more than one would.
func (x *explainer) why(a *across) string {
	if t := a.figure.Trust; t == figure.Wave || t == figure.Measured {
		return "" // of a run or a trace of its own
	}
	if i, ok := only(x.alone, a); ok {
		return x.keys[i].Path
	}
	if i, ok := only(x.together, a); ok {
		return "the keys of [" + x.tables[i] + "] together"
	}
	return x.whyTables(a)
}

// mostTables is how many tables are named together.
const mostTables = 4

// whyTables names the tables without each of which the figure would not be as now, where
// they alone bring it there; empty where they do not.
func (x *explainer) whyTables(a *across) string {
	var names []string
	for i, t := range x.tables {
		if !alike(size.Cell(&x.without[i], a.figure), a.cells[1]) {
			names = append(names, t)
		}
	}
	if len(names) < 2 || len(names) > mostTables {
		return ""
	}
	id := strings.Join(names, " ")
	s, known := x.some[id]
	if !known {
		s = x.with(x.of(names...)...)
		x.some[id] = s
	}
	if !alike(size.Cell(&s, a.figure), a.cells[1]) {
		return ""
	}
	return x.called(names)
}

// called names the keys of some tables: a key by itself where it is the only one of its
// table.
func (x *explainer) called(tables []string) string {
	var keys, whole []string
	for _, t := range tables {
		if of := x.of(t); len(of) == 1 {
			keys = append(keys, of[0].Path)
		} else {
			whole = append(whole, "["+t+"]")
		}
	}
	text := inWords(keys)
	if len(whole) > 0 {
		text = "the keys of " + inWords(whole)
		if len(keys) > 0 {
			text += " with " + inWords(keys)
		}
	}
	return text + " together"
}

// inWords joins words: "a, b and c".
func inWords(words []string) string {
	if n := len(words); n > 1 {
		return strings.Join(words[:n-1], ", ") + " and " + words[n-1]
	}
	return strings.Join(words, "")
}

// only finds the one sizing that has a figure as now.
func only(list []sizing.Sizing, a *across) (at int, ok bool) {
	for i := range list {
		if !alike(size.Cell(&list[i], a.figure), a.cells[1]) {
			continue
		}
		if ok {
			return 0, false
		}
		at, ok = i, true
	}
	return at, ok
}

// verdict says whether the verdict on the gap has changed.
func (x *explainer) verdict() []result.Text {
	was, is := judged(x.then), judged(x.now)
	if was.Verdict == is.Verdict {
		return []result.Text{result.Say("The verdict on the gap is %s, as it was.", is.Verdict.String())}
	}
	return []result.Text{result.Say("The verdict on the gap is %s, was %s.", is.Verdict.String(), was.Verdict.String())}
}

func judged(d Sized) advice.Judgement { return advice.Judge(d.Design, d.Sizing, fit.Of(d.Design, nil)) }

// sentence tells one figure: now, was, and why.
func (x *explainer) sentence(a *across) result.Text {
	text := result.Say("%s %s, was %s", sentence(a.figure.Name), a.cells[1], a.cells[0])
	switch {
	case !a.cells[0].Given():
		text = result.Say("%s %s, "+newTo(a.figure), sentence(a.figure.Name), a.cells[1])
	case !a.cells[1].Given():
		text = result.Say("%s is gone, was %s", sentence(a.figure.Name), a.cells[0])
	}
	if why := x.why(a); why != "" {
		text = text.And(result.Say(": %s", why))
		if k := schema.FindKey(why); k != nil {
			text = text.And(result.Say(", %s, was %s", orNotGiven(k.ValueIn(x.now.Design)), orNotGiven(k.ValueIn(x.then.Design))))
		}
	}
	return text.And(result.Plain("."))
}

// newTo says why a figure of now was not there.
func newTo(f *figure.Def) string {
	switch f.Trust {
	case figure.Wave:
		return "of which no run was stored"
	case figure.Measured:
		return "of which no traces were kept"
	}
	return "which the design did not have"
}

// orNotGiven is a key's value, or that there is none.
func orNotGiven(v schema.Value) result.Cell {
	if c := keyCell(v); c.Given() {
		return c
	}
	return result.Word("not given")
}

// table lists every figure that changed.
func (x *explainer) table(figures []across, data [2]string) result.Table {
	left := headed(trust, "trust")
	left.Left = true
	t := result.Table{Shown: result.At(result.Page), Title: result.Plain("Figures that changed"), Columns: []result.Column{
		{Key: "now", Head: result.Plain("now"), Data: data[1]}, {Key: "was", Head: result.Plain("was"), Data: data[0]},
		headed(value, "change"), left, headed(result.Column{Left: true}, "explained by")}}
	var rows result.List
	for i := range figures {
		a := &figures[i]
		rows.Add(result.Row{Key: a.key, Label: result.Plain(a.figure.Name), Trust: size.Trust(x.now.Sizing, a.figure),
			Cells: []result.Cell{a.cells[1], a.cells[0], result.Phrase(change(a.figure, a.cells[0].SI, a.cells[1])), result.Word(orSeveral(x.why(a), a.figure))}})
	}
	t.Rows = rows.Rows()
	return t
}

func orSeveral(why string, f *figure.Def) string {
	switch {
	case why != "":
		return why
	case f.Trust == figure.Wave:
		return "its own run"
	case f.Trust == figure.Measured:
		return "its own traces"
	}
	return "several keys"
}
