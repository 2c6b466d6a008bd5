package describe

import (
	"gapline/internal/figure"
	"gapline/internal/measured"
	"gapline/internal/result"
	"gapline/internal/study/trace"
)

// data is the whole comparison for programs.
func (t traceParts) data() []result.Part {
	fraction := 0.0
	if n := t.Options.Smoothing.Fraction; n > 0 {
		fraction = 1 / float64(n)
	}
	predicted := []float64(nil)
	if t.Prediction != nil {
		predicted = t.Prediction.Level
	}
	out := []result.Part{t.against(),
		group("smoothing", facts(result.Fig(figure.TraceSmoothing, fraction)), named("average", result.Word(t.Options.Smoothing.By.String()))),
		groupIf(t.Band[1] > 0, "align", facts(result.Fig(figure.TraceAlignLow, t.Band[0]), result.Fig(figure.TraceAlignHigh, t.Band[1]))),
		named("reference", result.Name(t.Reference)),
		t.arrays(curve{figure: figure.TraceFrequency, y: t.Frequency}, curve{figure: figure.TracePredicted, y: predicted})}
	traces := result.Section{Shown: result.At(result.Data), Key: "traces", List: true}
	for i := range t.Curves {
		traces.Parts = append(traces.Parts, t.curveData(&t.Curves[i]))
	}
	pairs := result.Section{Shown: result.At(result.Data), Key: "pairs", List: true}
	for i := range t.Pairs {
		pairs.Parts = append(pairs.Parts, t.pairData(&t.Pairs[i]))
	}
	return append(out, traces, pairs)
}

// arrays are curves over the frequencies for programs; one that there is not is null.
func (t traceParts) arrays(curves ...curve) result.Table {
	return listed(result.At(result.Data), t.filled(curves))
}

// filled gives curves that there are not a column without values.
func (t traceParts) filled(curves []curve) []curve {
	for i := range curves {
		if c := &curves[i]; c.y == nil {
			c.y, c.maybe = absent(len(t.Frequency)), true
		}
	}
	return curves
}

// against is what the traces are laid over.
func (t traceParts) against() result.Section {
	p := t.Prediction
	if p == nil {
		return group("against", object(entry("key", result.Word(trace.None)), entry("reason", result.Name(t.Why))))
	}
	return group("against", object(entry("key", result.Word(p.Key)), entry("name", result.Word(predictionName(p))), entry("conditions", result.Phrase(conditions(p))),
		entry("trust", result.Word(p.Trust.String())), entry(figure.TraceShownTo.Leaf(), result.Fig(figure.TraceShownTo, p.Limit)),
		entry("shown_to_why", result.Word(limitWhy))))
}

func (t traceParts) curveData(c *trace.Curve) result.Section {
	return group("", object(entry("name", result.Name(c.Name)), entry("notes", result.Words(c.Notes)), entry(figure.TraceMoved.Leaf(), result.Fig(figure.TraceMoved, c.Moved))),
		object(entry("against", result.Word(against(c)))),
		t.arrays(curve{figure: figure.TraceLevel, y: c.Level}, curve{figure: figure.TraceOwn, y: predictedLevel(c)}, curve{figure: figure.TraceDifference, y: c.Difference}),
		bandRecords(c.Octaves, figure.TraceBands))
}

// against names the prediction that a trace is laid over.
func against(c *trace.Curve) string {
	if c.Prediction == nil {
		return trace.None
	}
	return c.Prediction.Key
}

// predictedLevel is the prediction of what a trace is of; nil without one.
func predictedLevel(c *trace.Curve) []float64 {
	if c.Prediction == nil {
		return nil
	}
	return c.Prediction.Level
}

