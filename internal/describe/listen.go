package describe

import (
	"math"

	"gapline/internal/figure"
	"gapline/internal/numeric"
	"gapline/internal/preferred"
	"gapline/internal/quantity"
	"gapline/internal/result"
	"gapline/internal/study/listen"
)

// ListenView is what listen draws and lists.
const ListenView = "response"

// Listen describes two states as they sound at their places.
func Listen(r *listen.Result, findings []result.Finding) *result.Result {
	x := listenParts{r}
	out := &result.Result{Title: r.A.Design.Title, Head: x.head()}
	out.Add(x.data()...)
	out.Add(x.levels(), x.response(), x.list(), x.chart())
	out.Add(result.Findings{Shown: result.At(result.People | result.Data), List: findings})
	return out
}

type listenParts struct{ r *listen.Result }

// heard is one state with its figures.
type heard struct {
	*listen.Heard
	name string
	figs figure.Heard
}

func (x listenParts) both() []heard {
	return []heard{{&x.r.A, "A", figure.HeardA}, {&x.r.B, "B", figure.HeardB}}
}

// head says what is compared, where, with what, and how the levels stand.
func (x listenParts) head() []result.Text {
	var out []result.Text
	for _, h := range x.both() {
		out = append(out, result.Say("%s  %s; %s", h.name, h.Words, h.where()))
	}
	// "as below" of what is trusted points to these lines.
	var bands []result.Text
	for _, h := range x.both() {
		for _, text := range (hung{h.Study, figure.LineHung}).radiates() {
			bands = append(bands, result.Plain("  "+h.name+":").And(text))
		}
	}
	s, kept := x.r.Signal, "The level difference is kept."
	if x.r.Match {
		kept = "Both are matched to the same A-weighted level."
	}
	trusted := hung{x.r.A.Study, figure.LineHung}.trusted()
	if x.r.B.Model.Patterned() {
		trusted = hung{x.r.B.Study, figure.LineHung}.trusted()
	}
	length := float64(len(s.Samples)) / float64(s.Rate)
	out = append(out, result.Say("Signal: %s; %s at %s.", s.Words, result.Fig(figure.ListenLength, length), result.Fig(figure.ListenRate, float64(s.Rate))),
		result.Say("%s Predicted, "+trusted+", %s to %s: %s. Levels in %s.", kept, hertz(listen.Lowest), hertz(x.r.Top),
			hung{x.r.A.Study, figure.LineHung}.conditions(), x.reference()))
	return append(out, bands...)
}

// where names a place.
func (h heard) where() result.Text {
	seat := h.Seat
	if seat == "" {
		seat = "point"
	}
	return result.Say("%s, %s ahead, %s up, %s from the middle of the stack", seat, result.Fig(h.figs.X, h.At.X), result.Fig(h.figs.Z, h.At.Z),
		result.Fig(h.figs.Distance, h.Distance))
}

func (x listenParts) reference() result.Text {
	if !x.r.Absolute {
		return result.Plain("dB, relative: no level is known")
	}
	return hung{x.r.A.Study, figure.LineHung}.reference()
}

// levels sets levels and places in the file beside each other.
func (x listenParts) levels() result.Table {
	t := result.Table{Shown: result.At(result.People), Title: result.Plain("SOUND"),
		Columns: []result.Column{headed(value, "A"), headed(value, "B"), headed(value, "B less A")}}
	var rows result.List
	a, b := figure.HeardA, figure.HeardB
	of := func(label string, fa, fb *figure.Def, of func(*listen.Heard) float64, less result.Cell) {
		rows.Row(result.Plain(label), result.Fig(fa, of(&x.r.A)), result.Fig(fb, of(&x.r.B)), less)
	}
	of("level of the signal at the place", a.Sound, b.Sound, func(h *listen.Heard) float64 { return h.Sound }, result.Fig(figure.ListenLouder, x.r.Louder))
	of("  A-weighted", a.SoundDBA, b.SoundDBA, func(h *listen.Heard) float64 { return h.Weighted }, result.Fig(figure.ListenLouderDBA, x.r.LouderDBA))
	gain := "gain of the file"
	if x.r.Absolute {
		gain = "gain, 1 Pa to full scale"
	}
	of(gain, a.Gain, b.Gain, func(h *listen.Heard) float64 { return h.Gain }, result.Num(x.r.B.Gain-x.r.A.Gain, quantity.Level))
	of("true peak in the file, re full scale", a.TruePeak, b.TruePeak, func(h *listen.Heard) float64 { return h.TruePeak }, result.Num(x.r.B.TruePeak-x.r.A.TruePeak, quantity.Level))
	of("in the file from", a.From, b.From, func(h *listen.Heard) float64 { return h.From }, result.Name(""))
	of("  to", a.To, b.To, func(h *listen.Heard) float64 { return h.To }, result.Name(""))
	t.Rows = rows.Rows()
	return t
}

