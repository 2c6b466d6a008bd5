package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"runtime"
	"slices"
	"strings"

	"gapline/cabinet/design"
	"gapline/internal/advice"
	"gapline/internal/cleantext"
	"gapline/internal/describe"
	"gapline/internal/designfile"
	"gapline/internal/quantity"
	"gapline/internal/render/terminal"
	"gapline/internal/study/fit"
	"gapline/plots"

	"github.com/spf13/cobra"
)

// Exit codes, as the contract fixes them.
const (
	exitDone   = 0
	exitFailed = 1
	exitUsage  = 2
	exitStrict = 3
)

// usageError is a fault of the command line.
type usageError struct{ error }

// strictError says that size --strict found an unmet target.
var errStrict = errors.New("a target is not met (--strict)")

// app is what the commands share: streams and common flags.
type app struct {
	out, err io.Writer

	json, csv, quiet bool
	outputs          []string
	units            string
	settings         []string
	jobs             int
	unlink           bool
	fits             []describe.Fitted // of every design read
	untilStopped     bool              // the command works until it is stopped: a signal is how it ends well
}

// run executes one command line and returns the exit code.
func run(ctx context.Context, args []string, out, errOut io.Writer) int {
	stdout := &output{to: out}
	cleaned := cleantext.NewWriter(stdout)
	a := &app{out: cleaned, err: errOut}
	root := newRoot(a)
	root.SetArgs(args)
	root.SetOut(cleaned)
	root.SetErr(errOut)
	err := root.ExecuteContext(ctx)
	_ = cleaned.Flush() // stdout remembers a failure
	switch {
	case ctx.Err() != nil && a.untilStopped:
		return exitDone
	case ctx.Err() != nil: // whatever came of it
		err = ctx.Err()
	case stdout.err != nil:
		err = stdout.err
	case err == nil:
		return exitDone
	}
	a.report(err)
	var problems designfile.Problems
	var usage usageError
	switch {
	case errors.Is(err, errStrict):
		return exitStrict
	case errors.As(err, &problems), errors.As(err, &usage):
		return exitUsage
	}
	return exitFailed
}

// report prints an error. Faults of a file stand as "file:line: …", one a line,
// so that editors can jump to them.
func (a *app) report(err error) {
	var problems designfile.Problems
	switch {
	case errors.As(err, &problems):
		for _, p := range problems {
			fmt.Fprintln(a.err, cleantext.Message(p.With("").String()))
			if p.Example != "" {
				fmt.Fprintln(a.err, p.Example)
			}
		}
	case errors.Is(err, context.Canceled):
		fmt.Fprintln(a.err, stopped)
	default:
		for i, line := range errorLines(err) {
			if i == 0 {
				line = "gapline: " + line
			}
			fmt.Fprintln(a.err, cleantext.Message(line))
		}
	}
}

// errorLines returns what an error says, a line for each of several errors.
func errorLines(err error) []string {
	if usage, ok := err.(usageError); ok {
		err = usage.error
	}
	list, several := err.(interface{ Unwrap() []error })
	if !several || err.Error() != errors.Join(list.Unwrap()...).Error() {
		return []string{err.Error()}
	}
	var out []string
	for _, e := range list.Unwrap() {
		out = append(out, errorLines(e)...)
	}
	return out
}

// note prints a message unless --quiet is set.
func (a *app) note(format string, args ...any) {
	if !a.quiet {
		fmt.Fprintln(a.err, cleantext.Message("gapline: "+fmt.Sprintf(format, args...)))
	}
}

// warn tells of something that was left out of the results.
func (a *app) warn(err error) { a.note("warning: %v", err) }

// system is the unit system of printed text.
func (a *app) system() quantity.System {
	if a.units == "inch" {
		return quantity.Inch
	}
	return quantity.Metric
}

// addFlags adds the flags that every command has.
func (a *app) addFlags(cmd *cobra.Command) {
	f := cmd.PersistentFlags()
	f.BoolVar(&a.json, "json", false, "print one JSON object and nothing else")
	f.BoolVar(&a.csv, "csv", false, "print the table as CSV")
	f.StringArrayVarP(&a.outputs, "output", "o", nil, "write to `PATH`: .png, .svg or .pdf (repeatable)")
	f.StringVar(&a.units, "units", "metric", "`UNITS` of printed text: metric or inch")
	f.StringArrayVar(&a.settings, "set", nil, "use `KEY=VALUE` in place of the file's value; KEY=none takes it away (repeatable)")
	f.BoolVar(&a.unlink, "unlink", false, "set the file's [follow] links aside")
	f.IntVar(&a.jobs, "jobs", 0, "use at most `N` cores (default all); the answer does not depend on it")
	f.BoolVar(&a.quiet, "quiet", false, "print no messages, only results")
	// A registration fails only for a flag that does not exist.
	_ = cmd.RegisterFlagCompletionFunc("units", cobra.FixedCompletions([]string{"metric", "inch"}, cobra.ShellCompDirectiveNoFileComp))
	_ = cmd.RegisterFlagCompletionFunc("set", completeSetting)
	_ = cmd.RegisterFlagCompletionFunc("output", cobra.FixedCompletions([]string{"png", "svg", "pdf"}, cobra.ShellCompDirectiveFilterFileExt))
}

