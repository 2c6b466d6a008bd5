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
			j.app.note("%d frequencies with up to %d unknowns take about %.0f s on two free cores, and %.2g GB; Ctrl-C stops", len(o.Frequencies), f.Unknowns, f.Seconds, f.Bytes/1e9)
		}
	}
	bar := j.app.newProgress("solved", 0)
	o.Progress = bar.of
	st, err := study.RunFront(ctx, &file.Design, o)
	bar.end()
	if err != nil {
		return err
	}
	if st.Stands() {
		j.store(ctx, file, outside.GeometryOf(&file.Design), st.Figures())
	}
	r := describe.WaveFront(st, j.at)
	if err := j.app.print(r); err != nil {
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
