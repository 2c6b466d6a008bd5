package designfile

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"strings"

	"gapline/cabinet/design"
	"gapline/internal/cleantext"
	"gapline/internal/openfile"
)

// Shelved is the design with the driver of one file in it, or the faults of that
// file.
type Shelved struct {
	File   string // without its folder
	Title  string // of the driver
	Design design.Design
	Faults Problems // nil: there are none
}

// errNoDrivers says that a folder holds no driver file.
var errNoDrivers = errors.New("holds no driver file (.toml)")

// Shelf puts every driver file of a folder into the design in place of its woofer,
// in the order of their names. Links of keys hold. The error is of type Problems
// where the folder cannot be read or holds none, or says that ctx ended.
func (f *File) Shelf(ctx context.Context, dir string) ([]Shelved, error) {
	names, err := driverFiles(dir)
	if err != nil {
		return nil, Problems{{Where: dir, Text: err.Error()}}
	}
	out := make([]Shelved, len(names))
	for i, name := range names {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		s := &out[i]
		s.File = cleantext.Line(name)
		w, err := LoadDriver(ctx, filepath.Join(dir, name))
		switch {
		case ctx.Err() != nil:
			return nil, ctx.Err()
		case errors.As(err, &s.Faults):
			continue
		case err != nil:
			return nil, err
		}
		s.Title, s.Design = w.Title, f.Design
		w.Put(&s.Design)
		for j := range f.Links {
			f.Links[j].Apply(&s.Design)
		}
	}
	return out, nil
}

// driverFiles lists the TOML files of a folder in the order of their names.
func driverFiles(dir string) ([]string, error) {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return nil, openfile.Cause(err)
	}
	var names []string
	for _, e := range entries {
		if !e.IsDir() && strings.EqualFold(filepath.Ext(e.Name()), ".toml") {
			names = append(names, e.Name())
		}
	}
	if len(names) == 0 {
		return nil, errNoDrivers
	}
	return names, nil
}