func (t traceParts) pairData(p *trace.Pair) result.Section {
	q := &p.Parting
	limits := result.Table{Shown: result.At(result.Data), Key: "predicted_limits", As: result.Records,
		Columns: []result.Column{{Key: "key"}, {Key: "trust", Trust: true}, {Fig: figure.PairRival}, {Fig: figure.PairAbove}}}
	var rows result.List
	for _, l := range p.Limits {
		rows.Add(result.Row{Trust: l.Trust, Cells: []result.Cell{result.Word(l.Figure.Key), result.Fig(figure.PairRival, l.Value), result.Fig(figure.PairAbove, l.Octaves)}})
	}
	limits.Rows = rows.Rows()
	return group("", object(entry("of", result.Word(p.Of.String())), entry("with", result.Name(p.With)), entry("without", result.Name(p.Without))),
		facts(result.Fig(figure.PairMoved, p.Moved), result.Fig(figure.PairLevel, t.Options.PartLevel), result.Fig(figure.PairFrom, q.From),
			result.Fig(figure.PairLimit, q.Limit), result.Fig(figure.PairControl, p.Control), result.Fig(figure.PairUntil, q.Until)),
		limits,
		t.arrays(curve{figure: figure.PairDifference, y: p.Difference}, curve{figure: figure.PairPredicted, y: p.Predicted}),
		bandRecords(p.Octaves, figure.PairBands))
}

// bandCells are the statistics of a band.
func bandCells(b measured.Band, f figure.Bands) []result.Cell {
	return []result.Cell{result.Fig(f.Octave, b.Nominal), result.Fig(f.Low, b.Low), result.Fig(f.High, b.High), result.Fig(f.Mean, b.Mean),
		result.Fig(f.Deviation, b.Deviation), result.Fig(f.Worst, b.Worst), result.Fig(f.WorstAt, b.WorstAt), result.Fig(f.Covered, b.Covered)}
}

func bandColumns(f figure.Bands) []result.Column {
	return columnsOf(f.Octave, f.Low, f.High, f.Mean, f.Deviation, f.Worst, f.WorstAt, f.Covered)
}

// bandRecords are the statistics of one trace or pair for programs.
func bandRecords(bands []measured.Band, f figure.Bands) result.Table {
	var rows result.List
	for _, b := range bands {
		rows.Row(result.Text{}, bandCells(b, f)...)
	}
	return result.Table{Shown: result.At(result.Data), Key: "octaves", As: result.Records, Columns: bandColumns(f), Rows: rows.Rows()}
}

// statistics lists the octaves of all traces and pairs in CSV.
func (t traceParts) statistics() result.Table {
	var rows result.List
	add := func(name, of string, bands []measured.Band, f figure.Bands) {
		for _, b := range bands {
			rows.Row(result.Text{}, append([]result.Cell{result.Name(name), result.Name(of)}, bandCells(b, f)...)...)
		}
	}
	for i := range t.Curves {
		c := &t.Curves[i]
		of := "level"
		if c.Difference != nil {
			of = "difference to " + t.minus(c)
		}
		add(c.Name, of, c.Octaves, figure.TraceBands)
	}
	for i := range t.Pairs {
		add(pairName(&t.Pairs[i]), "difference of the pair", t.Pairs[i].Octaves, figure.PairBands)
	}
	return result.Table{Shown: result.At(result.Listing), As: result.Records, Rows: rows.Rows(),
		Columns: append([]result.Column{{Key: "trace"}, {Key: "of"}}, bandColumns(figure.TraceBands)...)}
}

// columns lists the curves in CSV, a column each.
func (t traceParts) columns() result.Table {
	curves := []curve{{figure: figure.TraceFrequency, y: t.Frequency}}
	if t.Prediction != nil {
		curves = append(curves, curve{figure: figure.TracePredicted, y: t.Prediction.Level})
	}
	if t.Bare != nil {
		curves = append(curves, curve{key: "bare cones predicted_db", figure: figure.TraceOwn, y: t.Bare.Level})
	}
	for i := range t.Curves {
		c := &t.Curves[i]
		curves = append(curves, curve{key: c.Name + " level_db", figure: figure.TraceLevel, y: c.Level},
			curve{key: c.Name + " difference_db", figure: figure.TraceDifference, y: c.Difference})
	}
	for i := range t.Pairs {
		p := &t.Pairs[i]
		curves = append(curves, curve{key: pairName(p) + " db", figure: figure.PairDifference, y: p.Difference})
	}
	return listed(result.View(TraceCurves, result.Listing), t.filled(curves))
}
