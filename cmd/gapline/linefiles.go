package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"math"
	"os"
	"path/filepath"

	"gapline/cabinet/field"
	"gapline/internal/describe"
	"gapline/internal/designfile"
	"gapline/internal/quantity"
	"gapline/internal/render/machine"
	"gapline/internal/study/line"
	"gapline/internal/wholefile"
)

// mostSteps bounds the tables of half a turn.
const mostSteps = 1800

// steps is how many steps of --step half a turn takes.
func (f *lineFlags) steps() (int, error) {
	step, err := quantity.Parse(f.step, quantity.Angle)
	if err != nil {
		return 0, fmt.Errorf("--step: %w", err)
	}
	n := math.Round(math.Pi / step)
	if !(n >= 1 && n <= mostSteps) || math.Abs(n*step-math.Pi) > 1e-9 {
		return 0, fmt.Errorf("--step is %q: an angle from %g to 180 deg that divides 180 deg is needed", f.step, 180.0/mostSteps)
	}
	return int(n), nil
}

// writeTables writes the polars of both planes, a file for each angle.
func (f *lineFlags) writeTables(ctx context.Context, a *app, r *line.Result) error {
	if f.tables == "" {
		return nil
	}
	n, err := f.steps()
	if err != nil {
		return usageError{err}
	}
	if err := os.MkdirAll(f.tables, 0o777); err != nil {
		return err
	}
	text := "twelfths:20Hz:20kHz"
	if f.frequencies != "" {
		text = f.frequencies
	}
	spectrum, err := line.ParseSpectrum(text, false)
	if err != nil {
		return usageError{err}
	}
	distance, _ := parseDistance(f.at) // checked before
	count := 0
	for _, plane := range []field.Plane{field.Vertical, field.Horizontal} {
		p, err := r.Study.Polar(ctx, plane, spectrum, 2*n+1, 2*math.Pi, distance)
		if err != nil {
			return err
		}
		for _, t := range describe.PolarTables(p, r.Study) {
			var text bytes.Buffer
			if err := machine.Tabs(&text, t.Result); err != nil {
				return err
			}
			if err := wholefile.Write(filepath.Join(f.tables, t.Name), text.Bytes()); err != nil {
				return err
			}
			count++
		}
	}
	a.note("wrote %d tables to %s", count, f.tables)
	return nil
}

// writeDesign writes source, the text of the user's file, with the splay that was
// found; nothing else in it changes.
func (f *lineFlags) writeDesign(a *app, source string, r *line.Result) error {
	if f.write == "" {
		return nil
	}
	var changes []designfile.Change
	for _, p := range describe.PasteSplay(&r.Aimed.Best) {
		changes = append(changes, designfile.Change{Path: p.Key, Value: p.Value})
	}
	return a.writeChanged(f.write, f.force, source, changes)
}

// writeChanged writes source, the text of the user's file, with some values changed and
// everything else as it is.
func (a *app) writeChanged(path string, force bool, source string, changes []designfile.Change) error {
	if _, err := os.Stat(path); !force && !errors.Is(err, fs.ErrNotExist) {
		return usageError{fmt.Errorf("%s exists: choose another name, or use --force to overwrite it", path)}
	}
	text, err := designfile.Rewrite(source, changes)
	switch {
	case err != nil && len(a.settings) > 0:
		return usageError{fmt.Errorf("%s is not written: the values of --set do not go into it, and without them what was found does not fit the file: %v", path, err)}
	case err != nil:
		return err
	}
	if err := wholefile.Write(path, []byte(text)); err != nil {
		return err
	}
	remark := ""
	if len(a.settings) > 0 {
		remark = "; the values of --set are not in it"
	}
	a.note("wrote %s%s", path, remark)
	return nil
}
