package main

import (
	"errors"
	"path/filepath"
	"slices"
	"strconv"

	"gapline/cabinet/design"
	"gapline/internal/designfile"
	"gapline/internal/measured"
	"gapline/internal/quantity"
	"gapline/internal/schema"
	"gapline/internal/study/trace"
)

// keepable refuses to keep what the table [measured] cannot say.
func (f *traceFlags) keepable() error {
	switch {
	case len(f.stacks) > 1 || len(f.edges) > 1:
		return errors.New("--write keeps one pair of --stacks and one of --edge")
	case len(f.stacks)+len(f.edges) == 0:
		return errors.New("--write keeps the traces of --stacks and --edge: give one of them")
	case f.imports != measured.Import{} || f.options.Smoothing.By == measured.Complex:
		return errors.New("--write keeps traces as they are read without --gate, --channel and --average complex")
	case f.options.Smoothing.Fraction == 0:
		return errors.New("--write needs a smoothing: not --smooth none")
	}
	return nil
}

// kept are the keys of the traces that --write keeps.
func (f *traceFlags) kept(d *design.Design) ([]designfile.Change, error) {
	var out []designfile.Change
	set := func(key, value string) { out = append(out, designfile.Change{Path: "measured." + key, Value: value}) }
	pair := func(of trace.PairOf, first, second, digest string, tables []string) error {
		i := slices.IndexFunc(f.pairFiles, func(p pairFiles) bool { return p.of == of })
		if i < 0 {
			return nil
		}
		keys := []string{first, second}
		for k, path := range []string{f.pairFiles[i].with, f.pairFiles[i].without} {
			name, err := besideOf(f.write, path)
			if err != nil {
				return err
			}
			set(keys[k], strconv.Quote(name))
		}
		set(digest, strconv.Quote(schema.Digest(d, tables)))
		return nil
	}
	if err := pair(trace.OfStacks, "stack", "closer", "stack_digest", schema.StackTables); err != nil {
		return nil, err
	}
	if err := pair(trace.OfEdge, "axis", "edge", "edge_digest", schema.EdgeTables); err != nil {
		return nil, err
	}
	if f.state != "" {
		set("state", strconv.Quote(f.state))
	}
	if a := f.options.Align; a.High > 0 {
		set("aligned", "["+strconv.Quote(quantity.Canonical(a.Low, quantity.Frequency))+", "+strconv.Quote(quantity.Canonical(a.High, quantity.Frequency))+"]")
	}
	if f.options.PartLevel != design.DefaultThreshold {
		set("threshold", strconv.Quote(quantity.Canonical(f.options.PartLevel, quantity.Level)))
	}
	if n := f.options.Smoothing.Fraction; n != design.DefaultSmoothing {
		set("smoothing", strconv.Itoa(n))
	}
	slices.SortStableFunc(out, func(a, b designfile.Change) int { return keyOrder(a.Path) - keyOrder(b.Path) })
	return out, nil
}

// keyOrder is the place of a key in the order in which a file is written.
func keyOrder(path string) int { return schema.FindKey(path).Index() }

// besideOf is the name of a file as a design file at path takes it: relative to its folder.
func besideOf(path, file string) (string, error) {
	if filepath.IsAbs(file) {
		return file, nil
	}
	from, err := filepath.Abs(filepath.Dir(path))
	if err != nil {
		return "", err
	}
	to, err := filepath.Abs(file)
	if err != nil {
		return "", err
	}
	rel, err := filepath.Rel(from, to)
	return filepath.ToSlash(rel), err
}
