package main

import (
	"errors"
	"path/filepath"
	"slices"
	"strings"

	"gapline/internal/cleantext"
	"gapline/internal/cutfile"
	"gapline/internal/quantity"
	"gapline/internal/render/picture"
	"gapline/internal/result"
	"gapline/internal/wholefile"
	"gapline/plots"
	"gapline/waveguide"
)

// drawing is what can be written as outlines or as a picture.
type drawing struct {
	outlines   func() ([]waveguide.Outline, error)
	across, up string         // names of the coordinates
	title      string         // first of the notes on the DXF
	texts      []string       // the others
	r          *result.Result // with the picture
	view       string
	why        string // why the picture may be missing
	force      bool   // files to cut by are written for a misfit too
}

// writeDrawing writes the drawing to every -o path, by its ending. The picture is
// built only if there is one.
func (a *app) writeDrawing(d drawing) error {
	for _, path := range a.outputs {
		if !d.force && isCut(path) {
			if err := a.refuseMisfits("file to cut by"); err != nil {
				return err
			}
		}
		if err := d.write(path, a.system()); err != nil {
			return err
		}
		a.note("wrote %s", path)
	}
	return nil
}

// isCut reports whether a file is one that parts are cut by.
func isCut(path string) bool {
	ending := strings.ToLower(filepath.Ext(path))
	return ending == ".dxf" || ending == ".csv"
}

func (d *drawing) write(path string, sys quantity.System) error {
	if !isCut(path) {
		fig, err := picture.Of(d.r, sys, d.view)
		if err != nil {
			return usageError{errors.New(d.why)}
		}
		return plots.Save(path, fig)
	}
	outlines, err := d.outlines()
	if err != nil {
		return err
	}
	var data []byte
	if strings.EqualFold(filepath.Ext(path), ".dxf") {
		data, err = cutfile.DXF(outlines, d.notes()...)
	} else {
		data, err = cutfile.CSV(outlines, d.across, d.up)
	}
	if err != nil {
		return err
	}
	return wholefile.Write(path, data)
}

// notes are the texts on the DXF.
func (d *drawing) notes() []string {
	var out []string
	for _, s := range slices.Concat([]string{d.title}, d.texts, []string{"gapline " + version}) {
		if s != "" {
			out = append(out, strings.Join(strings.Fields(cleantext.Line(s)), " "))
		}
	}
	return out
}

// drawViews writes each view to every -o path; with several views the view's name
// stands before the ending.
func drawViews[V ~string](a *app, r *result.Result, views []V) error {
	if len(a.outputs) == 0 {
		return nil
	}
	for _, v := range views {
		fig, err := picture.Of(r, a.system(), string(v))
		if err != nil {
			return err
		}
		for _, path := range a.outputs {
			if len(views) > 1 {
				ext := filepath.Ext(path)
				path = strings.TrimSuffix(path, ext) + "-" + string(v) + ext
			}
			if err := plots.Save(path, fig); err != nil {
				return err
			}
			a.note("wrote %s", path)
		}
	}
	return nil
}
