package describe

import (
	"fmt"
	"math"

	"gapline/cabinet/outside"
	"gapline/internal/figure"
	"gapline/internal/numeric"
	"gapline/internal/quantity"
	"gapline/internal/result"
	"gapline/internal/study/size"
	"gapline/internal/study/wave"
)

// told is a limit by the lower levels of trust and then by one model of the outside after the
// other.
type told struct {
	name  string
	lower []step
	steps []wave.Told
}

// step is a lower level's figure.
type step struct {
	figure *figure.Def
	cause  string // of what it differs by from the one before
}

// told are the limits that the run tells of.
func (p frontParts) told() (out []told) {
	line := figure.CouplingOpen
	switch {
	case p.Driven == outside.ByMids:
		line = figure.CouplingMid
	case p.Sizing.Coupling.HasInsert:
		line = figure.CouplingInsert
	}
	for _, t := range []told{
		{"lobe", []step{{line.Lobe, ""}}, p.LobeTold()},
		{"chamber", []step{{figure.CouplingInsertChamber, ""}, {figure.CouplingInsertCoupled, "mouths on each other"}}, p.ChamberTold()},
		{"control", []step{{figure.HornPatternRule, ""}, {figure.HornPatternComputed, "the mouth's own pattern"}}, p.ControlTold()},
	} {
		if t.steps != nil {
			out = append(out, t)
		}
	}
	return out
}

var modelWords = [...]string{
	wave.FlowInBaffle:    "flow over the mouths, in a wide baffle",
	wave.LumpedChamber:   "air outside, chamber of one pressure",
	wave.AmongNeighbours: "middle of the boxes",
	wave.BoxAlone:        "one box alone",
}

// modelKeys name the models in JSON.
var modelKeys = [...]string{wave.FlowInBaffle: "mouth_flow", wave.LumpedChamber: "lumped_chamber", wave.AmongNeighbours: "middle_box", wave.BoxAlone: "one_box"}

var causeWords = [...]string{
	wave.NoCause:             "",
	wave.ByChamber:           "chamber",
	wave.ByEdges:             "edges of the cabinet",
	wave.ByLackOfNeighbours:  "no neighbours",
	wave.ByEdgesNotToldApart: "edges, no neighbours",
}

// limitRow is a limit on its way.
type limitRow struct {
	label, cause string
	key          string      // of the figure or model
	figure       *figure.Def // nil: by a model
	limit        outside.Limit
	change       float64 // octaves
}

// rows follow a limit.
func (t *told) rows(p frontParts) (out []limitRow) {
	last := numeric.Absent
	add := func(r limitRow) {
		r.change = math.Log2(r.limit.Hz / last)
		if math.IsInf(r.change, 0) {
			r.change = numeric.Absent
		}
		last = r.limit.Hz
		out = append(out, r)
	}
	for _, s := range t.lower {
		hz := size.Of(&p.Sizing, s.figure)
		add(limitRow{label: s.figure.Name, key: s.figure.Key, cause: s.cause, figure: s.figure, limit: outside.Limit{Hz: hz, From: numeric.Absent, To: numeric.Absent}})
	}
	for _, s := range t.steps {
		label := modelWords[s.Model]
		if s.Model == wave.AmongNeighbours {
			label = fmt.Sprintf("middle of %d boxes", p.Boxes)
		}
		add(limitRow{label: label, key: modelKeys[s.Model], cause: causeWords[s.Cause], limit: s.Limit})
	}
	return out
}

// causes is how the limits come about, a cause at a time.
func (p frontParts) causes() result.Part {
	list := p.told()
	if len(list) == 0 {
		return result.Section{}
	}
	var rows result.List
	for _, t := range list {
		for i, r := range t.rows(p) {
			label := r.label
			if i > 0 {
				label = "  " + label
			}
			cell, cells := result.Fig(figure.WaveFrontCause, r.limit.Hz), []result.Cell{}
			if r.figure != nil {
				cell = size.Cell(&p.Sizing, r.figure)
			} else if !numeric.Given(r.limit.Hz) {
				cell.Words = "over " + p.end()
			}
			between := result.None
			if numeric.Given(r.limit.From) {
				between = result.Phrase(result.Say("%s to %s", hertz(r.limit.From), hertz(r.limit.To)))
			}
			change := result.None
			if numeric.Given(r.change) {
				change = result.Fig(figure.WaveFrontCauseChange, r.change).As(quantity.Style{Verb: "%+.2f"})
			}
			cells = append(cells, cell, between, change, result.Word(r.cause))
			rows.Add(result.Row{Label: result.Plain(label), Cells: cells})
		}
	}
	return alone(result.Table{Shown: result.At(result.Screen), Title: result.Plain("WHY"),
		Columns: []result.Column{value, headed(value, "between"), headed(value, "change"), {Key: "cause", Head: result.Plain("cause"), Left: true}}, Rows: rows.Rows()})
}

// end is the highest frequency of the run in words.
func (p frontParts) end() string {
	f := p.With.Frequency
	return quantity.FormatAs(f[len(f)-1], quantity.Frequency, quantity.Style{Short: true}, quantity.Metric)
}

