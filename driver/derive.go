package driver

import (
	"fmt"
	"math"
	"math/bits"
	"strings"

	"gapline/internal/air"
	"gapline/internal/numeric"
	"gapline/internal/optional"
)

// Complete is a full set of parameters: what was given, and the rest derived.
type Complete struct {
	Parameters
	Air            air.Air
	Given          []string        // keys that the caller gave
	Derived        []string        // keys that were computed
	Contradictions []Contradiction // given values that do not fit together
	Notes          []string        // assumptions made, and what is missing for which result
}

// Contradiction is a relation that given values break by more than
// ContradictionLimit.
type Contradiction struct {
	Key       string   // the value that the others predict
	Value     float64  // as given or derived from other given values, SI
	Predicted float64  // by the others, SI
	Keys      []string // the given keys involved
}

// ContradictionLimit is the relative difference above which values contradict.
const ContradictionLimit = 0.05

func (c Contradiction) String() string {
	return fmt.Sprintf("%s contradict each other: %s is %.4g but the others give %.4g (%+.1f %%)",
		strings.Join(c.Keys, ", "), c.Key, c.Value, c.Predicted, 100*(c.Predicted/c.Value-1))
}

// Err returns an error that lists the contradictions, or nil.
func (c Complete) Err() error {
	if len(c.Contradictions) == 0 {
		return nil
	}
	lines := make([]string, len(c.Contradictions))
	for i, x := range c.Contradictions {
		lines[i] = x.String()
	}
	return fmt.Errorf("driver parameters: %s", strings.Join(lines, "; "))
}

// InsufficientError says what a set of parameters lacks.
type InsufficientError struct {
	Known   []string   // keys given or derivable
	Options [][]string // each entry is a smallest set of further keys that would do
}

func (e *InsufficientError) Error() string {
	options := make([]string, 0, len(e.Options))
	for _, o := range e.Options {
		options = append(options, strings.Join(o, " + "))
	}
	return fmt.Sprintf("the driver's parameters do not suffice for a box response: give also %s", strings.Join(options, ", or "))
}

// Derive completes p in the given air. Any set suffices from which the
// relations of Small 1972 fix the rest: fs, Qes, Qms, Vas, Sd, Re, or Mms, Cms,
// Rms, Bl, Sd, Re, or a mixture. Without Sd it is taken from the effective
// diameter, and failing that from SizeRule times the nominal size, with a note.
//
// It returns an error for impossible values and an *InsufficientError for too
// few. Contradicting values are not an error here: see Complete.Err.
func (p Parameters) Derive(a air.Air) (Complete, error) {
	if err := p.check(); err != nil {
		return Complete{}, err
	}
	d := newDerivation(p, a)
	d.propagate()
	var notes []string
	if !d.known(keySd) && p.Size.Given() {
		d.v[keyDiameter] = SizeRule * p.Size.Value()
		notes = append(notes, fmt.Sprintf("effective diameter taken as %g of the nominal size (common practice)", SizeRule))
		d.propagate()
	}
	if d.failed != "" {
		return Complete{}, fmt.Errorf("driver parameters: %s", d.failed)
	}
	if missing := d.missing(); missing != nil {
		return Complete{}, missing
	}
	c := Complete{Parameters: p, Air: a, Notes: notes, Contradictions: d.contradictions()}
	for k, f := range c.related() {
		if f.value.Given() {
			c.Given = append(c.Given, f.key)
			continue
		}
		*f.value = optional.Of(d.v[k])
		c.Derived = append(c.Derived, f.key)
	}
	for _, f := range c.others() {
		if f.value.Given() {
			c.Given = append(c.Given, f.key)
		}
	}
	c.Notes = append(c.Notes, c.absentNotes()...)
	return c, nil
}

// absentNotes says which results are out of reach or simplified.
func (c *Complete) absentNotes() []string {
	var notes []string
	if !c.Le.Given() {
		notes = append(notes, "le not given: the voice coil's inductance is left out")
	}
	if !c.Xmax.Given() {
		notes = append(notes, "xmax not given: no displacement limit")
	}
	if !c.Power.Given() {
		notes = append(notes, "power not given: no power limit")
	}
	return notes
}