// filesAnnotation names the annotation of a command that lists the endings it can
// write beside those of pictures, such as ".dxf .csv".
const filesAnnotation = "files"

// folderAnnotation marks a command whose -o names a folder.
const folderAnnotation = "folder"

// checkOutputs refuses paths whose ending the command cannot write.
func (a *app) checkOutputs(cmd *cobra.Command) error {
	if cmd.Annotations[folderAnnotation] != "" {
		return nil
	}
	more := strings.Fields(cmd.Annotations[filesAnnotation])
	for _, path := range a.outputs {
		if slices.Contains(more, strings.ToLower(filepath.Ext(path))) {
			continue
		}
		if err := plots.CheckPath(path); err != nil {
			if len(more) > 0 {
				err = fmt.Errorf("%w, and %s here", err, strings.Join(more, ", "))
			}
			return usageError{err}
		}
	}
	return nil
}

// checkFlags refuses combinations that make no sense, before any work.
func (a *app) checkFlags(cmd *cobra.Command) error {
	if a.units != "metric" && a.units != "inch" {
		return usageError{fmt.Errorf("--units is %q: metric or inch is needed", a.units)}
	}
	if a.json && a.csv {
		return usageError{errors.New("--json and --csv exclude each other")}
	}
	if a.jobs < 0 {
		return usageError{fmt.Errorf("--jobs is %d: a number of cores is needed", a.jobs)}
	}
	if a.unlink {
		a.settings = append(a.settings, designfile.Unlink)
	}
	if a.jobs > 0 {
		runtime.GOMAXPROCS(min(a.jobs, runtime.NumCPU()))
	}
	return a.checkOutputs(cmd)
}

// load reads a design file.
func (a *app) load(ctx context.Context, name string) (*designfile.File, error) {
	return a.fitted(designfile.Load(ctx, name, a.settings))
}

// fitted notes what of a design that was read cannot be built together; every result
// says it first.
func (a *app) fitted(file *designfile.File, err error) (*designfile.File, error) {
	if err == nil {
		d := &file.Design
		a.fits = append(a.fits, describe.Fitted{Name: file.Name, Design: d, Fit: fit.Of(d, file.Links), Refits: file.Refits})
	}
	return file, err
}

// fitOf is what was noted of a design that was read.
func (a *app) fitOf(d *design.Design) describe.Fitted {
	for _, f := range a.fits {
		if f.Design == d {
			return f
		}
	}
	return describe.Fitted{Design: d, Fit: fit.Of(d, nil)}
}

// refuseMisfits refuses to write a document or a file to cut by for a box that cannot be
// built.
func (a *app) refuseMisfits(what string) error {
	for _, f := range a.fits {
		if list := advice.Misfits(f.Design, f.Fit); len(list) > 0 {
			return fmt.Errorf("%s cannot be built as it is given, so no %s is written: %s --force writes it all the same",
				cleantext.Line(f.Name), what, terminal.Text(list[0].Text, a.system()))
		}
	}
	return nil
}

// refuseFiles refuses the flags -o and --csv for a command that has neither a
// picture nor a table, so that a script does not wait for a file in vain.
func (a *app) refuseFiles(command string) error {
	switch {
	case len(a.outputs) > 0:
		return usageError{fmt.Errorf("%s draws no picture: leave out -o", command)}
	case a.csv:
		return usageError{fmt.Errorf("%s prints no table: leave out --csv", command)}
	}
	return nil
}

// draw writes a picture to every -o path. The picture is built only if there is
// one.
func (a *app) draw(build func() plots.Figure) error {
	if len(a.outputs) == 0 {
		return nil
	}
	fig := build()
	for _, path := range a.outputs {
		if err := plots.Save(path, fig); err != nil {
			return err
		}
		a.note("wrote %s", path)
	}
	return nil
}

// args wraps a cobra argument check so that its error counts as bad usage.
func args(check cobra.PositionalArgs, what string) cobra.PositionalArgs {
	return func(cmd *cobra.Command, given []string) error {
		if err := check(cmd, given); err != nil {
			return usageError{fmt.Errorf("%s; usage: %s", what, strings.TrimSpace(cmd.UseLine()))}
		}
		return nil
	}
}
