package advice

import (
	"math"
	"slices"

	"gapline/cabinet/section"
	"gapline/internal/numeric"
	"gapline/internal/quantity"
	"gapline/internal/result"
)

// coarse is the number of frequencies an octave below which limits between them
// are not to be relied on.
const coarse = 2.99

// PlanFindings are the notes of a horizontal section solved by the wave equation.
// The table for people shows one frequency in step.
func PlanFindings(c *section.PlanCheck, step int) []result.Finding {
	var l list
	r := c.Result
	l.solved(r.Frequency, r.Unknowns, r.Change, "the far field (against its greatest)", step)
	l.add(result.Note, "horn.coverage", `A section stands for an endless straight line of boxes without gaps; walls are rigid. Widths refer to the level on the box's own axis (0°); "-": not 6 dB down on both sides.`)
	if !r.Symmetric() {
		l.add(result.Note, "wave", "Edges and aim are counted from that axis, positive to the left as seen from behind the box.")
	}
	if end := c.Figures.FallsTo; numeric.Given(end) {
		l.add(result.Note, "wave", "The width still falls where the range ends, at %s: further up it may be less than %s.", hertz(end), angle(c.Figures.Narrowest))
	}
	return l.out
}

// WaveFoldFindings are the notes of a folded path solved by the wave equation. The
// table for people shows one frequency in step.
func WaveFoldFindings(c *section.FoldCheck, step int) []result.Finding {
	var l list
	r := c.Result
	l.solved(r.Frequency, r.Unknowns, r.Change, "the pressure along the mouth (against its greatest)", step)
	if mode := c.ByRays.CrossMode(); mode < r.Frequency[len(r.Frequency)-1] {
		l.add(result.Note, "fold.layer", "From %s on the layers (fold.layer) carry a cross mode: a sheet no longer describes them, and figures above it are too good.", hertz(mode))
	}
	return l.out
}

// TurnFindings are the notes of a turn between layers solved by the wave equation.
// The table for people shows one frequency in step.
func TurnFindings(c *section.TurnCheck, step int) []result.Finding {
	var l list
	r := c.Plain().Result
	l.solved(r.Frequency, r.Unknowns, r.Change, "reflection or transmission", step)
	return l.out
}

// solved says at how many frequencies was solved, how finely and, when change is
// given, how good the result is. of names what changes.
func (l *list) solved(frequency []float64, unknowns []int, change []float64, of string, step int) {
	low, high, n := frequency[0], frequency[len(frequency)-1], len(frequency)
	least, most := result.Count(slices.Min(unknowns)), result.Count(slices.Max(unknowns))
	count := result.Say("%s", most)
	if least.SI < most.SI {
		count = result.Say("%s to %s", least, most)
	}
	text := result.Say("Solved at %s frequencies from %s to %s, with %s unknowns.", result.Count(n), hertz(low), hertz(high), count)
	if n == 1 {
		text = result.Say("Solved at %s, with %s unknowns.", hertz(low), most)
	}
	if float64(n-1) < coarse*math.Log2(high/low) {
		text = text.And(result.Say(" They are farther apart than third octaves: limits between them are rough."))
	}
	if step > 1 {
		text = text.And(result.Say(" The table shows one frequency in %s; --csv and --json have all.", result.Count(step)))
	}
	if change == nil {
		text = text.And(result.Say(" --check estimates the error."))
	} else {
		worst := slices.Index(change, slices.Max(change))
		text = text.And(result.Say(" Error estimate: elements of half the size change %s by %s at most, at %s.", of,
			result.Num(change[worst], quantity.Fraction).As(quantity.Style{Verb: "%.2g"}), hertz(frequency[worst])))
	}
	l.add(result.Note, "wave", "%s", text)
}