// derivation is the state of one Derive: values, and for each the set of given
// keys that it came from.
type derivation struct {
	air    air.Air
	v      values
	from   [keyCount]uint32
	rules  []relation
	failed string
}

func newDerivation(p Parameters, a air.Air) *derivation {
	d := &derivation{air: a, rules: propagated(a)}
	for k := range d.v {
		d.v[k] = numeric.Absent
	}
	for k, f := range p.related() {
		d.v[k] = f.value.Value()
		if f.value.Given() {
			d.from[k] = 1 << k
		}
	}
	return d
}

func (d *derivation) known(k int) bool { return numeric.Given(d.v[k]) }

// propagate applies every relation with one unknown until nothing changes.
func (d *derivation) propagate() {
	for changed := true; changed && d.failed == ""; {
		changed = false
		for i := range d.rules {
			if d.apply(&d.rules[i]) {
				changed = true
			}
		}
	}
}

// apply solves r when exactly one of its keys is unknown.
func (d *derivation) apply(r *relation) bool {
	unknown := -1
	var from uint32
	for i, k := range r.keys {
		from |= d.from[k]
		if d.known(k) {
			continue
		}
		if unknown >= 0 {
			return false
		}
		unknown = i
	}
	if unknown < 0 {
		return false
	}
	x := r.solve(&d.v, unknown)
	if !(x > 0) || math.IsInf(x, 0) {
		d.failed = fmt.Sprintf("no driver has this combination of %s", strings.Join(names(from), ", "))
		return false
	}
	d.v[r.keys[unknown]] = x
	d.from[r.keys[unknown]] = from
	return true
}

// names lists the keys of a set.
func names(set uint32) []string {
	var p Parameters
	var out []string
	for k, f := range p.related() {
		if set&(1<<k) != 0 {
			out = append(out, f.key)
		}
	}
	return out
}

// contradictions tests the canonical relations on the completed values.
func (d *derivation) contradictions() []Contradiction {
	var out []Contradiction
	all := names(1<<relatedCount - 1)
	seen := map[uint32]bool{}
	for _, r := range canonical(d.air) {
		predicted := r.solve(&d.v, 0)
		value := d.v[r.keys[0]]
		if math.Abs(predicted-value) <= ContradictionLimit*value {
			continue
		}
		var from uint32
		for _, k := range r.keys {
			from |= d.from[k]
		}
		if seen[from] {
			continue
		}
		seen[from] = true
		out = append(out, Contradiction{Key: all[r.keys[0]], Value: value, Predicted: predicted, Keys: names(from)})
	}
	return out
}

// missing returns nil when every related parameter is known, and otherwise an
// error with the smallest additions that would complete the set.
func (d *derivation) missing() error {
	start := uint32(0)
	for k := range d.v {
		if d.known(k) {
			start |= 1 << k
		}
	}
	const all = 1<<relatedCount - 1
	if start&all == all {
		return nil
	}
	e := &InsufficientError{Known: names(start)}
	for size := 1; size <= relatedCount && e.Options == nil; size++ {
		for set := uint32(1); set <= all; set++ {
			if bits.OnesCount32(set) == size && set&start == 0 && d.closure(start|set)&all == all {
				e.Options = append(e.Options, names(set))
			}
		}
	}
	const most = 6 // a longer list helps nobody
	e.Options = e.Options[:min(len(e.Options), most)]
	return e
}

// closure returns the keys that follow from the known ones, whatever the
// values.
func (d *derivation) closure(known uint32) uint32 {
	for {
		before := known
		for _, r := range d.rules {
			missing := uint32(0)
			for _, k := range r.keys {
				missing |= 1 << k &^ known
			}
			if bits.OnesCount32(missing) == 1 {
				known |= missing
			}
		}
		if known == before {
			return known
		}
	}
}
