package live

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"net/http"

	"gapline/cabinet/design"
	"gapline/cabinet/sizing"
	"gapline/internal/cleantext"
	"gapline/internal/describe"
	"gapline/internal/designfile"
	"gapline/internal/quantity"
	"gapline/internal/schema"
	"gapline/internal/study/fit"
)

// request is what the page asks about.
type request struct {
	Text   string   `json:"text"`   // of the file, as start named it
	Set    []string `json:"set"`    // KEY=VALUE, as --set takes it
	Before []string `json:"before"` // the same of the state before the last change
	Keep   []kept   `json:"keep"`   // states kept for comparison
	Keys   []string `json:"keys"`   // that have a slider beside the usual ones
	InHand string   `json:"inHand"` // key whose sweep is shown
	Focus  string   `json:"focus"`  // figure whose formula is shown
	Stack  bool     `json:"stack"`  // show the stack's patterns too
	Narrow bool     `json:"narrow"` // pictures for a narrow column
	Slim   bool     `json:"slim"`   // the strip too
	Study  string   `json:"study"`  // of a study: seats or wave
	Seat   string   `json:"seat"`   // of a sound: front, middle, back
	Signal string   `json:"signal"`
	Match  bool     `json:"match"`
	Bare   bool     `json:"bare"` // A is the present state without its insert
}

// kept is a state with its name.
type kept struct {
	Name string   `json:"name"`
	Set  []string `json:"set"`
}

// Bounds of a request.
const (
	mostSettings = 400
	mostKept     = 4
	mostKeys     = 60
	mostLetters  = 400 // of one setting or name
)

// errReload says that the page is older than what the server remembers.
var errReload = errors.New("the design file has changed many times since this page was opened: reload the page")

// decode reads a request; the error is for the user of the page.
func decode(r *http.Request) (*request, error) {
	var q request
	d := json.NewDecoder(r.Body)
	d.DisallowUnknownFields()
	if err := d.Decode(&q); err != nil {
		return nil, fmt.Errorf("the request cannot be read: %w", err)
	}
	if _, err := d.Token(); !errors.Is(err, io.EOF) {
		return nil, errors.New("the request cannot be read: more than one object")
	}
	lists := [][]string{q.Set, q.Before, q.Keys, {q.InHand, q.Focus, q.Study, q.Seat, q.Signal, q.Text}}
	if len(q.Keep) > mostKept {
		return nil, fmt.Errorf("%d states are kept: at most %d can be", len(q.Keep), mostKept)
	}
	for _, k := range q.Keep {
		lists = append(lists, k.Set, []string{k.Name})
	}
	if len(q.Keys) > mostKeys {
		return nil, fmt.Errorf("%d sliders are added: at most %d can be", len(q.Keys), mostKeys)
	}
	for _, l := range lists {
		if len(l) > mostSettings {
			return nil, fmt.Errorf("%d settings: at most %d can be", len(l), mostSettings)
		}
		for _, x := range l {
			if len(x) > mostLetters {
				return nil, fmt.Errorf("a setting of %d letters: at most %d can be", len(x), mostLetters)
			}
		}
	}
	return &q, nil
}

// state is a design as settings make it, sized and judged.
type state struct {
	*designfile.File
	sized sizing.Sizing
	fits  *fit.Fit
}

// read reads the design of a text with settings, and sizes it.
func (s *Server) read(ctx context.Context, data []byte, settings []string) (*state, error) {
	all := append(append([]string{}, s.o.Settings...), settings...)
	f, err := designfile.Read(ctx, s.o.name(), data, all)
	if err != nil {
		return nil, err
	}
	x := &state{File: f, sized: sizing.Size(&f.Design)}
	s.runs.Into(ctx, &f.Design, &x.sized)
	x.fits = fit.Of(&f.Design, f.Links)
	x.fits.Runs = func(d *design.Design) sizing.WaveSizing { return s.runs.Of(ctx, d) }
	return x, nil
}

// as is the state beside others.
func (x *state) as(name string) describe.Sized {
	return describe.Sized{Design: &x.Design, Sizing: &x.sized, Name: name}
}

// faults are the messages of an error, a line each.
func faults(err error) []string {
	var list designfile.Problems
	if !errors.As(err, &list) {
		return []string{cleantext.Message(err.Error())}
	}
	var out []string
	for _, p := range list {
		out = append(out, cleantext.Message(p.With("").String()))
	}
	return out
}

// unitOf is the unit in which a key's slider counts.
func unitOf(k *schema.Key, sys quantity.System) string {
	if k.Kind == quantity.Number {
		return ""
	}
	return k.Kind.Unit(sys)
}
