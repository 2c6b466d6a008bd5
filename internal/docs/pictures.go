package main

import (
	"bytes"
	"fmt"
	"math"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"strconv"
)

// pictureFolder holds the pictures of all documents, and nothing else.
const pictureFolder = "docs/pictures"

// picturesLimit is how much all pictures may weigh together, in bytes: a clone
// should stay quick.
const picturesLimit = 2_000_000

// coordinateSlack is how far a coordinate of an SVG picture, in points, may lie
// from the committed one: processors round differently, and a tenth of a point is
// not seen.
const coordinateSlack = 0.1

// target returns the path below root of the picture that the document shows.
func (d *document) target(im image) string {
	return path.Join(path.Dir(filepath.ToSlash(d.path)), im.path)
}

// checkPicture compares the committed picture with the one the run wrote, or
// replaces it when update is set.
func checkPicture(d *document, im image, r *run, update bool) error {
	target := d.target(im)
	fresh, err := os.ReadFile(filepath.Join(r.folder, path.Base(target)))
	if err != nil {
		return d.errorf(im.line, "no command of this document writes %s", path.Base(target))
	}
	file := filepath.Join(d.root, filepath.FromSlash(target))
	old, err := os.ReadFile(file)
	if err == nil && samePicture(old, fresh) {
		return nil
	}
	if !update {
		return d.errorf(im.line, "%s is not what the command draws now", target)
	}
	if err := os.MkdirAll(filepath.Dir(file), 0o755); err != nil {
		return err
	}
	return os.WriteFile(file, fresh, 0o644)
}

var (
	svgNumber   = regexp.MustCompile(`-?\d+(\.\d+)?`)
	svgEmbedded = regexp.MustCompile(`base64,[^"]*`)
)

// samePicture tells whether two pictures are the same bytes or, for SVG, the same
// drawing with coordinates a hair apart. Pictures embedded in them are not looked
// into; the curves, scales and numbers about them are.
func samePicture(a, b []byte) bool {
	if bytes.Equal(a, b) {
		return true
	}
	a, b = svgEmbedded.ReplaceAll(a, nil), svgEmbedded.ReplaceAll(b, nil)
	if !bytes.Contains(a, []byte("<svg")) || !bytes.Equal(svgNumber.ReplaceAll(a, nil), svgNumber.ReplaceAll(b, nil)) {
		return false
	}
	as, bs := svgNumber.FindAll(a, -1), svgNumber.FindAll(b, -1)
	for i := range as {
		x, errX := strconv.ParseFloat(string(as[i]), 64)
		y, errY := strconv.ParseFloat(string(bs[i]), 64)
		if errX != nil || errY != nil || math.Abs(x-y) > coordinateSlack {
			return false
		}
	}
	return true
}

// checkFolder returns an error for each file of the folder of pictures that no
// document shows, and one when all together weigh too much. With update it removes
// the files.
func checkFolder(root string, docs []*document, update bool) []error {
	shown := map[string]bool{}
	for _, d := range docs {
		for _, im := range d.images {
			shown[d.target(im)] = true
		}
	}
	entries, err := os.ReadDir(filepath.Join(root, pictureFolder))
	if err != nil {
		return []error{err}
	}
	var errs []error
	var weight int64
	for _, entry := range entries {
		name := path.Join(pictureFolder, entry.Name())
		file := filepath.Join(root, filepath.FromSlash(name))
		if info, err := entry.Info(); err == nil {
			weight += info.Size()
		}
		if shown[name] {
			continue
		}
		if !update {
			errs = append(errs, fmt.Errorf("%s is shown by no document", name))
		} else if err := os.Remove(file); err != nil {
			errs = append(errs, err)
		}
	}
	if weight > picturesLimit {
		errs = append(errs, fmt.Errorf("%s weighs %d bytes, more than %d", pictureFolder, weight, picturesLimit))
	}
	return errs
}
