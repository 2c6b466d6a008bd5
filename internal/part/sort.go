package part

import (
	"fmt"
	"slices"
)

// Sort puts the parts of one run in order. The error says which are missing,
// given twice, or of another run.
func Sort(files []*File) error {
	slices.SortStableFunc(files, func(a, b *File) int { return a.Head.Number - b.Head.Number })
	first := files[0].Head
	for i, f := range files {
		h := f.Head
		switch {
		case h.Command != first.Command || h.Run != first.Run || h.Of != first.Of || h.Designs != first.Designs || h.Format != first.Format:
			return fmt.Errorf("%s and %s are parts of different runs", files[0].Name, f.Name)
		case i > 0 && h.Number == files[i-1].Head.Number:
			return fmt.Errorf("%s and %s are both part %v", files[i-1].Name, f.Name, h.Part)
		}
	}
	return missing(files)
}

func missing(files []*File) error {
	of := files[0].Head.Of
	if len(files) == of {
		return nil
	}
	want := 1
	for _, f := range files {
		if f.Head.Number != want {
			break
		}
		want++
	}
	return fmt.Errorf("%d of %d parts are given: part %d is missing", len(files), of, want)
}
