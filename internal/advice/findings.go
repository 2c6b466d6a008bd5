package advice

import (
	"math"

	"gapline/cabinet/design"
	"gapline/cabinet/sizing"
	"gapline/internal/figure"
	"gapline/internal/numeric"
	"gapline/internal/quantity"
	"gapline/internal/result"
	"gapline/internal/schema"
	"gapline/internal/study/fit"
)

// Findings judges the sizing against the design's targets, proposes changes and
// names limits.
// A design that cannot be built has no target met, and only changes that make it fit are
// proposed.
func Findings(d *design.Design, s *sizing.Sizing, fits *fit.Fit) []result.Finding {
	f := finder{d: d, s: s, judged: Judge(d, s, fits), links: fits.Links}
	f.gap()
	f.handover()
	f.crossovers()
	f.lowEnd()
	f.flatness()
	f.fold()
	f.insert()
	f.lobes()
	f.cones()
	f.hornLimit()
	f.across()
	f.missing()
	f.level()
	f.out = append(f.out, MisfitNotes(d, fits)...)
	if len(fits.Misfits) > 0 {
		f.nothingMet()
	}
	f.add(result.Caution, "line.boxes", SuspensionCaution)
	if numeric.Given(s.Box.MaxLevel) {
		f.add(result.Caution, figure.BoxMaxSPL.Key, LoudnessCaution)
	}
	return f.out
}

// nothingMet turns what is met into notes: the figures are those of a box that cannot be
// built.
func (f *finder) nothingMet() {
	for i := range f.out {
		if f.out[i].Severity == result.Met {
			f.out[i].Severity = result.Note
		}
	}
}

// Unmet reports whether any finding is a target that is not met, or of which it is not
// certain that it is.
func Unmet(findings []result.Finding) bool {
	for _, f := range findings {
		switch f.Severity {
		case result.Missed, result.Divided, result.Unknown:
			return true
		}
	}
	return false
}

// list collects findings.
type list struct{ out []result.Finding }

// add appends a finding about a figure or a key of the design file. The verbs of
// form are %s; args are strings, cells and texts.
func (l *list) add(sev result.Severity, key, form string, args ...any) {
	l.out = append(l.out, result.Finding{Severity: sev, Key: key, Text: result.Say(form, args...)})
}

// detail adds a note that puts a figure into words.
func (l *list) detail(key, form string, args ...any) {
	l.add(result.Note, key, form, args...)
	l.out[len(l.out)-1].Detail = true
}

// finder judges a design by its sizing.
type finder struct {
	list
	d      *design.Design
	s      *sizing.Sizing
	judged Judgement
	links  []schema.Link
}

// Numbers in texts, SI.

func hertz(f float64) result.Cell   { return result.Num(f, quantity.Frequency) }
func length(m float64) result.Cell  { return result.Num(m, quantity.Length) }
func angle(rad float64) result.Cell { return result.Num(rad, quantity.Angle) }
func level(db float64) result.Cell  { return result.Num(db, quantity.Level) }
func speed(v float64) result.Cell   { return result.Num(v, quantity.Speed) }
func volume(v float64) result.Cell  { return result.Num(v, quantity.Volume) }

// octaves is the width of a gap or an overlap, whichever the text says it is.
func octaves(oct float64) result.Cell {
	return result.Num(math.Abs(oct), quantity.Octaves).As(quantity.Style{Verb: "%.2f"})
}

// exactly is a number as the design file gives it, with all its digits.
func exactly(si float64, k quantity.Kind) result.Cell {
	return result.Num(si, k).As(quantity.Style{Verb: "%.14g"})
}

// lobeTarget is the level that lobes are to stay under.
func (f *finder) lobeTarget() result.Cell {
	return exactly(f.d.Targets.LobeLevel.Or(design.DefaultLobeLevel), quantity.Level)
}
