package live

import (
	"context"
	"encoding/json"
	"errors"
	"math"
	"net/http"
	"sync"
	"time"

	"gapline/cabinet/field"
	"gapline/cabinet/section"
	"gapline/internal/advice"
	"gapline/internal/check"
	"gapline/internal/cleantext"
	"gapline/internal/describe"
	"gapline/internal/numeric"
	"gapline/internal/preferred"
	"gapline/internal/result"
	"gapline/internal/study/line"
	"gapline/internal/study/stored"
	"gapline/internal/study/wave"
)

// Frequencies of the stack's views on the page: those that gapline line shows unless it is
// told otherwise, and fewer while a hand is on a slider.
const (
	fewTones  = "250Hz,500Hz,1kHz,4kHz" // as the polar shows
	seatTones = "octaves:125Hz:8kHz"
	sideTone  = "1kHz"
)

// patterns draws the stack's vertical pattern.
func (s *Server) patterns(ctx context.Context, now *state, q *request) (svg, why string) {
	st, problems := line.New(&now.Design, s.conditions(ctx, now, false))
	if problems != nil {
		return "", cleantext.Line(problems[0].Text)
	}
	few, err := line.ParseSpectrum(fewTones, false)
	if err != nil {
		return "", err.Error()
	}
	p, err := st.Polar(ctx, field.Vertical, few, line.AllRound, 2*math.Pi, math.Inf(1))
	if err != nil {
		return "", cleantext.Message(err.Error())
	}
	return s.svg("stack", describe.Polar(st, p), q.Narrow), "The design gives no stack to hear."
}

// conditions are those of gapline line without flags: the box by its own pattern where a run of
// it is stored.
func (s *Server) conditions(ctx context.Context, x *state, withoutInsert bool) line.Conditions {
	var c line.Conditions
	c.Choice.WithoutInsert = withoutInsert
	c.Choice.Patterns = stored.Patterns(ctx, s.o.File, &x.Design, withoutInsert, nil)
	return c
}

// studied is what a slower study found.
type studied struct {
	Pictures []string `json:"pictures"`
	Cautions []string `json:"cautions"`
	Wave     bool     `json:"wave"` // the wave level knows more now
	shown
}

// message is one line of the answer to a study: how far it has come, or what it found.
type message struct {
	What  string   `json:"what,omitempty"`
	Done  int      `json:"done"`
	Total int      `json:"total"`
	Found *studied `json:"found,omitempty"`
	Fault []string `json:"faults,omitempty"`
}

// study runs a slower study and tells how far it has come, a JSON object a line. It ends
// when the page goes away or gives it up.
func (s *Server) study(w http.ResponseWriter, r *http.Request) {
	q, data, ok := s.asked(w, r)
	if !ok {
		return
	}
	studies := map[string]func(context.Context, *state, *request, tell) (*studied, error){"seats": s.seats, "wave": s.wave}
	run := studies[q.Study]
	if run == nil {
		reply(w, http.StatusBadRequest, map[string]any{"faults": []string{"there is no such study: seats or wave is needed"}})
		return
	}
	if !enter(r.Context(), s.studies) {
		return
	}
	defer leave(s.studies)
	w.Header().Set("Content-Type", "application/x-ndjson")
	l := lines{w: w, flush: http.NewResponseController(w)}
	l.send(message{What: "reading the design"})
	x, err := s.read(r.Context(), data, q.Set)
	var found *studied
	if err == nil {
		found, err = run(r.Context(), x, q, l.progress)
	}
	if r.Context().Err() != nil {
		return
	}
	if err != nil {
		l.send(message{Fault: faults(err)})
		return
	}
	l.send(message{Found: found})
}

// tell is told how far a study has come.
type tell func(what string, done, total int)

// lines writes messages; any goroutine may.
type lines struct {
	w     http.ResponseWriter
	flush *http.ResponseController
	mu    sync.Mutex
	last  time.Time
}

// apart is the least time between two messages on how far a study has come.
const apart = 150 * time.Millisecond

func (l *lines) progress(what string, done, total int) {
	l.mu.Lock()
	late := time.Since(l.last) > apart
	l.mu.Unlock()
	if late {
		l.send(message{What: what, Done: done, Total: total})
	}
}

func (l *lines) send(m message) {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.last = time.Now()
	data, err := json.Marshal(m)
	if err != nil {
		return
	}
	l.w.Write(append(data, '\n')) // whoever does not read it is gone
	l.flush.Flush()
}

// seats is the sound at the seats and in the hall from the side.
func (s *Server) seats(ctx context.Context, x *state, q *request, t tell) (*studied, error) {
	c := s.conditions(ctx, x, false)
	c.Progress = line.Progress(t)
	st, problems := line.New(&x.Design, c)
	if problems != nil {
		return nil, x.Problems(problems)
	}
	if missing := st.SeatProblems(); missing != nil {
		return nil, x.Problems(missing)
	}
	few, err := line.ParseSpectrum(seatTones, false)
	if err != nil {
		return nil, err
	}
	side, err := line.ParseSpectrum(sideTone, false)
	if err != nil {
		return nil, err
	}
	r, err := st.Hear(ctx, line.Request{Views: []line.View{line.AudienceView, line.SideView}, Few: few, SideSpectrum: side, Frame: st.Frame()})
	if err != nil {
		return nil, lineFaults(x, err)
	}
	return s.studiedOf(describe.Line(r, advice.LineFindings(r)), q, []string{describe.LineSummary}, string(line.AudienceView), string(line.SideView)), nil
}

// lineFaults are faults of a stack with lines of the file.
func lineFaults(x *state, err error) error {
	var problems line.Problems
	if errors.As(err, &problems) {
		return x.Problems([]check.Problem(problems))
	}
	return err
}

// wave solves the plan section; the strip then has the wave level for this geometry until the
// program ends. Nothing is stored: gapline wave does that.
func (s *Server) wave(ctx context.Context, x *state, q *request, t tell) (*studied, error) {
	p, err := wave.RunPlan(ctx, &x.Design, section.ByHorn, wave.Options{Frequencies: preferred.Twelfths(wave.PlanFrom, wave.PlanTo),
		Progress: func(done, total int) { t("frequencies solved", done, total) }})
	if err != nil {
		return nil, waveFaults(x, err)
	}
	out := s.studiedOf(describe.WavePlan(p, nil), q, nil, describe.WavePlanViews[0])
	if numeric.Given(p.Check.Figures.Pattern) {
		s.runs.Hold(&x.Design, p.Check.Figures)
		out.Wave = true
	}
	return out, nil
}

// waveFaults are faults of a section with lines of the file.
func waveFaults(x *state, err error) error {
	var problems wave.Problems
	if errors.As(err, &problems) {
		return x.Problems([]check.Problem(problems))
	}
	return err
}

// studiedOf sets a result, its tables of some views and its pictures of others.
func (s *Server) studiedOf(r *result.Result, q *request, tables []string, views ...string) *studied {
	out := &studied{shown: shownOf(r, s.o.Units, append([]string{describe.Always}, tables...)...), Pictures: []string{}, Cautions: []string{}}
	rest := []finding{}
	for _, f := range out.Findings {
		if f.Severity == result.Caution.String() {
			out.Cautions = append(out.Cautions, f.Text)
			continue
		}
		rest = append(rest, f)
	}
	out.Findings = rest
	for i, v := range views {
		if text := s.svgOf(q.Study+string(rune('a'+i)), r, q.Narrow, v); text != "" {
			out.Pictures = append(out.Pictures, text)
		}
	}
	return out
}
