package live

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"net/http"
	"slices"
	"strings"
	"sync"

	"gapline/internal/advice"
	"gapline/internal/cleantext"
	"gapline/internal/describe"
	"gapline/internal/designfile"
	"gapline/internal/figure"
	"gapline/internal/render/machine"
	"gapline/internal/render/terminal"
	"gapline/internal/result"
	"gapline/internal/schema"
	"gapline/internal/study/box"
	"gapline/internal/study/space"
)

// answer is what the page shows of a state.
type answer struct {
	Faults   []string          `json:"faults"`   // why the state cannot be computed
	Title    string            `json:"title"`    // of the design
	Gap      string            `json:"gap"`      // as given, such as "0.51 oct open"
	GapBy    string            `json:"gapBy"`    // its level of trust: "by rule"
	GapKey   string            `json:"gapKey"`   // figure that it is
	GapValue string            `json:"gapValue"` // as JSON writes it
	GapWas   string            `json:"gapWas"`   // in the state before
	Verdict  string            `json:"verdict"`  // met, missed, …
	Sentence string            `json:"sentence"` // the verdict in words
	Levels   table             `json:"levels"`   // gap by level of trust, what binds each side
	Misfits  []string          `json:"misfits"`
	Findings []finding         `json:"findings"`
	Cautions []string          `json:"cautions"`
	Sliders  []slider          `json:"sliders"`
	Pictures map[string]string `json:"pictures"` // SVG by name
	Figures  table             `json:"figures"`  // of the sizing, now and before
	Formula  *formula          `json:"formula"`  // of the figure in focus
	Compare  *table            `json:"compare"`  // kept states beside this one
	Words    []string          `json:"words"`    // the settings as words of a command line
	Lacks    map[string]string `json:"lacks"`    // pictures that there are not, and why
}

// formula is the formula of a figure with the numbers of two states.
type formula struct {
	Key   string `json:"key"`
	Name  string `json:"name"`
	Trust string `json:"trust"`
	shown
}

// start hands a newly opened page what does not change: the file, keys that may have a
// slider, figures that may be in focus.
func (s *Server) start(w http.ResponseWriter, r *http.Request) {
	t, err := s.reread(r.Context())
	if err != nil {
		reply(w, http.StatusOK, map[string]any{"faults": faults(err)})
		return
	}
	type named struct {
		Name string `json:"name"`
		Doc  string `json:"doc"`
	}
	var keys, figures []named
	for i := range schema.Keys {
		if k := &schema.Keys[i]; k.Numeric() || k.Type == schema.Choice {
			keys = append(keys, named{k.Path, k.Doc})
		}
	}
	for _, f := range figure.Sized() {
		figures = append(figures, named{f.Key, f.Name})
	}
	reply(w, http.StatusOK, map[string]any{"faults": []string{}, "text": t.id, "file": cleantext.Line(s.o.name()), "keys": keys, "figures": figures})
}

// state answers with all that is known of a state within a moment.
func (s *Server) state(w http.ResponseWriter, r *http.Request) {
	q, data, ok := s.asked(w, r)
	if !ok {
		return
	}
	if !enter(r.Context(), s.states) {
		return
	}
	defer leave(s.states)
	reply(w, http.StatusOK, s.answer(r.Context(), data, q))
}

// asked reads a request and the text that it is about; where it cannot, it has replied.
func (s *Server) asked(w http.ResponseWriter, r *http.Request) (*request, []byte, bool) {
	q, err := decode(r)
	if err != nil {
		status := http.StatusBadRequest
		var large *http.MaxBytesError
		if errors.As(err, &large) {
			status = http.StatusRequestEntityTooLarge
		}
		reply(w, status, map[string]any{"faults": faults(err)})
		return nil, nil, false
	}
	data, ok := s.textOf(q.Text)
	if !ok {
		reply(w, http.StatusConflict, map[string]any{"faults": faults(errReload)})
		return nil, nil, false
	}
	return q, data, true
}

// enter waits for room; false where the request ended before.
func enter(ctx context.Context, room chan struct{}) bool {
	select {
	case room <- struct{}{}:
		return true
	case <-ctx.Done():
		return false
	}
}

func leave(room chan struct{}) { <-room }

