package describe

import (
	"gapline/internal/figure"
	"gapline/internal/numeric"
	"gapline/internal/result"
	"gapline/internal/study/maximum"
)

// fullRange is the largest levels of the box over the whole range.
func (b boxParts) fullRange() loudest {
	f := b.Full
	return loudest{one: f.One, levels: f.Levels, play: f.Programme, figs: figure.BoxFull}
}

// full is the box over the whole range, through the crossover.
func (b boxParts) full() []result.Part {
	l := b.fullRange()
	people := result.At(result.People)
	out := []result.Part{setOff(l.tones(people, "FULL RANGE, LARGEST TONES", nominalHz(31, 16e3)))}
	if l.play.First() != maximum.None {
		var rows result.List
		rows.Row(result.Plain("unweighted"), result.Fig(l.figs.Unweighted, l.play.Level))
		rows.Row(result.Plain("A-weighted"), result.Fig(l.figs.AWeighted, l.play.A))
		rows.Row(result.Plain("C-weighted"), result.Fig(l.figs.CWeighted, l.play.C))
		out = append(out, figures(result.People, result.Plain("LARGEST PROGRAMME at 1 m, dB"), &rows), setOff(l.bands(people)))
	}
	out = append(out, l.list(result.View(BoxFull, result.Listing)))
	if numeric.AnyGiven(l.levels.Sum) {
		c := b.chart(BoxFull, "Largest level of one box, and what stops it",
			result.Say("tones through the crossover, 1 m, half space; diamonds: the band that stops all there, and by what; small signals up to the limits, power compression left out"), l.panel())
		c.X = l.axis()
		c.Shown, c.ID, c.Page = result.View(BoxFull, result.Drawn|result.Page), "box-full", "Largest level of tones of one box over the whole range, and what stops it"
		out = append(out, c)
	}
	return out
}

// fullData is the whole range for programs; null without it.
func (b boxParts) fullData() result.Part {
	if b.Full == nil {
		return groupIf(false, "full_range")
	}
	return b.fullRange().data("full_range")
}
