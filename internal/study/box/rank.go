package box

import (
	"cmp"
	"context"
	"math"
	"slices"

	"gapline/cabinet/design"
	"gapline/cabinet/layout"
	"gapline/cabinet/sizing"
	"gapline/driver"
	"gapline/internal/air"
	"gapline/internal/check"
	"gapline/internal/numeric"
	"gapline/internal/optional"
	"gapline/internal/wordset"
)

// Order is by what drivers are ranked.
type Order int

// The orders.
const (
	ByLevel Order = 1 + iota
	ByF3
	ByGap
	ByCost
	orderCount
)

// orders hold each order's name and what it rises with: the best driver has the
// lowest value.
var orders = [orderCount]struct {
	name string
	of   func(*sizing.Sizing) float64
}{
	ByLevel: {"level", func(s *sizing.Sizing) float64 { return -s.Box.MaxLevel }},
	ByF3:    {"f3", func(s *sizing.Sizing) float64 { return s.Box.F3 }},
	ByGap:   {"gap", func(s *sizing.Sizing) float64 { return s.Gap.AsGiven() }},
	ByCost:  {"cost", func(s *sizing.Sizing) float64 { return s.Box.Cost }},
}

// Name returns the order's name.
func (o Order) Name() string { return wordset.Row(orders[:], o).name }

// Contender is the design with one driver in it, or why there is no such design.
type Contender struct {
	File    string // of the driver, without folder
	Title   string
	Design  design.Design
	Reasons []string // why the file gives no driver; nil where it does
}

// Candidate is one driver in the design's cabinet.
type Candidate struct {
	File           string // name without folder
	Title          string
	Sizing         sizing.Sizing
	Contradictions []driver.Contradiction // of its parameters
}

// Refusal is a driver file that cannot be ranked, and why.
type Refusal struct {
	File    string
	Misfit  bool     // it is whole, but its parts cannot be built together
	Reasons []string // each with file and line where there is one
}

// Ranking is a number of drivers in one cabinet.
type Ranking struct {
	At      float64 // frequency at which all are judged, Hz; NaN: each at its own f3
	By      Order
	Ranked  []Candidate
	Refused []Refusal
}

// Rank sizes the design with every driver and sorts them: the best of the chosen
// order first, ties by level, f3 and gap, drivers without a value last. All are
// judged at the frequency that the base design names, else at the f3 of its own
// woofer. The error says that ctx ended.
func Rank(ctx context.Context, base *design.Design, contenders []Contender, by Order) (*Ranking, error) {
	r := &Ranking{At: base.LevelAt(), By: by}
	if !numeric.Given(r.At) {
		own := sizing.Size(base)
		r.At = own.Box.F3
	}
	for i := range contenders {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		x := &contenders[i]
		c, refusal := candidate(x, r.At)
		if refusal != nil {
			r.Refused = append(r.Refused, *refusal)
			continue
		}
		r.Ranked = append(r.Ranked, c)
	}
	slices.SortStableFunc(r.Ranked, func(a, b Candidate) int { return compare(&a, &b, by) })
	return r, nil
}

// candidate sizes one contender, or says why not.
func candidate(x *Contender, at float64) (Candidate, *Refusal) {
	no := Refusal{File: x.File, Reasons: x.Reasons}
	if x.Reasons != nil {
		return Candidate{}, &no
	}
	d := x.Design
	d.Targets.LevelAt = optional.Of(at)
	for _, p := range check.Design(&d) {
		no.Reasons = append(no.Reasons, p.Text)
	}
	no.Misfit = no.Reasons == nil
	for _, m := range layout.New(&d).Misfits() {
		no.Reasons = append(no.Reasons, "misfit: "+m.Of.String())
	}
	complete, err := d.Woofer.Derive(air.Of(d.Air))
	if _, setupErr := check.BoxSetup(&d); setupErr != nil && len(no.Reasons) == 0 {
		no.Misfit, no.Reasons = false, append(no.Reasons, setupErr.Error())
	}
	if no.Reasons != nil {
		return Candidate{}, &no
	}
	c := Candidate{File: x.File, Title: x.Title, Sizing: sizing.Size(&d)}
	if err == nil {
		c.Contradictions = complete.Contradictions
	}
	return c, nil
}

// Value returns what a candidate is ranked by, SI; NaN where it does not exist.
func (o Order) Value(s *sizing.Sizing) float64 {
	v := orders[o].of(s)
	if o == ByLevel {
		return -v
	}
	return v
}

// compare orders two candidates; what does not exist comes last.
func compare(a, b *Candidate, by Order) int {
	rise := func(o Order) int {
		x, y := orders[o].of(&a.Sizing), orders[o].of(&b.Sizing)
		if math.IsNaN(x) != math.IsNaN(y) {
			if math.IsNaN(x) {
				return 1
			}
			return -1
		}
		return cmp.Compare(x, y)
	}
	return cmp.Or(rise(by), rise(ByLevel), rise(ByF3), rise(ByGap), cmp.Compare(a.File, b.File))
}
