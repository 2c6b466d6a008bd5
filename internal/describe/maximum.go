package describe

import (
	"fmt"
	"math"

	"gapline/internal/figure"
	"gapline/internal/numeric"
	"gapline/internal/preferred"
	"gapline/internal/quantity"
	"gapline/internal/result"
	"gapline/internal/study/maximum"
)

// loudest is the largest levels of one box, and of a stack where there is one.
type loudest struct {
	one    *maximum.Box
	levels *maximum.Levels
	stack  *maximum.Stack // nil: one box alone
	play   *maximum.Programme
	figs   figure.Maximum
}

// band names a band; empty for none.
func (l loudest) band(by maximum.Limit) string {
	if by.Band < 0 {
		return ""
	}
	return l.one.Bands[by.Band].Name
}

// words is what stops a box: "woofers: power".
func (l loudest) words(by maximum.Limit) string {
	if by == maximum.None {
		return ""
	}
	return fmt.Sprintf("%s: %s", l.band(by), by.Cause)
}

// at returns the index of the frequency nearest to one asked for; −1 where none is within
// half a step.
func (l loudest) at(hz float64) int {
	for i, f := range l.levels.Hz {
		if math.Abs(math.Log2(f/hz)) <= 1.0/24 {
			return i
		}
	}
	return -1
}

// picked is a row of values at some frequencies.
func picked(l loudest, hz []float64, cell func(i int) result.Cell) []result.Cell {
	out := make([]result.Cell, len(hz))
	for k, f := range hz {
		out[k] = result.None
		if i := l.at(f); i >= 0 {
			out[k] = cell(i)
		}
	}
	return out
}

// tones is the table of the largest tones at some frequencies.
func (l loudest) tones(shown result.Shown, title string, hz []float64) result.Table {
	t := over(title, hz)
	t.Shown = shown
	var rows result.List
	rows.Row(result.Plain("one box, at 1 m, dB"), picked(l, hz, func(i int) result.Cell { return result.Fig(l.figs.Sum, l.levels.Sum[i]) })...)
	if l.stack != nil {
		rows.Row(result.Plain("stack on its axis, dB"), picked(l, hz, func(i int) result.Cell { return result.Fig(figure.MaximumStack, l.stack.Sum[i]) })...)
	}
	rows.Row(result.Plain("the first to stop"), picked(l, hz, func(i int) result.Cell { return result.Word(l.band(l.levels.Limit[i])) })...)
	rows.Row(result.Plain("by"), picked(l, hz, func(i int) result.Cell { return result.Word(cause(l.levels.Limit[i])) })...)
	t.Rows = rows.Rows()
	return t
}

func cause(by maximum.Limit) string {
	if by == maximum.None {
		return ""
	}
	return by.Cause.String()
}

// bands is the table of what each band is driven with by the largest programme, and how
// far its own first limit stands above the one that stops all.
func (l loudest) bands(shown result.Shown) result.Table {
	t := result.Table{Shown: shown, Title: result.Plain("BANDS at that level"), Columns: []result.Column{
		headed(value, "stopped by"), headed(value, "room, dB"), headed(value, "r.m.s."), headed(value, "peak"), headed(value, "power"), headed(value, "rated")}}
	var rows result.List
	for i := range l.one.Bands {
		b, d := &l.one.Bands[i], &l.play.Drives[i]
		by, room := result.None, result.None
		for _, r := range l.play.Rooms {
			if r.Band == i {
				by, room = result.Word(r.Cause.String()), result.Fig(l.figs.Room, r.DB)
				break
			}
		}
		rows.Row(result.Plain(b.Name), by, room, result.Fig(l.figs.Volts, d.Volts), result.Fig(l.figs.Peak, d.Peak),
			result.Fig(l.figs.Watts, d.Watts), result.Fig(l.figs.Rated, b.Rated))
	}
	t.Rows = rows.Rows()
	return t
}

// setOff sets tables off from those around them, so that their columns need not be as wide.
func setOff(parts ...result.Part) result.Section {
	return result.Section{Shown: result.At(result.People), Parts: parts}
}

// signal words the programme: "simulated programme signal of IEC 60268-1, crest factor 6.0 dB".
func (l loudest) signal() result.Text {
	return result.Say("%s, crest factor %s", l.play.Spectrum.Title, result.Fig(l.figs.Crest, l.play.Crest.DB()).As(quantity.Style{Verb: "%.1f"}))
}