// curves are the responses and their difference.
func (x listenParts) curves() []curve {
	return []curve{
		{figure: figure.HeardA.Response, key: "a_db", head: "A", y: x.r.A.Levels},
		{figure: figure.HeardB.Response, key: "b_db", head: "B", y: x.r.B.Levels},
		{figure: figure.ListenDifference, key: "difference_db", head: "B less A", y: x.difference()},
	}
}

func (x listenParts) difference() []float64 {
	out := make([]float64, len(x.r.Hz))
	for i := range out {
		out[i] = x.r.B.Levels[i] - x.r.A.Levels[i]
		if x.r.A.Model.Absolute != x.r.B.Model.Absolute {
			out[i] = numeric.Absent
		}
	}
	return out
}

// Every how many of the responses' frequencies the screen shows, 48 to the octave.
const listenStep = 24

// response samples both responses at half octaves of 1 kHz.
func (x listenParts) response() result.Table {
	first := 0
	for i, f := range x.r.Hz {
		if math.Abs(math.Log2(f/1000)*2-math.Round(math.Log2(f/1000)*2)) < 1e-6 {
			first = i
			break
		}
	}
	cs := x.curves()
	for i := range cs {
		cs[i].y = cs[i].y[first:]
	}
	return sampled(result.At(result.People), "RESPONSE at the place, dB, tones", each(x.r.Hz[first:], preferred.Nominal), listenStep, cs)
}

// list is the responses as CSV.
func (x listenParts) list() result.Table {
	return listed(result.View(ListenView, result.Listing), append([]curve{{figure: figure.ListenFrequency, y: x.r.Hz}}, x.curves()...))
}

// data is both states for programs.
func (x listenParts) data() []result.Part {
	s := x.r.Signal
	out := []result.Part{
		group("signal", object(under("name", result.Word(s.Words)), fact(figure.ListenRate, float64(s.Rate)),
			fact(figure.ListenLength, float64(len(s.Samples))/float64(s.Rate)), under("cut", result.Yes(s.Cut)), under("faded", result.Yes(s.Faded)))),
		group("band", object(fact(figure.ListenLow, listen.Lowest), fact(figure.ListenHigh, x.r.Top))),
		object(under("matched", result.Yes(x.r.Match)), under("absolute", result.Yes(x.r.Absolute)), list(figure.ListenFrequency, x.r.Hz)),
	}
	for i, h := range x.both() {
		f := h.figs
		out = append(out, group([]string{"a", "b"}[i], object(under("state", result.Word(h.Words)), under("seat", result.Word(h.Seat)),
			fact(f.X, h.At.X), fact(f.Y, h.At.Y), fact(f.Z, h.At.Z), fact(f.Distance, h.Distance), list(f.Response, h.Levels),
			fact(f.Sound, h.Sound), fact(f.SoundDBA, h.Weighted), fact(f.Gain, h.Gain), fact(f.TruePeak, h.TruePeak), fact(f.From, h.From), fact(f.To, h.To))))
	}
	return append(out, object(list(figure.ListenDifference, x.difference())),
		group("difference", object(fact(figure.ListenLouder, x.r.Louder), fact(figure.ListenLouderDBA, x.r.LouderDBA))))
}

// chart draws both responses, and below them their difference.
func (x listenParts) chart() result.Series {
	cs := x.curves()
	line := func(i, colour int, dash result.Dash, label string) result.Curve {
		return result.Curve{Label: result.Plain(label), X: x.r.Hz, Y: finite(cs[i].y), Colour: colour, Dash: dash}
	}
	a, b := line(0, 1, result.Solid, "A: "+x.r.A.Words), line(1, 2, result.Dashed, "B: "+x.r.B.Words)
	level := result.Panel{Y: levelAxis("Level", 50, a, b), Curves: []result.Curve{a, b}, Height: 230}
	difference := line(2, 3, result.Solid, "B less A")
	panels := []result.Panel{level}
	if numeric.AnyGiven(difference.Y) {
		panels = append(panels, result.Panel{Y: levelAxis("Difference", 40, difference), Curves: []result.Curve{difference}, Height: 120,
			Guides: []result.Guide{{Value: 0}}})
	}
	h := hung{x.r.A.Study, figure.LineHung}
	both := x.both()
	subtitle := result.Say("%s; A: %s; B: %s; %s", h.boxes(), both[0].where(), both[1].where(), x.reference())
	return result.Series{Shown: result.View(ListenView, result.Drawn), Panels: panels,
		X: result.Axis{Scale: result.FrequencyScale, Kind: quantity.Frequency, Low: x.r.Hz[0], High: x.r.Hz[len(x.r.Hz)-1]}, Caption: h.caption(result.Caption{
			ID: "listen", Title: "What a seat hears in two states", Subtitle: subtitle,
			Alt: result.Plain("Predicted level over frequency of both states, and their difference."),
		})}
}
