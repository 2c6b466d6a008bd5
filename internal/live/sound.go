package live

import (
	"context"
	"encoding/base64"
	"errors"
	"fmt"
	"net/http"
	"slices"

	"gapline/internal/advice"
	"gapline/internal/describe"
	"gapline/internal/study/listen"
	"gapline/internal/wav"
)

// sounds are what the page convolves: the signal as it goes in, and the impulse responses of
// both states at one gain, WAV files of 32 bit float in base 64.
type sounds struct {
	Faults   []string `json:"faults"`
	Signal   string   `json:"signal"`
	A        string   `json:"a"`
	B        string   `json:"b"`
	Words    []string `json:"words"`    // what A and B are
	Cautions []string `json:"cautions"` // to be read before playing
	shown
}

// Length and rate of what the page plays, s and 1/s.
const (
	pageSeconds = 4
	pageRate    = listen.DefaultRate
	pagePeak    = -6 // dB, of the louder state
)

// sound makes what is needed to hear the state before and the present one at a seat.
func (s *Server) sound(w http.ResponseWriter, r *http.Request) {
	q, data, ok := s.asked(w, r)
	if !ok {
		return
	}
	if !enter(r.Context(), s.studies) {
		return
	}
	defer leave(s.studies)
	out, err := s.hear(r.Context(), data, q)
	if err != nil {
		reply(w, http.StatusOK, sounds{Faults: faults(err)})
		return
	}
	reply(w, http.StatusOK, out)
}

// hear opens both states and compares them.
func (s *Server) hear(ctx context.Context, data []byte, q *request) (*sounds, error) {
	if !slices.Contains(listen.SeatNames, q.Seat) {
		return nil, fmt.Errorf("there is no seat %q: front, middle or back is needed", q.Seat)
	}
	signal, err := listen.Make(q.Signal, pageRate, pageSeconds)
	if err != nil {
		return nil, err
	}
	var places [2]*listen.Place
	states := [2]listen.State{{Words: "earlier"}, {Words: "now"}}
	settings := [2][]string{q.Before, q.Set}
	if q.Bare {
		settings[0], states[0].Words = q.Set, "now, without the insert"
	}
	for i := range states {
		x, err := s.read(ctx, data, settings[i])
		if err != nil {
			return nil, err
		}
		states[i].Conditions = s.conditions(ctx, x, q.Bare && i == 0)
		states[i].Design, states[i].Seat = &x.Design, listen.Seat{Name: q.Seat}
		if places[i], err = listen.Open(states[i]); err != nil {
			return nil, lineFaults(x, err)
		}
	}
	r, err := listen.Compare(ctx, places[0], places[1], listen.Request{Signal: signal, Match: q.Match, Peak: pagePeak})
	if errors.Is(err, listen.ErrNoCommonLevel) {
		return nil, fmt.Errorf("%w (tick the box that brings both to one level)", err)
	}
	if err != nil {
		return nil, err
	}
	return s.heard(r)
}

// heard sets what was heard for the page.
func (s *Server) heard(r *listen.Result) (*sounds, error) {
	out := &sounds{Faults: []string{}, Words: []string{r.A.Words, r.B.Words}, Cautions: []string{}}
	for _, x := range []struct {
		into    *string
		samples []float64
	}{{&out.Signal, r.Signal.Samples}, {&out.A, r.A.Impulse}, {&out.B, r.B.Impulse}} {
		file, err := wav.Encode(x.samples, r.Signal.Rate, wav.Float32)
		if err != nil {
			return nil, err
		}
		*x.into = base64.StdEncoding.EncodeToString(file)
	}
	out.shown = shownOf(describe.Listen(r, advice.ListenFindings(r)), s.o.Units, describe.Always)
	rest := []finding{}
	for _, f := range out.Findings {
		if f.Severity == "caution" {
			out.Cautions = append(out.Cautions, f.Text)
		} else {
			rest = append(rest, f)
		}
	}
	out.Findings = rest
	return out, nil
}
