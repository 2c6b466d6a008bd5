package main

import (
	"context"
	"errors"

	"gapline/internal/screen"
	"gapline/internal/study/box"
)

// runDrivers ranks a folder of driver files. Files that cannot be used are
// reported and leave the others alone.
func runDrivers(ctx context.Context, a *app, name string, o boxFlags) error {
	if err := box.CheckOrder(o.by); err != nil {
		return usageError{err}
	}
	if len(a.outputs) > 0 {
		return usageError{errors.New("--drivers draws no picture: leave out -o, or use --csv")}
	}
	file, err := a.load(ctx, name)
	if err != nil {
		return err
	}
	r, err := box.Rank(ctx, file, o.drivers, o.by)
	if err != nil {
		return err
	}
	if err := printRanking(a, file.Design.Title, r); err != nil {
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
	return nil
}

func printRanking(a *app, title string, r *box.Ranking) error {
	switch {
	case a.json:
		return screen.WriteJSON(a.out, screen.RankObject(title, r))
	case a.csv:
		return screen.RankCSV(a.out, r)
	}
	return screen.Rank(a.out, title, r, a.system())
}
