package screen

import (
	"gapline/cabinet/design"
	"gapline/internal/advice"
	"gapline/internal/measured"
	"gapline/internal/render/machine"
	"gapline/internal/study/trace"
)

// TraceObject is the JSON of the trace command.
func TraceObject(d *design.Design, v *trace.Overlay) *Object {
	o := &Object{}
	o.Set("schema_version", SchemaVersion).Set("title", d.Title)
	o.Set("against", againstObject(v))
	s := v.Options.Smoothing
	fraction := 0.0
	if s.Fraction > 0 {
		fraction = 1 / float64(s.Fraction)
	}
	o.Path("smoothing.octaves", Number(fraction))
	o.Path("smoothing.average", s.By.String())
	o.Set("align", nil)
	if v.Band[1] > 0 {
		o.Set("align", (&Object{}).Set("low_hz", Number(v.Band[0])).Set("high_hz", Number(v.Band[1])))
	}
	o.Set("reference", v.Reference)
	o.Set("frequency_hz", Numbers(v.Frequency))
	o.Set("predicted_db", nil)
	if v.Prediction != nil {
		o.Set("predicted_db", Numbers(v.Prediction.Level))
	}
	traces := []*Object{}
	for i := range v.Curves {
		traces = append(traces, curveObject(&v.Curves[i]))
	}
	pairs := []*Object{}
	for i := range v.Pairs {
		pairs = append(pairs, pairObject(v, &v.Pairs[i]))
	}
	o.Set("traces", traces).Set("pairs", pairs)
	return o.Set("cautions", machine.Texts(advice.TraceCautions(len(v.Pairs) > 0)))
}

func againstObject(v *trace.Overlay) *Object {
	o := &Object{}
	p := v.Prediction
	if p == nil {
		return o.Set("key", trace.None).Set("reason", v.Why)
	}
	return o.Set("key", p.Key).Set("name", p.Name).Set("conditions", p.Conditions).Set("trust", p.Trust.String()).
		Set("shown_to_hz", Number(p.Limit)).Set("shown_to_why", p.LimitWhy)
}

func curveObject(c *trace.Curve) *Object {
	notes := c.Notes
	if notes == nil {
		notes = []string{}
	}
	o := &Object{}
	o.Set("name", c.Name).Set("notes", notes).Set("moved_db", Number(c.Moved)).Set("level_db", Numbers(c.Level))
	o.Set("difference_db", nil)
	if c.Difference != nil {
		o.Set("difference_db", Numbers(c.Difference))
	}
	return o.Set("octaves", bandObjects(c.Octaves))
}

func bandObjects(bands []measured.Band) []*Object {
	out := []*Object{}
	for _, b := range bands {
		o := &Object{}
		o.Set("octave_hz", Number(b.Nominal)).Set("low_hz", Number(b.Low)).Set("high_hz", Number(b.High))
		o.Set("mean_db", Number(b.Mean)).Set("std_db", Number(b.Deviation)).Set("worst_db", Number(b.Worst)).
			Set("worst_hz", Number(b.WorstAt)).Set("covered", Number(b.Covered))
		out = append(out, o)
	}
	return out
}

func pairObject(v *trace.Overlay, p *trace.Pair) *Object {
	o := &Object{}
	o.Set("with", p.With).Set("without", p.Without).Set("moved_db", Number(p.Moved))
	o.Set("part_db", Number(v.Options.PartLevel)).Set("agrees_from_hz", Number(p.Parting.From)).
		Set("limit_hz", Number(p.Parting.Limit)).Set("data_end_hz", Number(p.Parting.Until))
	limits := []*Object{}
	for _, l := range p.Limits {
		x := &Object{}
		limits = append(limits, x.Set("key", l.Figure.Key).Set("trust", l.Trust.String()).
			Set("value_hz", Number(l.Value)).Set("measured_above_oct", Number(l.Octaves)))
	}
	o.Set("predicted_limits", limits).Set("difference_db", Numbers(p.Difference))
	o.Set("predicted_difference_db", nil)
	if p.Predicted != nil {
		o.Set("predicted_difference_db", Numbers(p.Predicted))
	}
	return o.Set("octaves", bandObjects(p.Octaves))
}