// list is every frequency, for CSV.
func (l loudest) list(shown result.Shown) result.Table {
	t := result.Table{Shown: shown, As: result.Records, Columns: columnsOf(l.figs.Frequency, l.figs.Sum)}
	if l.stack != nil {
		t.Columns = append(t.Columns, result.Column{Fig: figure.MaximumStack})
	}
	t.Columns = append(t.Columns, result.Column{Key: "band"}, result.Column{Key: "stopped_by"}, result.Column{Fig: l.figs.Raise})
	for i := range l.one.Bands {
		t.Columns = append(t.Columns, result.Column{Key: l.one.Bands[i].Name + "_db", Fig: l.figs.Alone}, result.Column{Key: l.one.Bands[i].Name + "_stopped_by"})
	}
	var rows result.List
	for k, f := range l.levels.Hz {
		cells := []result.Cell{result.Fig(l.figs.Frequency, f), result.Fig(l.figs.Sum, l.levels.Sum[k])}
		if l.stack != nil {
			cells = append(cells, result.Fig(figure.MaximumStack, l.stack.Sum[k]))
		}
		by := l.levels.Limit[k]
		cells = append(cells, result.Name(l.band(by)), result.Name(cause(by)), result.Fig(l.figs.Raise, numeric.DB(l.levels.Scale[k])))
		for i := range l.one.Bands {
			b := &l.levels.Bands[i]
			cells = append(cells, result.Fig(l.figs.Alone, b.Level[k]), result.Name(byItself(b, k)))
		}
		rows.Row(result.Text{}, cells...)
	}
	t.Rows = rows.Rows()
	return t
}

// byItself is what stops a band by itself; empty for nothing.
func byItself(b *maximum.BandLevels, k int) string {
	if b.Cause[k] == maximum.NoCause {
		return ""
	}
	return b.Cause[k].String()
}

// data is everything for programs, but the seats.
func (l loudest) data(key string, programme ...result.Part) result.Section {
	n := len(l.levels.Hz)
	limits := func(of func(k int) string) result.Cell {
		out := make([]string, n)
		for k := range out {
			out[k] = of(k)
		}
		return result.Words(out)
	}
	curve := func(key string, f *figure.Def, y []float64) result.Row {
		if !numeric.AnyGiven(y) {
			return under(key, result.Word(""))
		}
		return under(key, result.Figs(f, y))
	}
	rows := []result.Row{list(l.figs.Frequency, l.levels.Hz), list(l.figs.Sum, l.levels.Sum)}
	if l.stack != nil {
		rows = append(rows, list(figure.MaximumStack, l.stack.Sum))
	}
	raise := make([]float64, n)
	for k := range raise {
		raise[k] = numeric.DB(l.levels.Scale[k])
	}
	rows = append(rows, list(l.figs.Raise, raise), under("band", limits(func(k int) string { return l.band(l.levels.Limit[k]) })),
		under("stopped_by", limits(func(k int) string { return cause(l.levels.Limit[k]) })))
	bands := result.Section{Shown: result.At(result.Data), Key: "bands", List: true}
	for i := range l.one.Bands {
		b, own := &l.one.Bands[i], &l.levels.Bands[i]
		row := []result.Row{under("name", result.Word(b.Name)), under("from", result.Word(b.From)), under("lacks", result.Word(b.Why)),
			fact(l.figs.Resistance, b.Resistance), fact(l.figs.Rated, b.Rated), curve(l.figs.Alone.Leaf(), l.figs.Alone, own.Level)}
		if l.stack != nil {
			row = append(row, curve(figure.MaximumStackBand.Leaf(), figure.MaximumStackBand, l.stack.Bands[i]))
		}
		row = append(row, under("stopped_by", limits(func(k int) string { return byItself(own, k) })))
		for _, c := range []struct {
			of maximum.Cause
			f  *figure.Def
		}{{maximum.Excursion, l.figs.ByExcursion}, {maximum.Radiator, l.figs.ByRadiator}, {maximum.Power, l.figs.ByPower}, {maximum.VentAir, l.figs.ByVent}, {maximum.MouthAir, l.figs.ByMouths}} {
			row = append(row, curve(c.f.Leaf(), c.f, own.By[c.of]))
		}
		bands.Parts = append(bands.Parts, group("", object(row...)))
	}
	return group(key, object(rows...), bands, group("programme", append([]result.Part{l.programme()}, append(l.rooms(), programme...)...)...))
}

