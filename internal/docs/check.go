package main

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
)

// readDocuments reads README.md and every document of docs/.
func readDocuments(root string) ([]*document, error) {
	paths := []string{"README.md"}
	found, err := filepath.Glob(filepath.Join(root, "docs", "*.md"))
	if err != nil {
		return nil, err
	}
	for _, f := range found {
		paths = append(paths, filepath.Join("docs", filepath.Base(f)))
	}
	var docs []*document
	for _, p := range paths {
		d, err := readDocument(root, p)
		if err != nil {
			return nil, err
		}
		docs = append(docs, d)
	}
	return docs, nil
}

// checkStill returns what is wrong with the documents as they stand, without
// running anything: quotes of commands that are not there, pictures without words
// for those who cannot see them, pictures of one name in two documents, links to
// files that are not there.
func checkStill(docs []*document) []error {
	var errs []error
	owner := map[string]*document{}
	for _, d := range docs {
		for _, q := range d.quotes {
			if d.lastRun(q) < 0 {
				errs = append(errs, d.errorf(q.line, "no sh block above holds %q", q.command))
			}
		}
		for _, im := range d.images {
			target := d.target(im)
			if strings.TrimSpace(im.alt) == "" {
				errs = append(errs, d.errorf(im.line, "%s has no words for those who cannot see it", im.path))
			}
			if filepath.ToSlash(filepath.Dir(target)) != pictureFolder {
				errs = append(errs, d.errorf(im.line, "%s is not in %s", im.path, pictureFolder))
			}
			if o := owner[target]; o != nil && o != d {
				errs = append(errs, d.errorf(im.line, "%s also shows %s; give one another name", o.path, target))
			}
			owner[target] = d
		}
		for _, l := range d.links {
			if _, err := os.Stat(filepath.Join(d.root, filepath.Dir(d.path), l.path)); err != nil {
				errs = append(errs, d.errorf(l.line, "%s is not there", l.path))
			}
		}
	}
	return errs
}

// checkRun runs the document's commands in a folder of its own and compares
// quotes, pictures and quantities with what came out. With update it rewrites
// quotes and pictures. bin is the folder of the program.
func checkRun(d *document, bin string, update bool) []error {
	folder, err := os.MkdirTemp("", "gapline-docs-")
	if err != nil {
		return []error{err}
	}
	defer os.RemoveAll(folder)
	r, err := runCommands(d, folder, bin)
	if err != nil {
		return []error{err}
	}
	var errs []error
	for _, im := range d.images {
		if err := checkPicture(d, im, r, update); err != nil {
			errs = append(errs, err)
		}
	}
	printed, err := r.texts()
	if err != nil {
		return append(errs, err)
	}
	errs = append(errs, checkQuantities(d, printed)...)
	return append(errs, checkQuotes(d, r, update)...)
}

// checkQuotes compares every quoted block, or rewrites those that differ.
func checkQuotes(d *document, r *run, update bool) []error {
	var errs []error
	lines, changed := d.lines, false
	for _, q := range slices.Backward(d.quotes) { // from the end, so that the places before stay right
		i := d.lastRun(q)
		if i < 0 {
			continue // checkStill says so
		}
		want, err := selectLines(r.printed(i), q.selectors)
		if err != nil {
			errs = append(errs, d.errorf(q.line, "%v", err))
			continue
		}
		if slices.Equal(lines[q.first:q.last], want) {
			continue
		}
		if !update {
			errs = append(errs, d.errorf(q.line, "%s prints something else now", q.command))
			continue
		}
		lines, changed = slices.Concat(lines[:q.first], want, lines[q.last:]), true
	}
	if changed {
		text := strings.Join(lines, "\n") + "\n"
		if err := os.WriteFile(filepath.Join(d.root, d.path), []byte(text), 0o644); err != nil {
			errs = append(errs, err)
		}
	}
	return errs
}
