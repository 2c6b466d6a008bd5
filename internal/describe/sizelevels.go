package describe

import (
	"math"

	"gapline/cabinet/sizing"
	"gapline/internal/advice"
	"gapline/internal/figure"
	"gapline/internal/result"
)

// gapLevels are the figures of the gap at each level of trust.
var gapLevels = [sizing.LevelCount]figure.GapLevel{sizing.ByRule: figure.GapByRule, sizing.ByAperture: figure.GapByAperture, sizing.ByWave: figure.GapByWave, sizing.ByMeasured: figure.GapByMeasured}

// midLevels are those of the gap between woofers and mids.
var midLevels = [sizing.LevelCount]figure.GapLevel{sizing.ByRule: figure.MidGapByRule, sizing.ByAperture: figure.MidGapByAperture}

// levels holds the gap by level of trust, for programs: null where a level has no figure of
// its own on either side.
func (p *sizeParts) levels() result.Section {
	out := result.Section{Shown: result.At(result.Data), Key: "gap.by_trust"}
	for l := range sizing.LevelCount {
		part := levelPart(&p.judged.Levels[l], l, gapLevels[l], advice.Below(p.s))
		if l == sizing.ByWave && !part.Null {
			part.Parts = append(part.Parts, object(entry("run_sha256", result.Name(p.s.Wave.Run))))
		}
		out.Parts = append(out.Parts, part)
	}
	return out
}

// midLevels holds the gap between woofers and mids by level of trust; null without mids.
func (p *sizeParts) midLevels() result.Section {
	out := result.Section{Shown: result.At(result.Data), Key: "gap.woofer_mid_by_trust", Null: !p.s.Coupling.HasMid}
	if out.Null {
		return out
	}
	j := advice.JudgeMids(p.d, p.s, p.fits)
	for _, l := range []sizing.Level{sizing.ByRule, sizing.ByAperture} {
		out.Parts = append(out.Parts, levelPart(&j.Levels[l], l, midLevels[l], advice.WoofersLine(p.s)))
	}
	return out
}

// served is what both sides serve at all levels of trust that decide.
func served(j *advice.Judgement) (low, high, crossover result.Cell) {
	from, to := j.Serves()
	return result.Fig(figure.GapWindowLow, from), result.Fig(figure.GapWindowHigh, to), result.Fig(figure.GapWindowCrossover, sizing.Middle(from, to))
}

// window holds it for programs.
func (p *sizeParts) window() result.Table {
	low, high, crossover := served(&p.judged)
	return object(under("gap.window.low_hz", low), under("gap.window.high_hz", high), under("gap.window.crossover_hz", crossover))
}

// levelPart is one level's gap; line is the one whose criterion stands below.
func levelPart(g *advice.JudgedLevel, l sizing.Level, fig figure.GapLevel, line figure.Line) result.Section {
	out := result.Section{Shown: result.At(result.Data), Key: advice.LevelNames[l], Null: !g.Given || math.IsNaN(g.Gap)}
	if out.Null {
		return out
	}
	limit := func(b *sizing.Bound) result.Cell { return result.Word(advice.LimitFigure(line, b.By)) }
	out.Parts = []result.Part{object(
		entry("low_hz", result.Fig(fig.Low, g.Low.Hz)), entry("high_hz", result.Fig(fig.High, g.High.Hz)), entry("oct", result.Fig(fig.Gap, g.Gap)),
		entry("oct_range", result.Figs(fig.Range, g.Range[:])),
		entry("verdict", result.Word(g.Verdict.String())), entry("low_limit", limit(&g.Low)), entry("high_limit", limit(&g.High)))}
	return out
}

// levers holds the changes that would close the gap, for programs: the settings of each,
// and the gaps that they leave.
func (p *sizeParts) levers() result.Section {
	out := result.Section{Shown: result.At(result.Data), Key: "levers", List: true}
	for _, l := range p.proposed {
		gap := object(entry("rule", result.Fig(figure.LeverByRule, l.Gap[sizing.ByRule])), entry("aperture", result.Fig(figure.LeverByAperture, l.Gap[sizing.ByAperture])),
			entry("wave", result.Fig(figure.LeverByWave, l.Gap[sizing.ByWave])))
		out.Parts = append(out.Parts, result.Section{Shown: result.At(result.Data), Parts: []result.Part{
			object(entry("text", result.Phrase(l.Text)), entry("set", result.Words(l.Set))),
			result.Section{Shown: result.At(result.Data), Key: "gap_oct", Parts: []result.Part{gap}}}})
	}
	return out
}

// byTrust adds the gap at each level of trust that has figures: what ends either side, and
// the gap.
func (r *sizeRows) byTrust() {
	for l := range sizing.LevelCount {
		g := &r.judged.Levels[l]
		if !g.Given || math.IsNaN(g.Gap) {
			continue
		}
		gap := result.Fig(gapLevels[l].Gap, g.Gap)
		if math.IsInf(g.Gap, -1) {
			gap.Words = "closed"
		}
		label := result.Say("GAP, %s to %s (%s), horn from %s (%s)", r.belowName(),
			result.Fig(gapLevels[l].Low, g.Low.Hz), advice.LimitWords[g.Low.By], result.Fig(gapLevels[l].High, g.High.Hz), advice.LimitWords[g.High.By])
		r.Add(result.Row{Label: label, Flush: true, Cells: []result.Cell{gap}, Trust: gapLevels[l].Gap.Trust})
	}
}

// belowName is what meets the horn.
func (p *sizeParts) belowName() string {
	if p.s.Coupling.HasMid {
		return "mids"
	}
	return "woofers"
}