// reply writes JSON. The brackets of pictures stay as they are, which saves a fifth of the
// bytes: the answer is never read as a page.
func reply(w http.ResponseWriter, status int, v any) {
	var data bytes.Buffer
	e := json.NewEncoder(&data)
	e.SetEscapeHTML(false)
	if err := e.Encode(v); err != nil {
		http.Error(w, "the answer cannot be written", http.StatusInternalServerError)
		return
	}
	w.Header().Set("Content-Type", "application/json")
	w.WriteHeader(status)
	w.Write(data.Bytes()) // whoever does not read it is gone
}

// answer computes a state. The file itself is sound, or the server would not have started
// with it, unless it was changed since.
func (s *Server) answer(ctx context.Context, data []byte, q *request) *answer {
	original, err := s.read(ctx, data, nil)
	if err != nil {
		return &answer{Faults: faults(err)}
	}
	now, err := s.read(ctx, data, q.Set)
	if err != nil {
		return &answer{Faults: faults(err), Sliders: s.sliders(original, original, &request{Keys: q.Keys, Set: q.Set}), Words: words(q.Set)}
	}
	before, err := s.read(ctx, data, q.Before)
	if err != nil {
		before = now
	}
	a := &answer{Faults: []string{}, Title: cleantext.Line(now.Design.Title)}
	if a.Title == "" {
		a.Title = result.Untitled
	}
	s.judge(a, now, before)
	a.Sliders = s.sliders(original, now, q)
	s.draw(ctx, a, original, now, before, q)
	figures := describe.FiguresBeside(now.as("now"), before.as("before"))
	a.Figures = tableOf(&figures, s.o.Units)
	a.Formula = s.formula(q.Focus, now, before)
	a.Compare = s.compare(ctx, data, now, q)
	a.Words = words(q.Set)
	return a
}

// judge fills in the gap and what is found of the design.
func (s *Server) judge(a *answer, now, before *state) {
	sys := s.o.Units
	gap, was := describe.GapAsGiven(now.as("")), describe.GapAsGiven(before.as(""))
	a.Gap, a.GapWas = terminal.Cell(gap, sys), terminal.Cell(was, sys)
	a.GapBy = describe.GapBy(now.as(""))
	a.GapKey, a.GapValue = gap.Fig.Key, machine.Text(&gap)
	a.Verdict = describe.Verdict(now.as(""), now.fits)
	levels := describe.Binding(now.as(""), now.fits)
	a.Levels = tableOf(&levels, sys)
	a.Misfits = []string{}
	for _, f := range advice.Misfits(&now.Design, now.fits) {
		a.Misfits = append(a.Misfits, cleantext.Line(terminal.Text(f.Text, sys)))
	}
	a.Cautions = []string{}
	for i, f := range advice.Findings(&now.Design, &now.sized, now.fits) {
		text := cleantext.Line(terminal.Text(f.Text, sys))
		switch {
		case f.Severity == result.Caution:
			a.Cautions = append(a.Cautions, text)
		case i == 0 && strings.HasPrefix(f.Key, "gap."):
			a.Sentence = text
		case !f.Detail:
			a.Findings = append(a.Findings, findingsOf([]result.Finding{f}, sys)...)
		}
	}
	if a.Findings == nil {
		a.Findings = []finding{}
	}
}

// lowEnd is how the low end is looked at while a hand is on a slider.
var lowEnd = box.Options{From: 20, To: 1000, PerOctave: 12}

// drawings collects pictures, or why there are none, from several goroutines.
type drawings struct {
	mu              sync.Mutex
	pictures, lacks map[string]string
}

func (d *drawings) put(name, svg, lacks string) {
	d.mu.Lock()
	defer d.mu.Unlock()
	if svg != "" {
		d.pictures[name] = svg
		return
	}
	d.lacks[name] = lacks
}

// draw fills in the pictures, on all cores.
func (s *Server) draw(ctx context.Context, a *answer, original, now, before *state, q *request) {
	d := drawings{pictures: map[string]string{}, lacks: map[string]string{}}
	tasks := []func(){
		func() {
			curve, why := s.sweep(ctx, original, now, q)
			d.put("sweep", curve, why)
		},
		func() {
			low, why := s.low(now, q)
			d.put("low", low, why)
		},
		func() {
			d.put("strip", s.svg("strip", describe.StripSince(now.as(""), before.as("")), q.Slim), "The design does not give enough for the strip.")
		},
		func() {
			drawing := describe.Draw(&now.Design, &now.sized, now.fits, false)
			d.put("front", s.svgOf("front", drawing, q.Narrow, describe.DrawFront), "cabinet.width and cabinet.height are needed to draw the box.")
			d.put("plan", s.svgOf("plan", drawing, q.Narrow, describe.DrawPlan), "cabinet.width and cabinet.depth are needed to draw the box.")
		},
	}
	if q.Stack {
		tasks = append([]func(){func() {
			patterns, why := s.patterns(ctx, now, q)
			d.put("stack", patterns, why)
		}}, tasks...)
	}
	var all sync.WaitGroup
	for _, task := range tasks {
		all.Go(task)
	}
	all.Wait()
	a.Pictures, a.Lacks = d.pictures, d.lacks
}

