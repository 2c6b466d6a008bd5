package main

import (
	"fmt"
	"runtime/debug"
	"strings"

	"github.com/spf13/cobra"
)

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
		PersistentPreRunE: func(cmd *cobra.Command, _ []string) error { return a.checkFlags(cmd) },
	}
	root.SetFlagErrorFunc(func(cmd *cobra.Command, err error) error {
		return usageError{fmt.Errorf("%w (gapline help %s lists the flags)", err, cmd.Name())}
	})
	root.AddGroup(
		&cobra.Group{ID: "design", Title: "Design:"},
		&cobra.Group{ID: "field", Title: "Sound of the stack:"},
		&cobra.Group{ID: "ask", Title: "What if:"},
		&cobra.Group{ID: "learn", Title: "Understand:"},
	)
	a.addFlags(root)
	root.AddCommand(newNew(a), newSize(a), newBox(a), newHorn(a), newFold(a), newDraw(a), newLine(a), newCrossover(a), newListen(a), newSweep(a), newCompare(a),
		newLive(a), newTolerance(a), newSearch(a), newMerge(a), newTrace(a), newWave(a), newReport(a), newExplain(a))
	stateBounds(root)
	root.SetVersionTemplate(versionText(debug.ReadBuildInfo()))
	root.SetUsageTemplate(usageTemplate(root.UsageTemplate()))
	root.SuggestionsMinimumDistance = 2
	root.SetHelpCommand(newHelp())
	root.SetHelpCommandGroupID("learn")
	root.SetCompletionCommandGroupID("learn")
	return root
}

// usageTemplate is the usual one in this program's words: one usage line, and
// help by the command of that name.
func usageTemplate(usual string) string {
	return strings.NewReplacer(
		"\n  {{.CommandPath}} [command]", "{{if not .Runnable}}\n  {{.CommandPath}} COMMAND{{end}}",
		`Use "{{.CommandPath}} [command] --help" for more information about a command.`, `{{if .HasParent}}{{.CommandPath}} COMMAND --help{{else}}{{.CommandPath}} help COMMAND{{end}} tells more.`,
		"Global Flags:", "Flags of every command:",
	).Replace(usual)
}

func unknownCommand(cmd *cobra.Command, name string) error {
	hint := ""
	if near := cmd.SuggestionsFor(name); len(near) > 0 {
		hint = fmt.Sprintf(" (did you mean %s?)", near[0])
	}
	return usageError{fmt.Errorf("there is no command %q%s; gapline help lists them", name, hint)}
}

// newHelp is the usual help command, but one that knows when there is nothing
// of the name asked for.
func newHelp() *cobra.Command {
	return &cobra.Command{
		Use:   "help [COMMAND]",
		Short: "Tell what a command does and list its flags",
		Args:  args(cobra.MaximumNArgs(1), "one command at most"),
		ValidArgsFunction: func(cmd *cobra.Command, given []string, typed string) ([]string, cobra.ShellCompDirective) {
			var out []string
			for _, c := range cmd.Root().Commands() {
				if len(given) == 0 && c.IsAvailableCommand() {
					out = append(out, c.Name()+"\t"+c.Short)
				}
			}
			return startingWith(typed, out), cobra.ShellCompDirectiveNoFileComp
		},
		RunE: func(cmd *cobra.Command, given []string) error {
			found, _, err := cmd.Root().Find(given)
			if err != nil || len(given) > 0 && found == cmd.Root() {
				return unknownCommand(cmd.Root(), given[0])
			}
			found.InitDefaultHelpFlag() // so that the list of flags has it
			return found.Help()
		},
	}
}
