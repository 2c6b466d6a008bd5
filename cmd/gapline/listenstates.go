package main

import (
	"context"
	"errors"
	"fmt"
	"gapline/cabinet/design"
	"gapline/cabinet/field"
	"gapline/internal/cleantext"
	"gapline/internal/designfile"
	"gapline/internal/quantity"
	"gapline/internal/study/line"
	"gapline/internal/study/listen"
	"path/filepath"
	"slices"
	"strings"
)

// stated is a state with the file that it is of.
type stated struct {
	file  *designfile.File
	state listen.State
}

// states reads both designs and what else differs.
func (f *listenFlags) states(ctx context.Context, a *app, given []string) (first, second *stated, err error) {
	one, err := f.state(&f.a)
	if err != nil {
		return nil, nil, usageError{err}
	}
	curve := f.b
	if curve.seat == "" && curve.point == "" {
		curve.seat, curve.point = f.a.seat, f.a.point
	}
	if curve.shape == "" {
		curve.shape = f.a.shape
	}
	two, err := f.state(&curve)
	if err != nil {
		return nil, nil, usageError{err}
	}
	file, err := designOrStarter(ctx, a, given)
	if err != nil {
		return nil, nil, err
	}
	other, err := f.otherFile(ctx, a, file, given)
	if err != nil {
		return nil, nil, err
	}
	if two.Words, err = f.words(&file.Design); err != nil {
		return nil, nil, usageError{err}
	}
	one.Words = "as given"
	if f.a.shape != "" {
		one.Words = f.a.shape
	}
	two.Conditions.Choice.WithoutInsert = f.otherBare || f.same()
	one.Design, two.Design = &file.Design, &other.Design
	for _, s := range []struct {
		file  *designfile.File
		state *listen.State
	}{{file, one}, {other, two}} {
		if err := f.place.hang(ctx, a, s.file, &s.state.Conditions); err != nil {
			return nil, nil, err
		}
	}
	return &stated{file, *one}, &stated{other, *two}, nil
}

// same reports whether no flag says how B differs.
func (f *listenFlags) same() bool {
	return f.against == "" && len(f.other) == 0 && f.b == stateFlags{} && !f.otherBare
}

// otherFile reads the design of B.
func (f *listenFlags) otherFile(ctx context.Context, a *app, file *designfile.File, given []string) (*designfile.File, error) {
	settings := slices.Concat(a.settings, f.other)
	if f.otherUnlink && !a.unlink {
		settings = append(settings, designfile.Unlink)
	}
	switch {
	case f.against != "":
		return a.fitted(designfile.Load(ctx, f.against, settings))
	case len(f.other) == 0:
		return file, nil
	case len(given) == 0:
		return a.fitted(designfile.LoadStarter(designfile.Starters[0].Name, settings))
	}
	return a.fitted(designfile.Load(ctx, given[0], settings))
}

// words say what B is beside A.
func (f *listenFlags) words(d *design.Design) (string, error) {
	var out []string
	if f.against != "" {
		out = append(out, cleantext.Line(filepath.Base(f.against)))
	}
	for _, s := range f.other {
		out = append(out, cleantext.Line(s))
	}
	if f.otherUnlink {
		out = append(out, "links set aside")
	}
	if f.b.shape != "" {
		out = append(out, f.b.shape)
	}
	if f.otherBare || f.same() {
		if !d.HasInsert() && f.against == "" {
			return "", errors.New("the design has no insert that B could be without: say how B differs, by --other KEY=VALUE, --other-seat, --other-point, --other-shape or --against FILE")
		}
		out = append(out, "without the insert")
	}
	if len(out) == 0 {
		return "as given", nil
	}
	return strings.Join(out, ", "), nil
}

// state reads where a state is heard and under which conditions.
func (f *listenFlags) state(s *stateFlags) (*listen.State, error) {
	var out listen.State
	var err error
	if out.Conditions, err = f.place.conditions(); err != nil {
		return nil, err
	}
	if s.shape != "" {
		if out.Conditions.Shape, err = line.ParseShape(s.shape); err != nil {
			return nil, fmt.Errorf("--shape, --other-shape: %w", err)
		}
	}
	switch {
	case s.point != "":
		x, err := parseLengths(s.point, ",", 3)
		if err != nil {
			return nil, fmt.Errorf("--point, --other-point: %w", err)
		}
		out.Seat.Point = &field.Vec{X: x[0], Y: x[1], Z: x[2]}
	case slices.Contains(listen.SeatNames, s.seat):
		out.Seat.Name = s.seat
	default:
		if out.Seat.Distance, err = quantity.Parse(s.seat, quantity.Length); err != nil {
			return nil, fmt.Errorf("--seat, --other-seat: %q: %s or a distance such as 18m is needed", s.seat, strings.Join(listen.SeatNames, ", "))
		}
	}
	return &out, nil
}
