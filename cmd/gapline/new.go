package main

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"

	"gapline/internal/describe"
	"gapline/internal/designfile"
	"gapline/internal/wholefile"

	"github.com/spf13/cobra"
)

func newNew(a *app) *cobra.Command {
	var force, list bool
	var starter string
	cmd := &cobra.Command{
		Use:     "new FILE",
		GroupID: "design",
		Short:   "Write a commented starter design",
		Long: `Write a commented starter design to FILE. The starters belong to one invented
scenario and show an open gap and two ways of closing it.`,
		Example: `  gapline new box.toml
  gapline new box.toml --starter hatch-insert
  gapline new --list`,
		Args: args(cobra.MaximumNArgs(1), "one file name is needed"),
		RunE: func(_ *cobra.Command, given []string) error {
			if err := a.refuseFiles("new"); err != nil {
				return err
			}
			switch {
			case list && len(given) > 0:
				return usageError{errors.New("--list writes no file: leave out FILE or --list")}
			case list:
				return listStarters(a)
			case len(given) == 0 || given[0] == "":
				return usageError{errors.New("a file name is needed: gapline new FILE (or --list)")}
			}
			return writeStarter(a, given[0], starter, force)
		},
	}
	cmd.Flags().BoolVar(&force, "force", false, "overwrite FILE if it exists")
	cmd.Flags().BoolVar(&list, "list", false, "list the built-in starters")
	cmd.Flags().StringVar(&starter, "starter", designfile.Starters[0].Name, "`NAME` of the starter to write")
	_ = cmd.RegisterFlagCompletionFunc("starter", completeStarters)
	return cmd
}

// listStarters shows the names of the built-in designs.
func listStarters(a *app) error {
	list := make([]describe.Starter, len(designfile.Starters))
	for i, s := range designfile.Starters {
		list[i] = describe.Starter(s)
	}
	return a.show(describe.Starters(list))
}

func writeStarter(a *app, path, starter string, force bool) error {
	text, err := designfile.StarterText(starter)
	if err != nil {
		return usageError{err}
	}
	if _, err := os.Stat(path); !force && err == nil {
		return usageError{fmt.Errorf("%s exists: choose another name, or use --force to overwrite it", path)}
	}
	if err := wholefile.Write(path, text); err != nil {
		return err
	}
	a.note("wrote %s; try: gapline size %s", path, filepath.ToSlash(path))
	return nil
}
