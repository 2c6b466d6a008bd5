package main

import (
	"context"
	"errors"
	"fmt"
	"strings"

	"gapline/internal/describe"
	"gapline/internal/designfile"
	"gapline/internal/numeric"
	"gapline/internal/study/box"
	"gapline/internal/wordset"
)

// runDrivers ranks a folder of driver files. Files that cannot be used are
// reported and leave the others alone.
func runDrivers(ctx context.Context, a *app, name string, o boxFlags) error {
	by, ok := wordset.Parse[box.Order](o.by)
	if !ok {
		return usageError{fmt.Errorf("--by is %q: one of %s is needed", o.by, strings.Join(wordset.Names[box.Order](), ", "))}
	}
	file, err := a.load(ctx, name)
	if err != nil {
		return err
	}
	shelf, err := file.Shelf(ctx, o.drivers)
	if err != nil {
		return err
	}
	r, err := box.Rank(ctx, &file.Design, contenders(shelf), by)
	if err != nil {
		return err
	}
	shown := describe.BoxRank(file.Design.Title, r)
	if err := a.print(shown); err != nil {
		return err
	}
	for _, x := range r.Refused {
		for _, why := range x.Reasons {
			a.note("%s left out: %s", x.File, why)
		}
	}
	if len(r.Ranked) == 0 {
		return errors.New("none of the driver files can be used in this cabinet")
	}
	if len(a.outputs) > 0 && !numeric.Given(by.Value(&r.Ranked[0].Sizing)) {
		return fmt.Errorf("-o: no driver has a %s in this design: rank by another figure", by.Name())
	}
	return a.picture(shown)
}

func contenders(shelf []designfile.Shelved) []box.Contender {
	out := make([]box.Contender, len(shelf))
	for i, s := range shelf {
		out[i] = box.Contender{File: s.File, Title: s.Title, Design: s.Design}
		if s.Faults != nil {
			out[i].Reasons = strings.Split(s.Faults.Error(), "\n")
		}
	}
	return out
}
