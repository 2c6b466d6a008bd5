package main

import (
	"bytes"
	"context"
	"path/filepath"
	"slices"
	"strings"

	"gapline/cabinet/outside"
	"gapline/internal/describe"
	"gapline/internal/designfile"
	"gapline/internal/render/picture"
	study "gapline/internal/study/wave"
	"gapline/internal/wholefile"
	"gapline/plots"
)

// longRun is from how many seconds on a run is announced before it starts.
const longRun = 10

// outside solves the box, or some of the stack, in space.
func (j *waveJob) outside(ctx context.Context, file *designfile.File) error {
	if err := j.app.refuseMisfits("solution in space"); err != nil {
		return err
	}
	o := j.front
	o.Frequencies = j.frequencies
	if j.fieldView() && slices.ContainsFunc(j.app.outputs, func(path string) bool { return !isSurface(path) }) {
		o.Look.Frequency = j.at[0]
	}
	o.Forecast = func(f outside.Forecast) {
		if f.Seconds >= longRun {
			j.app.note("%d frequencies with up to %d unknowns take about %.0f s on two free cores, and %.2g GB; Ctrl-C stops", j.count(), f.Unknowns, f.Seconds, f.Bytes/1e9)
		}
	}
	bar := j.app.newProgress("solved", 0)
	o.Progress = bar.of
	if j.part != nil {
		defer bar.end()
		return j.writePart(ctx, file, o)
	}
	st, err := study.RunFront(ctx, &file.Design, o)
	bar.end()
	if err != nil {
		return err
	}
	return j.finish(ctx, file, st, true)
}

// count is how many frequencies are solved.
func (j *waveJob) count() int {
	if j.part != nil {
		return len(shared(*j.part, j.frequencies))
	}
	return len(j.frequencies)
}

// finish stores what was found, if it is to be stored, and shows it.
func (j *waveJob) finish(ctx context.Context, file *designfile.File, st *study.Front, stored bool) error {
	if stored && st.Stands() {
		j.store(ctx, file, outside.GeometryOf(&file.Design), st.Figures())
	}
	if stored {
		j.storePatterns(ctx, file, st)
	}
	r := describe.WaveFront(st, j.at)
	err := j.app.print(r)
	if err != nil {
		return err
	}
	for _, path := range j.app.outputs {
		if isSurface(path) {
			err = j.writeSurface(ctx, file, path)
		} else {
			fig, why := picture.Of(r, j.app.system(), j.view)
			if why != nil {
				return why
			}
			err = plots.Save(path, fig)
		}
		if err != nil {
			return err
		}
		j.app.note("wrote %s", path)
	}
	return nil
}

func isSurface(path string) bool {
	ending := strings.ToLower(filepath.Ext(path))
	return ending == ".stl" || ending == ".obj"
}

// writeSurface writes the surface of the highest frequency for other programs.
func (j *waveJob) writeSurface(ctx context.Context, file *designfile.File, path string) error {
	o := j.front
	o.Frequencies = j.frequencies
	s, err := study.Mesh(ctx, &file.Design, o)
	if err != nil {
		return err
	}
	var b bytes.Buffer
	write := s.STL
	if strings.EqualFold(filepath.Ext(path), ".obj") {
		write = s.OBJ
	}
	if err := write(&b, file.Design.Title); err != nil {
		return err
	}
	return wholefile.Write(path, b.Bytes())
}