// low draws the low end of one box.
func (s *Server) low(now *state, q *request) (svg, why string) {
	st, err := box.LowEnd(&now.Design, lowEnd)
	if err != nil {
		return "", strings.Join(faults(boxFaults(now.File, err)), " ")
	}
	return s.svg("low", describe.LowEnd(st), q.Narrow), "The design does not give the low end of a box."
}

// sweepPoints is how many values of the key in hand its curve has.
const sweepPoints = 40

// sweep draws the gap against the key in hand.
func (s *Server) sweep(ctx context.Context, original, now *state, q *request) (svg, why string) {
	k := schema.FindKey(q.InHand)
	if k == nil || !k.Numeric() {
		return "", "Take a slider: the gap against its key is drawn here."
	}
	unit := unitOf(k, s.o.Units)
	low, high, step := travel(k, baseOf(k, original, now), unit)
	if n := (high - low) / step; n > sweepPoints {
		step *= float64(int(n/sweepPoints) + 1)
	}
	axis, err := space.ParseAxis(fmt.Sprintf("%s=%.9g%s:%.9g%s:%.9g%s", k.Path, low, unit, high, unit, step, unit))
	if err != nil {
		return "", cleantext.Message(err.Error())
	}
	grid, err := space.NewGrid(&now.Project, []space.Axis{axis})
	if err != nil {
		return "", cleantext.Message(err.Error())
	}
	curves, err := grid.MouthCurves(ctx)
	if err != nil {
		return "", cleantext.Message(err.Error())
	}
	return s.svgOf("sweep", describe.LeverChart(axis, curves, &now.Design, &now.sized), q.Narrow, ""), "No value of the key gives a gap."
}

// formula is that of the figure in focus, of the gap where none is; nil where there is none of the name.
func (s *Server) formula(key string, now, before *state) *formula {
	f := figure.FindSized(key)
	if key == "" {
		f = describe.GapAsGiven(now.as("")).Fig
	}
	if f == nil {
		return nil
	}
	return &formula{Key: f.Key, Name: f.Name, Trust: f.Trust.String(), shown: shownOf(describe.WorkBeside(f, now.as("now"), before.as("before")), s.o.Units)}
}

// compare is the tradeoff table of the kept states and this one; nil where none is kept.
func (s *Server) compare(ctx context.Context, data []byte, now *state, q *request) *table {
	if len(q.Keep) == 0 {
		return nil
	}
	var designs []describe.Sized
	for _, k := range q.Keep {
		if x, err := s.read(ctx, data, k.Set); err == nil {
			designs = append(designs, x.as(cleantext.Line(k.Name)))
		}
	}
	t := describe.TradeoffTable(append(designs, now.as("now")))
	out := tableOf(&t, s.o.Units)
	return &out
}

// words are settings as a shell takes them.
func words(settings []string) []string {
	out := []string{}
	for _, x := range settings {
		out = append(out, "--set", quoted(x))
	}
	return out
}

// quoted puts a word in single quotes where a shell would take it apart.
func quoted(x string) string {
	if x != "" && !strings.ContainsFunc(x, func(r rune) bool {
		return !(r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' || strings.ContainsRune("._=+-:,/%@", r))
	}) {
		return x
	}
	return "'" + strings.ReplaceAll(x, "'", `'\''`) + "'"
}

// file hands out the design file with the settings written into it.
func (s *Server) file(w http.ResponseWriter, r *http.Request) {
	q, data, ok := s.asked(w, r)
	if !ok {
		return
	}
	edited, err := designfile.Edited(r.Context(), s.o.name(), data, slices.Concat(s.o.Settings, q.Set))
	if err != nil {
		reply(w, http.StatusOK, map[string]any{"faults": faults(err)})
		return
	}
	reply(w, http.StatusOK, map[string]any{"faults": []string{}, "name": downloadName(s.o.File), "text": edited})
}