// causeData are the same for programs.
func (p frontParts) causeData() result.Part {
	cols := append(append(keys("limit", "model"), columnsOf(figure.WaveFrontCause, figure.WaveFrontCauseFrom, figure.WaveFrontCauseTo, figure.WaveFrontCauseChange)...), keys("cause")...)
	var rows result.List
	for _, t := range p.told() {
		for _, r := range t.rows(p) {
			rows.Row(result.Text{}, result.Name(t.name), result.Name(r.key), result.Fig(figure.WaveFrontCause, r.limit.Hz), result.Fig(figure.WaveFrontCauseFrom, r.limit.From),
				result.Fig(figure.WaveFrontCauseTo, r.limit.To), result.Fig(figure.WaveFrontCauseChange, r.change), result.Word(r.cause))
		}
	}
	return records("causes", cols, rows)
}

// middle are the loads on the middle box, and on one alone.
func (p frontParts) middle() []curve {
	parts := func(of []complex128) (re, im []float64) {
		if of == nil {
			return absent(len(p.With.Frequency)), absent(len(p.With.Frequency))
		}
		return each(of, func(z complex128) float64 { return real(z) }), each(of, func(z complex128) float64 { return imag(z) })
	}
	r, x := parts(p.With.Felt())
	var single []complex128
	if p.Alone != nil {
		single = p.Alone.Felt()
	}
	r1, x1 := parts(single)
	return maybe([]curve{
		{figure: figure.WaveFrontMiddleResistance, head: "resistance", y: r}, {figure: figure.WaveFrontAloneResistance, head: "alone", y: r1},
		{figure: figure.WaveFrontMiddleReactance, head: "reactance", y: x}, {figure: figure.WaveFrontAloneReactance, head: "alone", y: x1},
	})
}

// neighbours is what they do to the load on the middle box.
func (p frontParts) neighbours() result.Part {
	if p.Alone == nil || p.With.Felt() == nil {
		return result.Section{}
	}
	f, on := p.With.Frequency, "A CONE"
	if p.Driven == outside.ByHorn {
		on = "THE EXIT"
	}
	return alone(sampled(result.At(result.Screen), "LOAD ON "+on+", OVER ρc", f, stride(len(f)), p.middle()))
}

// middleData are the same for programs.
func (p frontParts) middleData() []result.Part {
	m := p.middle()
	return []result.Part{group("middle", listed(result.At(result.Data), []curve{m[0], m[2]})), group("alone", listed(result.At(result.Data), []curve{m[1], m[3]}))}
}

// whyRemarks say what the causes come to, and how to tell more of them apart.
func (p frontParts) whyRemarks(note func(key string, text result.Text)) {
	list := p.told()
	for _, t := range list {
		for _, r := range t.steps {
			if lobe := size.Of(&p.Sizing, t.lower[0].figure); r.Model == wave.FlowInBaffle && math.Abs(math.Log2(r.Limit.Hz/lobe)) >= worthNaming {
				note(figure.WaveFrontCause.Key, result.Say("The flow is not even over the height of the mouths: that alone, with all else as by aperture, brings lobes from %s.", hertz(r.Limit.Hz)))
			}
		}
	}
	if bare, with, octaves, ok := p.InsertLifts(); ok {
		text := result.Say("The insert takes the limit by lobes from %s to %s, %s octaves; by aperture %s.", hertz(bare), hertz(with), number(octaves), number(p.liftByAperture()))
		if !numeric.Given(with) {
			text = result.Say("The insert takes the limit by lobes from %s beyond this run, at least %s octaves; by aperture %s.", hertz(bare), number(octaves), number(p.liftByAperture()))
		}
		note(figure.CouplingLobeWave.Key, text)
	}
	switch {
	case p.Boxes == 1 && found(list):
		note(figure.WaveFrontBoxes.Key, result.Plain("One box does not tell its edges from its lack of neighbours: --boxes 5 does. --set cabinet.depth shows what of it is depth."))
	case p.Boxes > 1 && p.Boxes%2 == 0:
		note(figure.WaveFrontBoxes.Key, result.Plain("Of an even number of boxes none is in the middle: an odd --boxes tells what neighbours do to it."))
	}
}

// found reports whether the run came to one of the limits.
func found(list []told) bool {
	for _, t := range list {
		for _, s := range t.steps {
			if numeric.Given(s.Limit.Hz) {
				return true
			}
		}
	}
	return false
}

// worthNaming is from how many octaves on a limit's change is said in words.
const worthNaming = 0.1

// liftByAperture is by how many octaves the insert takes the lobe limit up in a wide baffle.
func (p frontParts) liftByAperture() float64 {
	return math.Log2(size.Of(&p.Sizing, figure.CouplingInsert.Lobe) / size.Of(&p.Sizing, figure.CouplingOpen.Lobe))
}

// number is a count of octaves in a sentence that names them.
func number(x float64) result.Cell {
	return result.Num(x, quantity.Number).As(quantity.Style{Verb: "%.2f"})
}
