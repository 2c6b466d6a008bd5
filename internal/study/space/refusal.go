package space

import (
	"slices"

	"gapline/cabinet/design"
	"gapline/cabinet/layout"
	"gapline/internal/check"
)

// Refusal is why a design cannot exist: values that contradict each other, a value out
// of its range that follows others, or a misfit.
type Refusal struct {
	Keys   []string      // of a contradiction: the keys it is between
	Misfit layout.Reason // without keys
	Text   string
}

// Error says it in words.
func (r *Refusal) Error() string { return r.Text }

// misfit reports whether the design could exist and cannot be built.
func (r *Refusal) misfit() bool { return len(r.Keys) == 0 }

// same reports whether two designs are refused for the same reason.
func (r *Refusal) same(o *Refusal) bool {
	return slices.Equal(r.Keys, o.Keys) && r.Misfit == o.Misfit
}

// refused is the first reason why the design cannot exist that is not let pass; nil
// where it can.
func (s *Space) refused(d *design.Design) *Refusal {
	for _, p := range check.Design(d) {
		if r := (&Refusal{Keys: p.Keys, Text: p.Text}); !s.passes(r) {
			return r
		}
	}
	if !s.MustFit {
		return nil
	}
	for _, m := range layout.New(d).Misfits() {
		if r := (&Refusal{Misfit: m.Of, Text: "misfit: " + m.Of.String()}); !s.passes(r) {
			return r
		}
	}
	return nil
}

func (s *Space) passes(r *Refusal) bool { return slices.ContainsFunc(s.LetPass, r.same) }
