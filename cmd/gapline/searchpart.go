package main

import (
	"context"
	"encoding/json"
	"fmt"
	"io"

	"gapline/internal/cleantext"
	"gapline/internal/designfile"
	"gapline/internal/part"
	"gapline/internal/search"
	"gapline/internal/study/space"
)

// searchCommand and archiveFormat mark the part files of a search.
const (
	searchCommand = "search"
	archiveFormat = "archive"
)

// The letters of the lines of a search's part file.
const (
	taskLine    = 'D' // the task: design file and what the flags change
	archiveLine = 'A' // what was found
)

// task is all that merge needs to go on with a search.
type task struct {
	Name     string   `json:"name"`
	Text     string   `json:"text"` // of the design file
	Settings []string `json:"settings"`
	Designs  int      `json:"designs"`
	Seed     uint64   `json:"seed"`
}

// writeSearchPart samples one slice and writes what it found.
func writeSearchPart(ctx context.Context, a *app, file *designfile.File, spec *space.Search, p part.Part) error {
	t := task{
		Name: file.Name, Text: file.Text, Settings: a.settings,
		Designs: spec.Table.Designs, Seed: spec.Table.Seed,
	}
	line, err := json.Marshal(t)
	if err != nil {
		return err
	}
	line = cleantext.JSON(line)
	w, err := part.NewWriter(a.out, part.Head{
		Command: searchCommand, Part: p, Format: archiveFormat, Designs: spec.Plan.Designs,
		Run: runID(file, archiveFormat, "", []string{string(line)}),
	})
	if err != nil {
		return err
	}
	if err := w.Line(taskLine, line); err != nil {
		return err
	}
	lo, hi := p.Range(spec.Plan.Designs)
	h := searching{app: a, search: spec}
	archive, err := h.sample(ctx, lo, hi)
	if err != nil {
		return err // without its foot the part is incomplete
	}
	found, err := json.Marshal(archive)
	if err != nil {
		return err
	}
	if err := w.Line(archiveLine, found); err != nil {
		return err
	}
	return w.End(part.Foot{Skipped: archive.Impossible + archive.Misfits})
}

// mergeSearch joins what the slices found, refines it and shows it.
func mergeSearch(ctx context.Context, a *app, files []*part.File, results resultFlags) error {
	t, archives, err := readSearchParts(files)
	if err != nil {
		return usageError{err}
	}
	if len(a.settings) > 0 {
		return usageError{fmt.Errorf("--set is for the search: its parts are of the design as it was")}
	}
	file, err := a.fitted(designfile.Parse(t.Name, []byte(t.Text), t.Settings))
	if err != nil {
		return err
	}
	spec, err := newSearchOf(file, t.Designs, int64(t.Seed))
	if err != nil {
		return err
	}
	h := &searching{app: a, search: spec, results: results, source: t.Name}
	if err := h.check(); err != nil {
		return err
	}
	whole := search.NewArchive(len(spec.Table.Limits))
	for i, archive := range archives {
		if err := archive.Fits(spec.Plan.Problem); err != nil {
			return usageError{fmt.Errorf("%s: %w", files[i].Name, err)}
		}
		whole.Merge(archive)
	}
	return h.finish(ctx, whole, nil)
}

// readSearchParts reads the task and what each slice found.
func readSearchParts(files []*part.File) (t task, archives []*search.Archive, err error) {
	for _, f := range files {
		archive := new(search.Archive)
		err := f.Each(func(letter byte, text io.Reader) error {
			into := any(&t)
			if letter == archiveLine {
				into = archive
			}
			if err := json.NewDecoder(text).Decode(into); err != nil {
				return fmt.Errorf("%s: a line cannot be read: %w", f.Name, err)
			}
			return nil
		})
		if err != nil {
			return t, nil, err
		}
		archives = append(archives, archive)
	}
	return t, archives, nil
}
