package describe

import (
	"fmt"
	"strings"

	"gapline/internal/figure"
	"gapline/internal/numeric"
	"gapline/internal/quantity"
	"gapline/internal/result"
	"gapline/internal/study/box"
)

// rankAxes are the axes on which a ranking is drawn, by its order.
var rankAxes = map[box.Order]result.Axis{
	box.ByLevel: {Label: "Maximum level of one box re 20 µPa", Fig: figure.BoxMaxSPL, Unit: "dB"},
	box.ByF3:    {Label: "Frequency of −3 dB", Kind: quantity.Frequency, Unit: "Hz"},
	box.ByGap:   gapAxis,
	box.ByCost:  {Label: "Cost of a box", Fig: figure.BoxCost},
}

// chart draws the ranking: each driver's figure as a bar from that of the best.
func (p rankParts) chart(title string) result.Ranking {
	out := result.Ranking{Shown: result.At(result.Drawn), Value: rankAxes[p.By]}
	unknown := 0
	for i := range p.Ranked {
		c := &p.Ranked[i]
		v := p.By.Value(&c.Sizing)
		if !isFinite(v) {
			unknown++
			continue
		}
		if len(out.Bars) == 0 {
			out.Base = v
		}
		out.Bars = append(out.Bars, result.Bar{Label: result.Plain(fmt.Sprintf("%d %s", i+1, c.File)), AtLow: out.Base, AtHigh: v, HighText: result.Say("%s", p.cell(c))})
	}
	conditions := result.Plain("bars start at the best")
	switch {
	case p.By != box.ByLevel:
	case numeric.Given(p.At):
		conditions = conditions.And(result.Say("; level at %s, 1 m, half space", result.Fig(figure.RankAt, p.At)))
	default:
		conditions = conditions.And(result.Plain("; level of each at its own f3, 1 m, half space"))
	}
	if left := p.leftOut(unknown); left != "" {
		conditions = conditions.And(result.Plain("; " + left))
	}
	out.Caption = result.Caption{ID: "drivers", Title: "Drivers in this cabinet by " + p.By.Name(), Subtitle: conditions, Design: title,
		Trust: figure.Aperture.String() + ", lumped circuit", Origin: "predicted by gapline", Alt: result.Say("Drivers in this cabinet by %s: %s.", p.By.Name(), conditions)}
	return out
}

// cell is what a driver is ranked by.
func (p rankParts) cell(c *box.Candidate) result.Cell {
	v := p.By.Value(&c.Sizing)
	switch p.By {
	case box.ByLevel:
		return result.Fig(figure.BoxMaxSPL, v)
	case box.ByF3:
		return result.Fig(figure.BoxF3, v)
	case box.ByCost:
		return result.Fig(figure.BoxCost, v)
	}
	return result.Num(v, quantity.Octaves)
}

// leftOut says which files the picture does not show: those whose parts cannot be built
// together, those that give no driver, and how many have no figure.
func (p rankParts) leftOut(unknown int) string {
	var misfits, unusable, out []string
	for _, x := range p.Refused {
		if x.Misfit {
			misfits = append(misfits, x.File)
		} else {
			unusable = append(unusable, x.File)
		}
	}
	for _, x := range []struct {
		why   string
		files []string
	}{{"misfits", misfits}, {"not usable", unusable}} {
		switch n := len(x.files); {
		case n > 3:
			out = append(out, fmt.Sprintf("%d %s", n, x.why))
		case n > 0:
			out = append(out, x.why+" "+strings.Join(x.files, ", "))
		}
	}
	if unknown > 0 {
		out = append(out, fmt.Sprintf("%d without this figure", unknown))
	}
	if out == nil {
		return ""
	}
	return "left out: " + strings.Join(out, "; ")
}
