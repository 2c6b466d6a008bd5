package main

import (
	"fmt"

	"github.com/spf13/cobra"
)

// version is stamped by the release script.
var version = "dev"

const rootLong = `gapline sizes line-array loudspeaker boxes.

Woofers stacked in a line act as one source only up to a frequency set by their
spacing. The horn beside them holds its pattern only down to a frequency set by
its mouth. Between the two lies the crossover gap. gapline reads a design file,
computes the gap and what would close it, and draws the trade-offs.

Start with:
  gapline size                   the built-in starter design
  gapline new box.toml           a commented design file to edit
  gapline size box.toml          the same for your design`

func newRoot(a *app) *cobra.Command {
	root := &cobra.Command{
		Use:           "gapline COMMAND",
		Short:         "Size line-array loudspeaker boxes: the crossover gap and how to close it",
		Long:          rootLong,
		Version:       version,
		SilenceUsage:  true,
		SilenceErrors: true,
		Args:          cobra.ArbitraryArgs,
		RunE: func(cmd *cobra.Command, given []string) error {
			if len(given) > 0 {
				return unknownCommand(cmd, given[0])
			}
			return cmd.Help()
		},
		PersistentPreRunE: func(*cobra.Command, []string) error { return a.checkFlags() },
	}
	root.SetFlagErrorFunc(func(cmd *cobra.Command, err error) error {
		return usageError{fmt.Errorf("%w (gapline help %s lists the flags)", err, cmd.Name())}
	})
	root.AddGroup(
		&cobra.Group{ID: "design", Title: "Design:"},
		&cobra.Group{ID: "ask", Title: "What if:"},
		&cobra.Group{ID: "learn", Title: "Understand:"},
	)
	a.addFlags(root)
	root.AddCommand(newNew(a), newSize(a), newSweep(a), newCompare(a), newTolerance(a), newSearch(a), newMerge(a), newExplain(a))
	root.SetHelpCommandGroupID("learn")
	root.SetCompletionCommandGroupID("learn")
	return root
}

func unknownCommand(cmd *cobra.Command, name string) error {
	hint := ""
	if near := cmd.SuggestionsFor(name); len(near) > 0 {
		hint = fmt.Sprintf(" (did you mean %s?)", near[0])
	}
	return usageError{fmt.Errorf("there is no command %q%s; gapline help lists them", name, hint)}
}
