package fit

import (
	"gapline/cabinet/design"
	"gapline/cabinet/layout"
	"gapline/cabinet/sizing"
	"gapline/internal/schema"
)

// Fit is what of a design cannot be built together.
type Fit struct {
	Layout  *layout.Layout
	Misfits []Conflict // between stated values
	Notes   []Conflict // that rest on something not stated

	Links []schema.Link // of the file
	// Runs tells what stored runs of the wave level say of a changed design; nil: none are
	// looked for.
	Runs func(*design.Design) sizing.WaveSizing
}

// Conflict is one of the layout with the keys of the file that it is between.
type Conflict struct {
	layout.Conflict
	Keys []string // of a note the first is the one that settles it
	Mend *Mend    // nil: no single key mends it
}

// Mend is the value of one key with which the conflict is gone, and all others that the key
// mends; one printed step beyond it one of them returns.
type Mend struct {
	Key   *schema.Key
	Value float64 // SI
	Bound Bound
	Of    int // conflicts that it mends; they share the mend
}

// Bound says on which side of its value a mending key has room.
type Bound uint8

// The bounds.
const (
	Most  Bound = iota // the value is the most that fits
	Least              // the least that fits
)

// String returns the word in JSON.
func (b Bound) String() string { return [...]string{"most", "least"}[b] }

// Setting is the mend as --set takes it.
func (m *Mend) Setting() string { return m.Key.Path + "=" + m.Key.Canonical(m.Value) }

// Of finds every conflict of a design whose keys follow each other by the links, and
// what mends each misfit.
func Of(d *design.Design, links []schema.Link) *Fit {
	f := &Fit{Layout: layout.New(d), Links: links}
	t := trier{design: d, links: links, layout: f.Layout}
	for _, c := range f.Layout.Conflicts {
		out := Conflict{Conflict: c}
		if c.Certain() {
			out.Keys = candidates(f.Layout, &c, d)
			f.Misfits = append(f.Misfits, out)
			continue
		}
		out.Keys = []string{settles(f.Layout, &c)}
		f.Notes = append(f.Notes, out)
	}
	t.mendAll(f.Misfits)
	return f
}