// programme is the largest programme in single figures.
func (l loudest) programme() result.Table {
	p := l.play
	return object(under("spectrum", result.Word(p.Spectrum.Title)), under("source", result.Word(p.Spectrum.Source)), fact(l.figs.Crest, p.Crest.DB()),
		fact(l.figs.ProgrammeRaise, numeric.DB(p.Scale)), fact(l.figs.HarmlessRaise, numeric.DB(p.Harmless)),
		fact(l.figs.Unweighted, p.Level), fact(l.figs.AWeighted, p.A), fact(l.figs.CWeighted, p.C))
}

// rooms are the limits and the drives.
func (l loudest) rooms() []result.Part {
	var limits, drives result.List
	for _, r := range l.play.Rooms {
		limits.Row(result.Text{}, result.Name(l.band(r.Limit)), result.Name(r.Cause.String()), result.Fig(l.figs.Room, r.DB))
	}
	for i, d := range l.play.Drives {
		drives.Row(result.Text{}, result.Name(l.one.Bands[i].Name), result.Fig(l.figs.Volts, d.Volts), result.Fig(l.figs.Peak, d.Peak), result.Fig(l.figs.Watts, d.Watts))
	}
	return []result.Part{records("limits", []result.Column{{Key: "band"}, {Key: "stopped_by"}, {Fig: l.figs.Room}}, limits),
		records("bands", []result.Column{{Key: "name"}, {Fig: l.figs.Volts}, {Fig: l.figs.Peak}, {Fig: l.figs.Watts}}, drives)}
}

// leastSpan is the narrowest range of frequencies, in octaves, in which what stops the
// box is written beside the curve.
const leastSpan = 1.0 / 4

// panel draws the largest level of one box and of the stack, each band alone thin below,
// and beside the curve what stops it where.
func (l loudest) panel() result.Panel {
	curve := func(label string, y []float64, colour int, dash result.Dash, thin bool) result.Curve {
		return result.Curve{Label: result.Plain(label), X: l.levels.Hz, Y: finite(y), Colour: colour, Dash: dash, Thin: thin}
	}
	sum := curve("one box", l.levels.Sum, 1, result.Solid, false)
	curves := []result.Curve{sum}
	if l.stack != nil {
		curves = append(curves, curve("stack, on its axis at 1 m", l.stack.Sum, 2, result.Dashed, false))
	}
	shown := curves
	for i := range l.one.Bands {
		curves = append(curves, curve(l.one.Bands[i].Name+" alone", l.levels.Bands[i].Level, 3+i, dashOf(2+i), true))
	}
	p := result.Panel{Y: levelAxis("Largest level re 20 µPa", 60, drawn(shown...)...), Curves: drawn(curves...), Proportion: result.LevelProportion}
	for _, r := range l.ranges() {
		p.Marks = append(p.Marks, result.Mark{X: l.levels.Hz[r.middle], Y: l.levels.Sum[r.middle], Text: result.Plain(l.words(r.by))})
	}
	return p
}

// stretch is a range of frequencies in which one limit stops the box.
type stretch struct {
	by     maximum.Limit
	middle int
}

// ranges lists those wide enough to be written beside the curve.
func (l loudest) ranges() []stretch {
	var out []stretch
	hz := l.levels.Hz
	for from := 0; from < len(hz); {
		to := from
		for to+1 < len(hz) && l.levels.Limit[to+1] == l.levels.Limit[from] {
			to++
		}
		if by := l.levels.Limit[from]; by != maximum.None && math.Log2(hz[to]/hz[from]) >= leastSpan {
			out = append(out, stretch{by, (from + to) / 2})
		}
		from = to + 1
	}
	return out
}

// axis is the frequency axis of the largest levels.
func (l loudest) axis() result.Axis {
	return result.Axis{Scale: result.FrequencyScale, Kind: quantity.Frequency, Low: 20, High: 20e3}
}

// nominalHz are the middles of octaves, by their names.
func nominalHz(from, to float64) []float64 {
	var out []float64
	for k := -6; k <= 4; k++ {
		if f := 1000 * math.Pow(10, 0.3*float64(k)); preferred.Nominal(f) >= from && preferred.Nominal(f) <= to {
			out = append(out, f)
		}
	}
	return out
}
